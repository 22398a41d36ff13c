#include "stanch/care/unwrap_start.hpp"

#include <algorithm>
#include <array>

#include "stanch/care/advice.hpp"
#include "stanch/care/bleed_rate.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/wear.hpp"
#include "stanch/care/word_list.hpp"

namespace stanch::care {
namespace {

using protocol::Key;
namespace key = protocol::key;

class Conditions {
 public:
  Conditions(const ReadinessFindings& findings, const protocol::Protocol& protocol) : f_(findings), p_(protocol) {}

  std::vector<Condition> list() && {
    add("cause_treated", f_.cause_treated, {"cause_not_treated", "GR-1", key::unwrap_cause_treated},
        "ask_cause_treated");
    add("bleeding_slow", f_.bleeding_below,
        {"bleeding_not_slow", "GR-2", key::unwrap_bleeding_limit, f_.bleeding_ml_per_h}, "read_loss");
    add("stable", f_.stable,
        f_.not_stable.value_or(Reason{"not_stable_long_enough", "GR-3", key::unwrap_stable_time, f_.stable_min}),
        "take_vitals");
    add("pulse", within(key::unwrap_pulse_ceiling, f_.pulse),
        {"pulse_not_within_limit", "GR-4", key::unwrap_pulse_ceiling, f_.pulse}, "take_pulse");
    add("pressure", within(key::unwrap_sbp_floor, f_.sbp),
        {"pressure_not_within_limit", "GR-5", key::unwrap_sbp_floor, f_.sbp}, "take_bp");
    add_needed("hospital", f_.hospital, "not_in_hospital", "ask_place");
    add_needed("qualified_clinician", f_.clinician, "no_qualified_clinician", "ask_qualified_clinician");
    add_needed("iv_running", f_.iv_running, "no_running_line", "ask_iv_running");
    add_needed("helper", f_.helper, "no_helper", "ask_helper");
    return std::move(out_);
  }

 private:
  void add(std::string_view id, Tri met, Reason reason, std::string_view ask) {
    out_.push_back({id, met, std::move(reason), met == Tri::unknown ? ask : std::string_view()});
  }

  // Who and where, as far as the ward asks for it.
  void add_needed(std::string_view id, Tri met, const char* reason, std::string_view ask) {
    if (lists(p_.words(key::unwrap_needs), id)) add(id, met, {reason, "GR-7", key::unwrap_needs}, ask);
  }

  [[nodiscard]] Tri within(Key limit, std::optional<double> seen) const {
    return seen ? tri(p_.met(limit, *seen)) : Tri::unknown;
  }

  const ReadinessFindings& f_;
  const protocol::Protocol& p_;
  std::vector<Condition> out_;
};

void add_blood_notices(const ReadinessFindings& findings, const protocol::Protocol& protocol, Readiness& out) {
  if (findings.hb_gl && protocol.met(key::unwrap_hb_notice, *findings.hb_gl))
    out.notices.push_back({"haemoglobin_low", "GR-6", key::unwrap_hb_notice, findings.hb_gl});
  if (findings.hct_percent && protocol.met(key::unwrap_hct_notice, *findings.hct_percent))
    out.notices.push_back({"haematocrit_low", "GR-6", key::unwrap_hct_notice, findings.hct_percent});
}

}  // namespace

Readiness judge_readiness(const ReadinessFindings& findings, const protocol::Protocol& protocol) {
  Readiness out;
  out.conditions = Conditions(findings, protocol).list();
  out.ready = Tri::yes;
  for (const Condition& condition : out.conditions) out.ready = out.ready && condition.met;
  add_blood_notices(findings, protocol, out);
  return out;
}

UnwrapTimes unwrap_times(Moment start, bool ankle_folded, const protocol::Protocol& protocol) {
  UnwrapTimes out;
  Moment at = start;
  for (const Segments step : opening_steps(protocol, ankle_folded)) {
    if (!out.openings.empty()) at = at + protocol.minutes(key::unwrap_wait);
    out.openings.push_back({step, at});
  }
  out.final_check = at + protocol.minutes(key::unwrap_final_wait);
  return out;
}

// ---- This woman
// ------------------------------------------------------------------------------------------------------

namespace {

// Treated once at least one cause is, and none is left that was found and not treated. The newest word on each counts.
Tri cause_treated(const View& view) {
  constexpr std::array<std::string_view, 4> causes{"cause_tone", "cause_trauma", "cause_tissue", "cause_thrombin"};
  Tri out = Tri::unknown;
  for (const std::string_view cause : causes) {
    const auto* newest = view.last_where<record::Finding>([&](const record::Finding& f) { return f.what == cause; });
    if (newest == nullptr) continue;
    if (newest->what.value == "treated" && out == Tri::unknown) out = Tri::yes;
    if (newest->what.value == "found" || newest->what.value == "suspected") return Tri::no;
  }
  return out;
}

// What was confirmed at the bedside counts as long as a reading does.
class Confirmations {
 public:
  Confirmations(const View& view, Readiness& out) : view_(view), out_(out) {}

  Tri of(std::string_view what) {
    const auto* newest = view_.last_where<record::Finding>([&](const record::Finding& f) { return f.what == what; });
    if (newest == nullptr) return Tri::unknown;
    if (newest->what.value == "no") return Tri::no;
    if (newest->what.value != "yes") return Tri::unknown;
    if (view_.protocol().met(key::series_fresh, (view_.now() - newest->at).in_minutes())) return Tri::unknown;
    const Moment until = newest->at + view_.protocol().minutes(key::series_fresh);
    if (!out_.confirmed_until || until < *out_.confirmed_until) out_.confirmed_until = until;
    return Tri::yes;
  }

 private:
  const View& view_;
  Readiness& out_;
};

// Bleeding has to be slow through the same time as pulse and pressure have to hold. The window is tied to readings, not
// to now, so that the answer does not drift while nothing is entered.
Moment bleeding_since(const Picture& picture, const protocol::Protocol& protocol) {
  const Stability& stability = picture.stability;
  const std::vector<LossPoint>& points = picture.loss.points;
  Moment anchor = stability.as_of;
  if (stability.last_at)
    anchor = *stability.last_at;
  else if (!points.empty())
    anchor = points.back().at;
  Moment since = anchor - protocol.minutes(key::unwrap_stable_time);
  for (const auto& start : {stability.since, picture.garment.steady_since})
    if (start && *start < anchor) since = std::max(since, *start);
  return since;
}

void take_bleeding(const View& view, const Picture& picture, ReadinessFindings& findings) {
  const protocol::Protocol& protocol = view.protocol();
  const RateQuestion question{bleeding_since(picture, protocol), view.now(),
                              protocol.number(key::unwrap_bleeding_limit)};
  const BleedRate rate = bleed_rate(picture.loss, question, protocol);
  if (rate.judgement == RateJudgement::certainly_below) findings.bleeding_below = Tri::yes;
  if (rate.judgement == RateJudgement::certainly_above) findings.bleeding_below = Tri::no;
  if (rate.rate) findings.bleeding_ml_per_h = rate.rate->high_ml_per_h;
}

void take_lab(const View& view, ReadinessFindings& findings) {
  if (const auto* hb = view.last_where<record::Lab>([](const record::Lab& lab) { return lab.hb_gl.has_value(); }))
    findings.hb_gl = hb->what.hb_gl;
  if (const auto* hct =
          view.last_where<record::Lab>([](const record::Lab& lab) { return lab.hct_percent.has_value(); }))
    findings.hct_percent = hct->what.hct_percent;
}

}  // namespace

Readiness readiness(const View& view, const Picture& picture) {
  ReadinessFindings findings;
  Readiness confirmed;
  Confirmations bedside(view, confirmed);
  const Stability& stability = picture.stability;
  findings.cause_treated = cause_treated(view);
  take_bleeding(view, picture, findings);
  findings.stable = stability.holds();
  findings.stable_min = stability.stable_min;
  if (!stability.reasons.empty()) findings.not_stable = stability.reasons.front();
  findings.pulse = stability.last_pulse;
  findings.sbp = stability.last_sbp;
  findings.clinician = bedside.of("qualified_clinician");
  findings.hospital = tri(!closed_place(picture.place, view.protocol()));
  findings.iv_running = bedside.of("iv_running");
  findings.helper = bedside.of("helper");
  take_lab(view, findings);
  Readiness out = judge_readiness(findings, view.protocol());
  out.confirmed_until = confirmed.confirmed_until;
  const bool only_time = std::all_of(out.conditions.begin(), out.conditions.end(),
                                     [](const Condition& c) { return c.met == Tri::yes || c.id == "stable"; });
  if (only_time && stability.answer == StabilityAnswer::not_yet) out.earliest = stability.earliest;
  return out;
}

namespace {

// What is asked once pulse and pressure have held: before, nobody stands at the bedside to take the garment off.
void ask_for_start(const Readiness& readiness, const Stability& stability, AdviceBuilder& out) {
  for (const Condition& condition : readiness.conditions) {
    if (condition.met != Tri::unknown) continue;
    const bool early = condition.id == "bleeding_slow" || condition.id == "pulse" || condition.id == "pressure";
    const bool holding = stability.since.has_value();
    if (stability.answer == StabilityAnswer::stable || (early && holding))
      out.unknown(std::string(condition.ask), condition.reason.rule);
  }
}

// While she bleeds, signs are taken so often that none needs repeating; once they hold, a second one only makes it
// surer.
void ask_to_repeat(const Stability& stability, const View& view, AdviceBuilder& out) {
  const Moment by = *stability.last_at + view.protocol().minutes(key::series_confirm_within);
  out.wake_at(*stability.last_at + view.protocol().minutes(key::series_group) + Duration::milliseconds(1));
  out.due({"repeat_vitals",
           "",
           stability.answer == StabilityAnswer::failing ? Priority::medium : Priority::low,
           out.standing(by, std::nullopt, view.protocol().minutes(key::series_confirm_within)),
           by,
           std::nullopt,
           {},
           {{"reading_near_limit", "STAB-2", key::series_confirm_within, std::nullopt, "", stability.last_at}}});
}

void watch_stable_time(const Stability& stability, AdviceBuilder& out) {
  for (const auto& edge : {stability.stale_from, stability.next_reading_by})
    if (edge) out.wake_at(*edge + Duration::milliseconds(1));
  if (stability.next_reading_by && stability.answer != StabilityAnswer::stable)
    out.watch({"next_reading_or_restart",
               "",
               std::nullopt,
               protocol::Comparator::none,
               "",
               stability.next_reading_by,
               {{"stable_time_restarts", "STAB-3", key::series_gap, std::nullopt, "", stability.last_at}}});
  if (stability.answer == StabilityAnswer::not_yet && stability.earliest)
    out.watch({"unwrap_earliest",
               "",
               std::nullopt,
               protocol::Comparator::none,
               "",
               stability.earliest,
               {stability.reasons.front()}});
}

}  // namespace

void advise_unwrap_start(const Picture& picture, const View& view, AdviceBuilder& out) {
  const GarmentState& garment = picture.garment;
  if (!garment.on() || !garment.steady_since || closed_place(picture.place, view.protocol())) return;
  const Readiness& readiness = picture.readiness;
  if (readiness.confirmed_until) out.wake_at(*readiness.confirmed_until + Duration::milliseconds(1));
  if (!picture.loss.points.empty())  // from then on the bleeding is no longer known
    out.wake_at(picture.loss.points.back().at + view.protocol().minutes(key::series_gap) + Duration::milliseconds(1));
  watch_stable_time(picture.stability, out);
  if (picture.stability.repeat_now && picture.stability.last_at && !picture.severity.acute())
    ask_to_repeat(picture.stability, view, out);
  ask_for_start(readiness, picture.stability, out);
  for (const Reason& notice : readiness.notices)
    if (picture.stability.answer == StabilityAnswer::stable) out.notice({notice.id, "", Priority::low, {notice}});
}

}  // namespace stanch::care

#include "stanch/care/unwrap.hpp"

#include <algorithm>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

using record::Segment;
namespace key = protocol::key;

// One step of the round: the openings of one segment, or of those that open together, one after the other.
struct RoundStep {
  Segments segments;
  Moment first_at;
  Moment last_at;
};

// The openings of the round put together to steps. Out of order or all at once, each opening is its own step.
std::vector<RoundStep> steps_of(const GarmentState& garment, const protocol::Protocol& protocol) {
  const std::vector<Segments> order = opening_steps(protocol, garment.ankle_folded);
  const auto same_step = [&](Segments a, Segments b) {
    return std::any_of(order.begin(), order.end(), [&](Segments step) { return a.within(step) && b.within(step); });
  };
  std::vector<RoundStep> out;
  for (const Opening& opening : garment.openings) {
    if (!to_take_off(opening.why)) continue;
    if (!out.empty() && same_step(out.back().segments, opening.segments)) {
      out.back().last_at = opening.at;
      out.back().segments.add(opening.segments);
    } else {
      out.push_back({opening.segments, opening.at, opening.at});
    }
  }
  return out;
}

std::optional<Segments> next_step(const GarmentState& garment, const protocol::Protocol& protocol) {
  for (const Segments step : opening_steps(protocol, garment.ankle_folded))
    for (std::size_t i = 0; i < n_panels; ++i)
      if (garment.used(i) && step.has(all_panels[i].segment) && garment.panels[i].holds()) return step;
  return std::nullopt;
}

bool half_opened(const GarmentState& garment, Segments step) {
  for (std::size_t i = 0; i < n_panels; ++i)
    if (garment.used(i) && step.has(all_panels[i].segment) && garment.panels[i].holds()) return true;
  return false;
}

// The first fact of a claim after one moment and not after another.
template <class T, class Claim>
std::optional<Moment> first_between(const View& view, Moment after, Moment until, Claim claim) {
  for (const Fact<T>& fact : view.all<T>())
    if (fact.at > after && fact.at <= until && claim(fact.what)) return fact.at;
  return std::nullopt;
}

void take_bleeding(const View& view, const MeasuredLoss& loss, StepFindings& findings) {
  const auto bleeding = [](const record::Finding& f) { return f.what == "bleeding"; };
  for (const LossPoint& point : loss.points)
    if (point.at > findings.opened_at && point.at <= findings.now) findings.bleeding_seen_at = point.at;
  if (findings.bleeding_seen_at) findings.new_loss_ml = loss.total_at(findings.now) - loss.total_at(findings.opened_at);
  if (const auto looked = first_between<record::Finding>(view, findings.opened_at, findings.now, bleeding))
    findings.bleeding_seen_at = std::max(findings.bleeding_seen_at, looked);
  findings.heavy_at = first_between<record::Finding>(view, findings.opened_at, findings.now,
                                                     [&](const auto& f) { return bleeding(f) && f.value == "heavy"; });
  findings.pad_soaked_at =
      first_between<record::Finding>(view, findings.opened_at, findings.now,
                                     [](const record::Finding& f) { return f.what == "pad" && f.value == "soaked"; });
}

void take_consciousness(const View& view, StepFindings& findings) {
  for (const auto& fact : view.all<record::Vitals>()) {
    if (fact.at <= findings.opened_at || fact.at > findings.now || !fact.what.avpu) continue;
    findings.drowsy_at = std::nullopt;
    if (*fact.what.avpu != record::Avpu::A) findings.drowsy_at = fact.at;
  }
}

std::span<const SignReading> between(std::span<const SignReading> readings, Moment after, Moment until) {
  const auto later = [](Moment m, const SignReading& r) { return m < r.at; };
  const auto begin = std::upper_bound(readings.begin(), readings.end(), after, later);
  const auto end = std::upper_bound(readings.begin(), readings.end(), until, later);
  return begin < end ? std::span(begin, end) : std::span<const SignReading>();
}

// The judgement of one step up to a moment: now, or when the next one was opened.
StepJudgement judge_round_step(const View& view, const Picture& picture, std::span<const SignReading> readings,
                               const std::vector<RoundStep>& steps, std::size_t i) {
  const bool newest = i + 1 == steps.size();
  StepFindings findings;
  findings.now = newest ? view.now() : steps[i + 1].first_at;
  findings.opened_at = steps[i].last_at;
  findings.before = baseline_before(readings, steps[i].first_at, view.protocol());
  findings.start = baseline_before(readings, steps.front().first_at, view.protocol());
  findings.since = between(readings, steps[i].first_at, findings.now);
  findings.is_last = newest && picture.garment.all_open();
  findings.half_opened = newest && half_opened(picture.garment, steps[i].segments);
  take_bleeding(view, picture.loss, findings);
  take_consciousness(view, findings);
  return judge_step(findings, view.protocol());
}

std::vector<Segment> reclose_order(const GarmentState& garment, const protocol::Protocol& protocol) {
  std::vector<Segment> out;
  for (const Segment segment : closing_order(protocol))
    if (garment.any_open(segment)) out.push_back(segment);
  if (protocol.word(key::unwrap_reclose_order) == "last_opened_first") std::reverse(out.begin(), out.end());
  return out;
}

std::optional<Moment> newest_complete(std::span<const SignReading> readings) {
  std::optional<Moment> pulse;
  std::optional<Moment> sbp;
  for (auto it = readings.rbegin(); it != readings.rend() && !(pulse && sbp); ++it) {
    if (it->pulse && !pulse) pulse = it->at;
    if (it->sbp && !sbp) sbp = it->at;
  }
  if (!pulse || !sbp) return std::nullopt;
  return std::min(*pulse, *sbp);
}

}  // namespace

bool Unwrap::half_opened() const {
  return under_way && step.verdict != StepVerdict::reclose && next && opened.within(*next);
}

Unwrap unwrap(const View& view, const Picture& picture) {
  Unwrap out;
  const GarmentState& garment = picture.garment;
  if (!garment.on()) return out;
  const std::vector<SignReading> readings = sign_readings(view);
  out.newest_reading_at = newest_complete(readings);
  out.next = next_step(garment, view.protocol());
  if (!garment.taking_off()) return out;
  const std::vector<RoundStep> steps = steps_of(garment, view.protocol());
  out.under_way = true;
  out.started_at = steps.front().first_at;
  out.opened_at = steps.back().last_at;
  out.opened = steps.back().segments;
  out.reclose_order = reclose_order(garment, view.protocol());
  out.step = judge_round_step(view, picture, readings, steps, steps.size() - 1);
  // An alarm of an earlier step that nobody answered by closing stands.
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    StepJudgement earlier = judge_round_step(view, picture, readings, steps, i);
    if (!earlier.alarm_at) continue;
    out.step.verdict = StepVerdict::reclose;
    out.step.alarm_at = out.step.alarm_at ? std::min(*out.step.alarm_at, *earlier.alarm_at) : *earlier.alarm_at;
    for (Reason& reason : earlier.reasons) out.step.reasons.push_back(std::move(reason));
  }
  return out;
}

// ---- May a panel be opened? -----------------------------------------------------------------------------------------

namespace {

void stop_by_readiness(const Readiness& readiness, Verdict& out) {
  for (const Condition& condition : readiness.conditions) {
    if (condition.met == Tri::yes) continue;
    out.stop(Permission::needs_override, condition.reason);
    if (condition.met == Tri::unknown) out.ask_for(condition.ask);
  }
  out.allowed_at = readiness.earliest;
}

void stop_by_step(const StepJudgement& step, Verdict& out) {
  switch (step.verdict) {
    case StepVerdict::open_next:
    case StepVerdict::done:
      return;
    case StepVerdict::reclose:
      for (const Reason& reason : step.reasons) out.stop(Permission::needs_senior, reason);
      return;
    case StepVerdict::hold: {
      for (const Reason& reason : step.reasons) out.stop(Permission::needs_override, reason);
      const bool only_wait = step.reasons.size() == 1 && step.reasons.front().id == "wait_not_over";
      if (only_wait) out.allowed_at = step.wait_ends;
      return;
    }
    case StepVerdict::unknown:
      for (const Reason& reason : step.reasons) out.stop(Permission::needs_override, reason);
      for (const std::string_view ask : step.ask) out.ask_for(ask);
      return;
  }
}

// Signs taken just before the opening are what the next ones are compared with. True when they are too old to do so.
bool stop_by_age(const View& view, std::optional<Moment> read_at, Verdict& out) {
  const protocol::Protocol& protocol = view.protocol();
  const double age = read_at ? (view.now() - *read_at).in_minutes() : 0;
  if (read_at && protocol.met(key::observe_removal_before, age)) return false;
  const bool stale = !read_at || protocol.met(key::series_baseline_stale, age);
  Reason reason{stale ? "baseline_stale" : "vitals_not_just_before",
                stale ? "STEP-4" : "OBS-7",
                stale ? key::series_baseline_stale : key::observe_removal_before,
                std::nullopt,
                "",
                read_at};
  out.stop(stale ? Permission::needs_override : Permission::warned, std::move(reason));
  out.ask_for("take_vitals");
  return stale;
}

}  // namespace

Verdict may_open_to_take_off(const View& view, const Picture& picture, Segments segments) {
  Verdict out;
  const Unwrap& unwrap = picture.unwrap;
  if (unwrap.half_opened() && segments.within(*unwrap.next)) return out;  // the second panel of this step
  bool not_by_waiting = false;
  if (unwrap.next && !segments.within(*unwrap.next)) {
    out.stop(Permission::needs_override, {"open_in_order", "GR-8", key::unwrap_order, std::nullopt,
                                          step_name(*unwrap.next, view.protocol()), std::nullopt});
    not_by_waiting = true;
  }
  if (unwrap.under_way)
    stop_by_step(unwrap.step, out);
  else
    stop_by_readiness(picture.readiness, out);
  if (stop_by_age(view, unwrap.newest_reading_at, out)) not_by_waiting = true;
  if (not_by_waiting) out.allowed_at = std::nullopt;
  out.second_person = out.permission >= Permission::needs_override;
  return out;
}

}  // namespace stanch::care

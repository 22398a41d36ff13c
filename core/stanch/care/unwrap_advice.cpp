// What the unwrapping asks for: limits to watch, readings to repeat, the next panel, or everything closed again.
#include "stanch/care/advice.hpp"
#include "stanch/care/picture.hpp"
#include "stanch/care/unwrap.hpp"
#include "stanch/care/wear.hpp"

namespace stanch::care {
namespace {

using record::Segment;
namespace key = protocol::key;

void note_look_for_bleeding(AdviceBuilder& out) {
  out.notice({"look_for_bleeding", "", Priority::high, {{"after_closing_again", "GR-11", key::unwrap_sbp_fall}}});
}

void advise_reclose(const Unwrap& unwrap, const View& view, AdviceBuilder& out) {
  const Duration allowed = view.protocol().minutes(key::unwrap_reclose_within);
  const Moment by = *unwrap.step.alarm_at + allowed;
  std::string list;
  for (const Segment segment : unwrap.reclose_order) list.append(list.empty() ? "" : " ").append(record::word(segment));
  std::vector<Reason> reasons = unwrap.step.reasons;
  reasons.push_back({"close_every_open_panel", "GR-12", key::unwrap_reclose_within});
  out.due({"reclose_all",
           "",
           Priority::high,
           out.standing(by, std::nullopt, allowed),
           by,
           std::nullopt,
           {{"segments", list}},
           std::move(reasons)});
  note_look_for_bleeding(out);
  out.notice(
      {"stable_time_starts_again", "", Priority::low, {{"after_closing_again", "GR-13", key::unwrap_stable_time}}});
}

void watch_limit(const char* id, const char* about, std::optional<double> limit, protocol::Key step,
                 const protocol::Protocol& protocol, AdviceBuilder& out) {
  if (!limit) return;
  // A rise or fall of the limit or more closes the garment; the number itself is crossed likewise.
  const bool strict = protocol.value(step).comparator == protocol::Comparator::more;
  const bool ceiling = step == key::unwrap_pulse_rise;
  const auto crossed = ceiling ? (strict ? protocol::Comparator::more : protocol::Comparator::at_least)
                               : (strict ? protocol::Comparator::less : protocol::Comparator::at_most);
  out.watch({id, about, limit, crossed, protocol.value(step).unit, std::nullopt, {{"limit_in_force", "GR-11", step}}});
}

void watch_hard_limit(const char* id, protocol::Key limit, const protocol::Protocol& protocol, AdviceBuilder& out) {
  const protocol::Value& value = protocol.value(limit);
  out.watch(
      {id, "danger", value.number, value.comparator, value.unit, std::nullopt, {{"limit_in_force", "STEP-5", limit}}});
}

void watch_limits(const StepLimits& limits, const View& view, AdviceBuilder& out) {
  const protocol::Protocol& p = view.protocol();
  watch_limit("pulse_ceiling", "before_opening", limits.pulse_before, key::unwrap_pulse_rise, p, out);
  watch_limit("pulse_ceiling", "start_of_unwrapping", limits.pulse_start, key::unwrap_pulse_rise, p, out);
  watch_limit("systolic_floor", "before_opening", limits.sbp_before, key::unwrap_sbp_fall, p, out);
  watch_limit("systolic_floor", "start_of_unwrapping", limits.sbp_start, key::unwrap_sbp_fall, p, out);
  watch_hard_limit("pulse_ceiling", key::series_hard_pulse, p, out);
  watch_hard_limit("systolic_floor", key::series_hard_sbp, p, out);
  const protocol::Value& bleeding = p.value(key::unwrap_new_bleeding);
  out.watch({"new_bleeding",
             "since_opening",
             bleeding.number,
             bleeding.comparator,
             bleeding.unit,
             std::nullopt,
             {{"limit_in_force", "GR-14", key::unwrap_new_bleeding}}});
}

// Fresh signs first, then the panel.
void advise_opening(const Unwrap& unwrap, const View& view, Priority priority, std::optional<Moment> from,
                    const char* rule, AdviceBuilder& out) {
  const protocol::Protocol& protocol = view.protocol();
  const auto& read_at = unwrap.newest_reading_at;
  const Duration counts_for = protocol.minutes(key::observe_removal_before);
  if (read_at) out.wake_at(*read_at + counts_for + Duration::milliseconds(1));
  const bool fresh = read_at && protocol.met(key::observe_removal_before, (view.now() - *read_at).in_minutes());
  const std::string step = step_name(*unwrap.next, protocol);
  if (!fresh)
    out.due({"take_vitals_before_opening",
             step,
             priority,
             Standing::due,
             from,
             std::nullopt,
             {},
             {{"signs_just_before_opening", "OBS-7", key::observe_removal_before, std::nullopt, "", read_at}}});
  else
    out.due({"open_segment",
             step,
             priority,
             Standing::due,
             from,
             std::nullopt,
             {},
             {{"may_open_next", rule, std::nullopt, std::nullopt, step, from}}});
}

void advise_step(const Unwrap& unwrap, const GarmentState& garment, const View& view, AdviceBuilder& out) {
  const StepJudgement& step = unwrap.step;
  const protocol::Protocol& protocol = view.protocol();
  out.wake_at(step.wait_ends);
  for (const double minutes : protocol.value(key::observe_removal_checks).list)
    out.wake_at(unwrap.opened_at + Duration::minutes(minutes));
  if (step.repeat_by) {
    const Duration lead = protocol.minutes(key::series_repeat_within);
    out.due({"repeat_vitals",
             "",
             Priority::medium,
             out.standing(*step.repeat_by, std::nullopt, lead),
             step.repeat_by,
             std::nullopt,
             {},
             step.reasons});
  }
  for (const std::string_view ask : step.ask) out.unknown(std::string(ask), "GR-9");
  const Reason wait{"wait_after_opening", "GR-9", garment.all_open() ? key::unwrap_final_wait : key::unwrap_wait,
                    std::nullopt,         "",     unwrap.opened_at};
  if (view.now() < step.wait_ends)
    out.watch({garment.all_open() ? "final_check" : "next_opening",
               "",
               std::nullopt,
               protocol::Comparator::none,
               "",
               step.wait_ends,
               {wait}});
  if (unwrap.half_opened())
    out.due({"open_segment",
             step_name(*unwrap.next, protocol),
             Priority::medium,
             Standing::due,
             unwrap.opened_at,
             std::nullopt,
             {},
             {{"other_panel_still_closed", "GR-8", key::unwrap_order}}});
  else if (step.verdict == StepVerdict::open_next && unwrap.next)
    advise_opening(unwrap, view, Priority::medium, step.wait_ends, "GR-9", out);
  if (step.verdict == StepVerdict::done)
    out.due({"take_garment_off",
             "",
             Priority::medium,
             Standing::due,
             step.wait_ends,
             std::nullopt,
             {},
             {{"final_check_passed", "GR-9", key::unwrap_final_wait, std::nullopt, "", unwrap.opened_at}}});
}

// A sign no longer within the limits of the start closes nothing by itself, but should be known.
void note_start_limits(const Unwrap& unwrap, const Picture& picture, const View& view, AdviceBuilder& out) {
  const auto note = [&](const char* id, const char* rule, std::optional<int> value, Moment at, protocol::Key limit) {
    if (value && at > unwrap.started_at && !view.protocol().met(limit, *value))
      out.notice({"past_start_limit",
                  id,
                  Priority::medium,
                  {{"past_start_limit", rule, limit, static_cast<double>(*value), id, at}}});
  };
  const Signs& signs = picture.signs;
  if (signs.pulse) note("pulse", "GR-4", signs.pulse_per_min(), signs.pulse->at, key::unwrap_pulse_ceiling);
  if (signs.sbp) note("sbp", "GR-5", signs.sbp_mmhg(), signs.sbp->at, key::unwrap_sbp_floor);
}

// Closed again after an opening, and nobody has said since what she bleeds from or that she doesn't.
bool still_to_look(const View& view, const GarmentState& garment) {
  if (!garment.steady_again) return false;
  const auto* opened = view.last_where<record::Garment>(
      [](const record::Garment& g) { return g.action == record::GarmentAction::open; });
  if (opened == nullptr || !to_take_off(opened->what.reason)) return false;
  const auto* looked = view.last_where<record::Finding>(
      [](const record::Finding& f) { return f.what == "bleeding" || f.what.starts_with("cause_"); });
  return looked == nullptr || looked->at < *garment.steady_since;
}

void guard_opening(const View& view, const Picture& picture, std::string about, AdviceBuilder& out) {
  Verdict verdict = may_open_to_take_off(view, picture, *picture.unwrap.next);
  if (verdict.permission >= Permission::needs_override) out.guard({"open", std::move(about), std::move(verdict)});
}

}  // namespace

void advise_unwrap(const Picture& picture, const View& view, AdviceBuilder& out) {
  const Unwrap& unwrap = picture.unwrap;
  const GarmentState& garment = picture.garment;
  const bool elsewhere = closed_place(picture.place, view.protocol());
  if (!garment.on()) return;
  if (elsewhere && !unwrap.under_way) {
    Verdict here;
    stop_by_place(picture.place, view.protocol(), here);
    out.guard({"open", "to_take_off", std::move(here)});
    return;
  }
  if (unwrap.newest_reading_at) {
    out.wake_at(*unwrap.newest_reading_at + view.protocol().minutes(key::observe_removal_before) +
                Duration::milliseconds(1));
    out.wake_at(*unwrap.newest_reading_at + view.protocol().minutes(key::series_baseline_stale) +
                Duration::milliseconds(1));
  }
  if (!unwrap.under_way) {
    if (!garment.steady_since || picture.theatre.under_way() || !unwrap.next) return;
    if (still_to_look(view, garment)) note_look_for_bleeding(out);
    if (picture.readiness.ready == Tri::yes)
      advise_opening(unwrap, view, Priority::low, picture.stability.last_at, "GR-3", out);
    else
      guard_opening(view, picture, "to_take_off", out);
    return;
  }
  watch_limits(unwrap.step.limits, view, out);
  if (unwrap.step.verdict == StepVerdict::reclose)
    advise_reclose(unwrap, view, out);
  else
    advise_step(unwrap, garment, view, out);
  note_start_limits(unwrap, picture, view, out);
  if (unwrap.next && !unwrap.half_opened()) guard_opening(view, picture, step_name(*unwrap.next, view.protocol()), out);
}

}  // namespace stanch::care

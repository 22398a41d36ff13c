#include "stanch/care/garment_guard.hpp"

#include <utility>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

using record::Garment;
using record::GarmentAction;
using record::OpenReason;
namespace key = protocol::key;

// The contraindications are asked before the first panel is closed, not at each one.
Verdict may_put_on(const View& view, const Picture& picture, const Garment& proposed) {
  const GarmentState& garment = picture.garment;
  bool any_closed = false;
  for (const PanelNow& panel : garment.panels) any_closed = any_closed || panel.state != PanelState::not_closed;
  Verdict out;
  if (!any_closed) out = wrap_exclusions(picture.woman, would_die_otherwise(view), view.protocol());
  if (proposed.action != GarmentAction::close) return out;
  const Verdict order = may_close(garment, proposed, view.protocol());
  for (const Reason& reason : order.reasons) out.stop(order.permission, reason);
  return out;
}

Segments segments_of(const Garment& proposed) {
  return proposed.segment ? Segments{*proposed.segment} : Segments::all();
}

// Acute distress with a doctor at hand: everything may come off at once. Without one the doctor is the stop.
std::optional<Verdict> in_distress(const Wear& wear) {
  if (!wear.breathless_at) return std::nullopt;
  Verdict out;
  if (wear.doctor_present)
    out.stop(Permission::warned,
             {"distress_doctor_present", "GR-15", std::nullopt, std::nullopt, "", wear.breathless_at});
  else
    out.stop(Permission::needs_override,
             {"distress_needs_doctor", "GR-15", key::wear_doctors, std::nullopt, "", wear.breathless_at});
  out.second_person = !wear.doctor_present;
  return out;
}

void stop_all_at_once(Verdict& out) {
  out.stop(Permission::needs_senior, {"never_all_at_once", "GR-15"});
  out.second_person = true;
}

Verdict may_open_for_breath(const View& view, const Picture& picture, Segments segments) {
  Verdict out;
  if (segments.within(segment_set(view.protocol(), key::wear_breathless_first_loosen))) {
    out.stop(Permission::warned, {"legs_and_pelvis_stay_closed", "GW-3", key::wear_breathless_first_loosen});
    return out;
  }
  if (auto distress = in_distress(picture.wear); distress && picture.wear.breath == BreathPlan::remove_now_with_doctor)
    return std::move(*distress);
  out.stop(Permission::needs_override, {"loosen_closing_panel_first", "GW-3", key::wear_breathless_first_loosen});
  return out;
}

Verdict may_open(const View& view, const Picture& picture, const Garment& proposed) {
  const Segments segments = segments_of(proposed);
  if (proposed.reason == OpenReason::breathless) return may_open_for_breath(view, picture, segments);
  if (!proposed.segment)
    if (auto distress = in_distress(picture.wear)) return std::move(*distress);
  Verdict out;
  if (proposed.reason == OpenReason::theatre)
    out = may_open_for_surgery(picture.theatre, segments, view);
  else if (proposed.reason == OpenReason::procedure)
    out = may_open_for_procedure(segments, view.protocol());
  else
    out = may_open_to_take_off(view, picture, segments);
  if (!proposed.segment && to_take_off(proposed.reason)) stop_all_at_once(out);
  stop_by_place(picture.place, view.protocol(), out);
  return out;
}

// Off: when every panel is open and the final check is over.
Verdict may_take_off(const View& view, const Picture& picture) {
  if (auto distress = in_distress(picture.wear)) return std::move(*distress);
  Verdict out;
  if (picture.unwrap.next) {
    stop_all_at_once(out);
  } else {
    const StepJudgement& step = picture.unwrap.step;
    if (step.verdict != StepVerdict::done)
      for (const Reason& reason : step.reasons)
        out.stop(step.verdict == StepVerdict::reclose ? Permission::needs_senior : Permission::needs_override, reason);
    for (const std::string_view ask : step.ask) out.ask_for(ask);
    if (step.verdict == StepVerdict::hold && !step.repeat_by) out.allowed_at = step.wait_ends;
  }
  stop_by_place(picture.place, view.protocol(), out);
  if (out.permission >= Permission::needs_override) out.second_person = true;
  return out;
}

}  // namespace

Verdict may_garment(const View& view, const Picture& picture, const Garment& proposed) {
  const bool on = picture.garment.on();
  switch (proposed.action) {
    case GarmentAction::placed:
    case GarmentAction::close:
      return may_put_on(view, picture, proposed);
    case GarmentAction::open:
      return on ? may_open(view, picture, proposed) : Verdict{};
    case GarmentAction::off:
      return on ? may_take_off(view, picture) : Verdict{};
    case GarmentAction::check:
      return {};
  }
  return {};
}

}  // namespace stanch::care

#include "stanch/care/phase_inputs.hpp"

#include <algorithm>

#include "stanch/care/picture.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

/// Was she last seen to bleed more than lightly?
bool seen_heavy(const View& view, const Bleeding& bleeding) {
  if (bleeding.ongoing != Tri::yes) return false;
  const auto* seen = view.last_where<record::Finding>([](const record::Finding& f) { return f.what == "bleeding"; });
  return seen != nullptr && (seen->what.value == "heavy" || seen->what.value == "ongoing");
}

/// Some loss short of the trigger while bleeding may go on, or the shock index at its alert.
void take_raised(PhaseInputs& in, const View& view, const Picture& so_far) {
  const MeasuredLoss& loss = so_far.loss;
  const bool some = loss.total_ml && view.protocol().met(key::recognition_volume_with_sign, *loss.total_ml);
  const Tri by_loss = loss.total_ml ? tri(some) && !tri(in.bleeding == Tri::no) : Tri::unknown;
  in.raised = by_loss || so_far.shock_index.alert;
  if (by_loss == Tri::yes && !loss.points.empty()) in.raised_at = loss.points.back().at;
  if (so_far.shock_index.alert == Tri::yes && so_far.shock_index.at)
    in.raised_at = std::max(in.raised_at.value_or(*so_far.shock_index.at), *so_far.shock_index.at);
}

/// Died, or called recovered with no bleeding seen since.
bool ended(const View& view, const Bleeding& bleeding) {
  if (died(view)) return true;
  const auto* well = view.last_where<record::Outcome>([](const record::Outcome& o) { return o.what == "recovered"; });
  return well != nullptr && !(bleeding.ongoing == Tri::yes && bleeding.at && *bleeding.at > well->at);
}

void take_garment(PhaseInputs& in, const Picture& so_far) {
  in.garment_on = so_far.garment.on();
  in.placed_at = so_far.garment.placed_at;
  in.off_at = so_far.garment.off_at;
  in.taking_off = so_far.unwrap.under_way;
  if (so_far.unwrap.under_way) in.opened_panel_at = so_far.unwrap.started_at;
  using enum StabilityAnswer;
  in.holding =
      so_far.stability.answer == stable || so_far.stability.answer == not_yet || so_far.stability.answer == stale;
}

}  // namespace

bool died(const View& view) {
  return view.last_where<record::Outcome>([](const record::Outcome& o) { return o.what == "died"; }) != nullptr;
}

PhaseInputs phase_inputs(const View& view, const Picture& so_far) {
  PhaseInputs in;
  in.born = so_far.woman.born();
  in.birth_at = so_far.woman.birth_at;
  const auto opened = view.all<record::Opened>();
  if (!opened.empty()) in.opened_at = opened.front().at;
  in.triggered = so_far.recognition.trigger;
  in.triggered_at = so_far.recognition.t0;
  in.bleeding = so_far.bleeding.ongoing;
  in.bleeding_at = so_far.bleeding.at;
  in.heavy = seen_heavy(view, so_far.bleeding);
  in.stopped_at = stopped_since(view);
  take_raised(in, view, so_far);
  take_garment(in, so_far);
  in.in_theatre = so_far.theatre.open();
  in.on_the_road = so_far.place.on_the_road();
  if (in.on_the_road) in.left_at = so_far.place.since;
  in.ended = ended(view, so_far.bleeding);
  return in;
}

LookLimits look_limits(const View& view, const Picture& so_far) {
  LookLimits out;
  out.uterus = so_far.woman.born() != Tri::no && view.last_where<record::Manoeuvre>([](const record::Manoeuvre& m) {
    return m.done && m.what == "hysterectomy";
  }) == nullptr;
  return out;
}

}  // namespace stanch::care

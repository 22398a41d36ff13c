#include "stanch/care/perfusion.hpp"

#include <algorithm>

#include "stanch/care/ratio.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

template <class T>
Tri past(const std::optional<Reading<T>>& reading, protocol::Key limit, const View& view) {
  if (!reading) return Tri::unknown;
  return judged(view.protocol().met(limit, static_cast<double>(reading->value)), reading->at, view);
}

// Lactate is no vital sign: it stays the newest known until another is taken.
void judge_lactate(Perfusion& out, const View& view, const Signs& signs) {
  const auto* lab = view.last_where<record::Lab>([](const record::Lab& l) { return l.lactate.has_value(); });
  if (lab == nullptr) return;
  out.lactate = lab->what.lactate;
  out.lactate_abnormal = tri(view.protocol().met(key::shock_lactate_abnormal, *out.lactate));
  Tri index = Tri::unknown;
  if (signs.pulse_unrecordable() || signs.sbp_unrecordable())
    index = Tri::yes;
  else if (signs.pulse_per_min() && signs.sbp_mmhg())
    index = judged(ratio_met(view.protocol(), key::shock_index_massive, *signs.pulse_per_min(), *signs.sbp_mmhg()),
                   std::min(signs.pulse->at, signs.sbp->at), view);
  out.massive_transfusion_likely = index && tri(view.protocol().met(key::shock_lactate_massive, *out.lactate));
}

void judge_urine(Perfusion& out, const View& view) {
  const auto intervals = urine_intervals(view);
  if (intervals.empty()) return;
  out.urine = intervals.back();
  out.little_urine = tri(view.protocol().met(key::shock_urine, out.urine->ml_per_h()));
  out.urine_target = tri(view.protocol().met(key::shock_urine_target, out.urine->ml_per_h()));
}

}  // namespace

Perfusion perfusion(const View& view, const Signs& signs, const BloodPressure& pressure) {
  Perfusion out;
  out.clinical_shock = past(signs.pulse, key::shock_pulse, view) && past(signs.sbp, key::shock_sbp, view);
  const Tri not_found = tri(signs.pulse_unrecordable() || signs.sbp_unrecordable());
  out.in_shock = out.clinical_shock || pressure.severe_shock || not_found;
  out.fast_breathing = past(signs.rr, key::shock_rr, view);
  out.slow_refill = past(signs.cap_refill_s, key::shock_cap_refill, view);
  out.cold = past(signs.temp_c, key::shock_temp_warn, view);
  out.needs_warming = past(signs.temp_c, key::shock_temp_act, view);
  judge_urine(out, view);
  judge_lactate(out, view, signs);
  return out;
}

}  // namespace stanch::care

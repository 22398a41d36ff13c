// The model's equations as slopes dy/dt, for solvers that are not ours. Algebra is shared with the core (its single
// step is checked against hand-worked figures); how it is integrated is not. Lags: dx/dt = (target - x)/tau.
#pragma once

#include <array>
#include <vector>

#include "tests/support/body.hpp"

namespace stanch::tests {

/// Vp Vr A F Pl vi xh xr xv d T lam Lac L Ur
using BodyState = std::array<double, 15>;

inline void put_state(physiology::States<double>& s, const BodyState& y) {
  physiology::Row<double>* const rows[] = {&s.plasma,      &s.red_cells,    &s.protein,     &s.fibrinogen,
                                           &s.platelets,   &s.interstitium, &s.drive_pulse, &s.drive_resistance,
                                           &s.drive_veins, &s.failure,      &s.tone,        &s.log_bleed,
                                           &s.lactate,     &s.loss,         &s.urine};
  for (std::size_t i = 0; i < y.size(); ++i) (*rows[i])[0] = y[i];
}

inline BodyState resting_state(const physiology::Parameters& woman) {
  const double cells = woman.blood_volume * woman.haemoglobin / 335;
  const double plasma = woman.blood_volume - cells;
  return {plasma,
          cells,
          plasma,
          plasma * woman.fibrinogen / 1000,
          woman.blood_volume * woman.platelets / 1000,
          0,
          0,
          0,
          0,
          0,
          woman.untreated_tone,
          0,
          1.2,
          0,
          0};
}

class Slopes {
 public:
  Slopes(const physiology::Parameters& woman, const std::vector<physiology::Signals<double>>& signals)
      : woman_(woman), signals_(&signals), physics_(physiology::physics<double>(body_constants(), 12)) {
    physiology::set_traits(traits_, 0, woman, body_constants());
    physiology::set_at_rest(states_, 0, woman, body_constants());
  }

  void operator()(const BodyState& y, BodyState& dy, double t) {
    const auto& c = body_constants();
    const auto pos = [](double x) { return x > 0 ? x : 0; };
    const auto within = [](double x, double low, double high) { return x < low ? low : x > high ? high : x; };
    const auto sat = [](double z) { return z / std::sqrt(1 + z * z); };
    put_state(states_, y);
    states_.bleed_factor[0] = std::exp(y[11]);
    const auto index = std::min(static_cast<std::size_t>(t * 12 + 1e-9), signals_->size() - 1);
    const auto& in = (*signals_)[index];
    const auto o = physiology::circulation<double>(c, physics_.pace, traits_, states_, 0, in);
    const auto& [vp, vr, a, f, pl, vi, xh, xr, xv, d, tone, lam, lac, loss, urine] = y;
    const double e = (c.reflex_mean * (1 - o.mean / woman_.mean_pressure) +
                      c.reflex_pulse * (1 - o.pulse_pressure / woman_.pulse_pressure)) *
                     woman_.reflex_gain * in.reflex;
    const double free = vp - a;
    const double out = c.fluid_out * woman_.fluid_spread * free - c.fluid_back * vi -
                       traits_.refill[0] * within(1 - o.filling / c.filling_pressure_rest, -1, 1);
    const double u = c.fluid_urine * pos(free) * within(1 - c.urine_fall * (1 - o.share), 0.05, 1.2) *
                     within((o.mean - c.urine_pressure_from) / c.urine_pressure_width, 0, 1);
    const double share = o.bleed * (1 - o.haematocrit) / vp;
    const double wanted = within((woman_.failure_point - o.output / woman_.output) / c.failure_width, 0, 1);
    const double debt = pos(c.oxygen_need - 0.65 * 1.34e-3 * 0.97 * 335 * o.output * o.haematocrit);
    dy = {in.plasma_in - out - u - vp * share,
          in.red_cells_in - o.bleed * o.haematocrit,
          in.protein_in + c.protein_refill * pos(traits_.protein_rest[0] - a) - a * share,
          in.fibrinogen_in - f * share * (1 + c.clotting_use),
          in.platelets_in - pl * o.bleed / o.volume,
          out,
          (sat(c.reflex_gain_pulse * woman_.pulse_gain * e) * (1 - c.failure_pulse * d) - xh) / c.lag_pulse,
          (sat(c.reflex_gain_resistance * e) * (1 - c.failure_resistance * d) - xr) / c.lag_resistance,
          (sat(c.reflex_gain_veins * e) * (1 - c.failure_veins * d) - xv) / c.lag_veins,
          (wanted - d) / (wanted > d ? c.failure_rise : c.failure_fall),
          (woman_.untreated_tone + traits_.tone_gain[0] * in.uterotonic / (1 + in.uterotonic) - tone) / c.lag_tone,
          0,  // the bleed's decline is a step once a minute, made by the caller
          c.lactate_rate * debt * (1 - lac / c.lactate_high) - (lac - c.lactate_rest) / c.lactate_clearance,
          o.bleed,
          u};
    (void)lam, (void)loss, (void)urine, (void)xr, (void)vr;
  }

 private:
  physiology::Parameters woman_;
  const std::vector<physiology::Signals<double>>* signals_;
  physiology::Physics<double> physics_;
  physiology::Traits<double> traits_{};
  physiology::States<double> states_{};
};

}  // namespace stanch::tests

// The model, equation by equation, in the order of docs/physiology.md section 3: the fast circulation as algebra, then
// one step of the slow states. One source for every number of lanes V. No function above a square root is called.
#pragma once

#include <cstddef>

#include "stanch/physiology/constants.hpp"
#include "stanch/physiology/lanes.hpp"
#include "stanch/physiology/member.hpp"
#include "stanch/physiology/signals.hpp"

namespace stanch::physiology {

/// Constants that depend on the length of a step: E(tau) = 1 - exp(-dt/tau), and the minute's noise.
template <class T>
struct Pace {
  T dt{};  ///< min
  int steps_per_minute{};
  T pulse{}, resistance{}, veins{};  ///< E of the three drives
  T failure_rise{}, failure_fall{}, tone{};
  T pulse_noise_keep{}, pulse_noise_add{};  ///< r and sigH sqrt(1-r^2)
  T resistance_noise_keep{}, resistance_noise_add{};
  T filling_corner{};  ///< epsP^2/(4 Pms0)
  T oxygen{};          ///< ext * hufner/1000 * sat * MCHC: mL O2 per mL of red cells pumped
};

/// What the algebra of one moment gives.
template <class V>
struct Circulation {
  V volume, haematocrit, share, viscosity;  ///< V, Hct, V/V0, visc
  V moved;                                  ///< Dg, mL
  V filling;                                ///< Pms
  V pulse, output, stroke;                  ///< HR, Q, SV
  V pulse_pressure, mean;                   ///< PP_, MAP
  V fibrinogen;                             ///< g/L
  V bleed;                                  ///< B, mL/min
  V per_plasma, per_volume;                 ///< 1/Vp, 1/V
  V atrium;                                 ///< z = Pra + a
};

/// 7.1: the fast circulation of the members at `at` and after.
template <class V>
[[gnu::always_inline]] inline Circulation<V> circulation(const Constants<Scalar<V>>& c, const Pace<Scalar<V>>& pace,
                                                         const Traits<Scalar<V>>& m, const States<Scalar<V>>& s,
                                                         std::size_t at, const Signals<Scalar<V>>& in) {
  using T = Scalar<V>;
  const auto of = [at](const Row<T>& row) { return load<V>(row.data() + at); };
  Circulation<V> o;
  const V plasma = of(s.plasma);
  o.volume = plasma + of(s.red_cells);
  o.per_volume = T(1) / o.volume;
  o.per_plasma = T(1) / plasma;
  o.haematocrit = of(s.red_cells) * o.per_volume;
  o.share = o.volume * of(m.per_volume);
  o.viscosity = T(1) + c.viscosity_slope * (o.haematocrit * of(m.per_haematocrit) - T(1));

  // The garment moves blood upward, presses on three beds, and on the uterus. All is exactly zero without it.
  V leg{};
  V pelvis{};
  V abdomen{};
  V uterus{};
  o.moved = V{};
  if (in.leg_pressure + in.pelvis_pressure + in.abdomen_pressure + in.uterus_pressure > T(0)) {
    const V pressure = of(m.garment_pressure);
    leg = in.leg_pressure * pressure;
    pelvis = in.pelvis_pressure * pressure;
    abdomen = in.abdomen_pressure * pressure;
    uterus = in.uterus_pressure * pressure;
    o.moved = of(m.garment_volume) * o.volume *
              (c.garment_leg * leg / (leg + c.garment_half) + c.garment_pelvis * pelvis / (pelvis + c.garment_half) +
               c.garment_abdomen * abdomen / (abdomen + c.garment_half));
  }

  // Filling pressure of the stressed volume, its corner at zero rounded.
  const V stressed = o.volume - of(m.unstressed) + of(m.venous_reserve) * of(s.drive_veins) + o.moved;
  const V px = stressed * of(m.stiffness) - pace.filling_corner;
  o.filling = T(0.5) * (px + square_root<V>(px * px + c.filling_smooth * c.filling_smooth));

  // Where venous return meets the heart: z = Pra + a solves (M - z)/Rv = HR SVm z/(z + b).
  const V xr = of(s.drive_resistance);
  o.pulse =
      clamp<V>(of(m.pulse) + of(m.pulse_reserve) * of(s.drive_pulse) + of(s.pulse_noise), c.pulse_low, c.pulse_high);
  const V injury = clamp<V>((of(s.lactate) - c.injury_from) * (T(1) / c.injury_width), T(0), T(1));
  const V capacity = of(m.stroke_capacity) * (T(1) + c.contractility_reserve * xr) * (T(1) - c.injury_loss * injury);
  const V resistance = of(m.venous_resistance) * o.viscosity;
  const V head = o.filling + c.filling_offset;
  const V q = head - c.filling_half - o.pulse * capacity * resistance;
  o.atrium = T(0.5) * (q + square_root<V>(q * q + T(4) * c.filling_half * head));
  o.output = (head - o.atrium) / resistance * clamp<V>(T(4) * (o.share - T(0.30)), T(0), T(1));
  o.stroke = o.output / o.pulse;
  o.pulse_pressure = greater<V>(
      of(m.pulse_pressure) * (T(1) - c.pulse_pressure_slope + c.pulse_pressure_slope * o.stroke * of(m.per_stroke)),
      splat<V>(c.pulse_pressure_low));

  // Four beds in parallel, each flowing above the pressure around it.
  const V upper = of(m.upper) * (T(1) - c.upper_reach * xr);
  const V splanchnic = of(m.splanchnic) * (T(1) - c.splanchnic_reach * xr);
  const V pelvic = of(m.pelvic) * (T(1) - c.pelvic_reach * xr);
  const V legs = of(m.leg) * (T(1) - c.leg_reach * xr);
  const V behind = splat<V>(c.venous_pressure);
  const V rho =
      in.resistance * (T(1) - c.oxytocin_vessels * in.vasodilatation) * o.viscosity * (T(1) + of(s.resistance_noise));
  o.mean = (o.output * rho + c.venous_pressure * upper + splanchnic * greater<V>(behind, abdomen) +
            pelvic * greater<V>(behind, pelvis) + legs * greater<V>(behind, leg)) /
           (upper + splanchnic + pelvic + legs);

  o.fibrinogen = T(1000) * of(s.fibrinogen) * o.per_plasma;
  if (in.bleed_by == BleedBy::equation) {
    const V open = T(1) - of(s.tone);
    V b = of(m.bleed_conductance) * of(s.bleed_factor) * (of(m.tone_closes) * open * open + of(m.trauma_open)) *
          positive<V>(o.mean - greater<V>(splat<V>(c.bleed_pressure_low), uterus) - in.compression) *
          (T(1) + c.fibrinogen_effect * positive<V>(T(1) - o.fibrinogen * (T(1) / c.fibrinogen_enough))) *
          (T(1) - c.garment_bleed * uterus / (uterus + c.garment_bleed_half)) *
          ((T(1) - c.tranexamic_effect * in.tranexamic) * in.surgery);
    o.bleed = lesser<V>(b, c.bleed_cap / c.reference_pressure * positive<V>(o.mean));
  } else {
    o.bleed = in.bleed_by == BleedBy::imposed ? splat<V>(in.imposed_bleed) : of(m.prior_bleed);
  }
  o.bleed = o.bleed * clamp<V>(T(10) * (o.share - T(0.25)), T(0), T(1));
  return o;
}

/// 7.2: one step of the slow states. `o` is the algebra of the same step.
template <class V>
[[gnu::always_inline]] inline void step(const Constants<Scalar<V>>& c, const Pace<Scalar<V>>& pace,
                                        const Traits<Scalar<V>>& m, States<Scalar<V>>& s, std::size_t at,
                                        const Signals<Scalar<V>>& in) {
  using T = Scalar<V>;
  const auto of = [at](const Row<T>& row) { return load<V>(row.data() + at); };
  const auto put = [at](Row<T>& row, V value) { store<V>(row.data() + at, value); };
  const Circulation<V> o = circulation<V>(c, pace, m, s, at, in);

  // Baroreflex and its failure.
  const V miss = (c.reflex_mean * (T(1) - o.mean * of(m.per_mean_pressure)) +
                  c.reflex_pulse * (T(1) - o.pulse_pressure * of(m.per_pulse_pressure))) *
                 of(m.gain) * in.reflex;
  const V d = of(s.failure);
  const auto follow = [&](Row<T>& row, V target, T rate) { put(row, of(row) + (target - of(row)) * rate); };
  follow(s.drive_pulse, saturate<V>(of(m.gain_pulse) * miss) * (T(1) - c.failure_pulse * d), pace.pulse);
  follow(s.drive_resistance, saturate<V>(c.reflex_gain_resistance * miss) * (T(1) - c.failure_resistance * d),
         pace.resistance);
  follow(s.drive_veins, saturate<V>(c.reflex_gain_veins * miss) * (T(1) - c.failure_veins * d), pace.veins);
  const V wanted = clamp<V>((of(m.failure_point) - o.output * of(m.per_output)) * (T(1) / c.failure_width), T(0), T(1));
  const V change = wanted - d;
  // Rising and falling at their own rates: one of the two terms is zero.
  put(s.failure, d + positive<V>(change) * pace.failure_rise + lesser<V>(change, V{}) * pace.failure_fall);

  // Oxygen debt and lactate.
  const V debt = positive<V>(c.oxygen_need - pace.oxygen * o.output * o.haematocrit);
  const V lactate = of(s.lactate);
  put(s.lactate, lactate + pace.dt * (c.lactate_rate * debt * (T(1) - lactate * (T(1) / c.lactate_high)) -
                                      (lactate - c.lactate_rest) * (T(1) / c.lactate_clearance)));

  // Water, red cells, protein and clotting mass.
  const V plasma = of(s.plasma);
  const V protein = of(s.protein);
  const V interstitium = of(s.interstitium);
  const V free = plasma - protein;
  const V outward = of(m.fluid_out) * free - c.fluid_back * interstitium -
                    of(m.refill) * clamp<V>(T(1) - o.filling * (T(1) / c.filling_pressure_rest), T(-1), T(1));
  const V urine = c.fluid_urine * positive<V>(free) *
                  clamp<V>(T(1) - c.urine_fall * (T(1) - o.share), T(0.05), T(1.2)) *
                  clamp<V>((o.mean - c.urine_pressure_from) * (T(1) / c.urine_pressure_width), T(0), T(1));
  const V lost = pace.dt * o.bleed;
  const V gone = lost * (T(1) - o.haematocrit) * o.per_plasma;  // share of the plasma that leaves
  put(s.plasma, plasma * (T(1) - gone) + pace.dt * (in.plasma_in - outward - urine));
  put(s.interstitium, interstitium + pace.dt * outward);
  put(s.red_cells, of(s.red_cells) + (pace.dt * in.red_cells_in - lost * o.haematocrit));
  put(s.protein, protein * (T(1) - gone) +
                     pace.dt * (in.protein_in + c.protein_refill * positive<V>(of(m.protein_rest) - protein)));
  put(s.fibrinogen, of(s.fibrinogen) * (T(1) - gone * (T(1) + c.clotting_use)) + splat<V>(pace.dt * in.fibrinogen_in));
  put(s.platelets, of(s.platelets) * (T(1) - lost * o.per_volume) + splat<V>(pace.dt * in.platelets_in));
  put(s.loss, of(s.loss) + lost);
  put(s.urine, of(s.urine) + pace.dt * urine);
  follow(s.tone, of(m.untreated_tone) + of(m.tone_gain) * (in.uterotonic / (T(1) + in.uterotonic)), pace.tone);
}

}  // namespace stanch::physiology

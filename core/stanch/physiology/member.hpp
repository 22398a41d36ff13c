// What one woman of the model is made of: her fixed parameters, and blocks of 64 women side by side (one row a
// quantity) on which the step runs. Symbols are those of docs/physiology.md.
#pragma once

#include <array>
#include <cstddef>

#include "stanch/physiology/constants.hpp"

namespace stanch::physiology {

/// Parameters of one woman. The values here are the reference woman: every median, garment as in the laboratory.
struct Parameters {
  double blood_volume = 6000;       ///< V0, mL: just after birth, before the bleed
  double output = 6500;             ///< Q0, mL/min: at rest; follows from weight, not inferred
  double pulse = 85;                ///< HR0, 1/min
  double mean_pressure = 86;        ///< MAP0, mmHg
  double pulse_pressure = 45;       ///< PP0, mmHg
  double haemoglobin = 110;         ///< Hb0, g/L
  double fibrinogen = 4.6;          ///< Fib0, g/L
  double platelets = 220;           ///< Plt0, 10^9/L
  double stressed_share = 0.25;     ///< fs
  double reflex_gain = 1;           ///< gain
  double pulse_gain = 1;            ///< hgain
  double failure_point = 0.52;      ///< dthr
  double garment_volume = 1;        ///< ftr
  double garment_pressure = 1;      ///< fgp
  double uterus_response = 0.92;    ///< S
  double untreated_tone = 0.35;     ///< Tb
  double bleed_rate = 120;          ///< Gb, mL/min with no tone at the reference pressure
  double bleed_decline = 1.0 / 40;  ///< knat, 1/min
  double fluid_spread = 1;          ///< kfl
  double refill_spread = 1;         ///< khm
  double trauma_share = 0.10;       ///< ftrauma
  double measured_bias = 0.90;      ///< bd
  double visual_bias = 0.70;        ///< bv
  double loss_before = 110;         ///< L0, mL: before the record starts
};

inline constexpr std::size_t block_size = 64;  ///< members that run together; their states stay in the nearest cache

template <class T>
using Row = std::array<T, block_size>;

/// What the step reads of each member, worked out once from its Parameters.
template <class T>
struct alignas(64) Traits {
  Row<T> per_volume;         ///< 1/V0
  Row<T> unstressed;         ///< Vu0 = (1-fs) V0
  Row<T> venous_reserve;     ///< fv V0
  Row<T> stiffness;          ///< iC = Pms0/(fs V0)
  Row<T> venous_resistance;  ///< Rv0 = (Pms0-Pra0)/Q0
  Row<T> stroke_capacity;    ///< SVm0
  Row<T> per_stroke;         ///< 1/SV0
  Row<T> pulse;              ///< HR0
  Row<T> pulse_reserve;      ///< HR0 kHR
  Row<T> pulse_pressure;     ///< PP0
  Row<T> per_pulse_pressure;
  Row<T> per_mean_pressure;
  Row<T> per_output;                      ///< 1/Q0
  Row<T> per_haematocrit;                 ///< 1/Hct0
  Row<T> upper, splanchnic, pelvic, leg;  ///< conductances gU gA gP gL at rest
  Row<T> garment_volume;                  ///< ftr
  Row<T> garment_pressure;                ///< fgp
  Row<T> tone_closes;                     ///< 1 - ftrauma
  Row<T> trauma_open;                     ///< ftrauma (1-Tb)^2
  Row<T> bleed_conductance;               ///< Gbm = Gb/76
  Row<T> prior_bleed;                     ///< L0/5: bleed of the run-in
  Row<T> gain;
  Row<T> gain_pulse;      ///< gH hgain
  Row<T> failure_point;   ///< dthr
  Row<T> fluid_out;       ///< k12 kfl
  Row<T> refill;          ///< kh rH
  Row<T> protein_rest;    ///< A0
  Row<T> untreated_tone;  ///< Tb
  Row<T> tone_gain;       ///< pos(Tmax - Tb) S
  Row<T> bleed_decline;   ///< knat
};

/// The states of section 6.
template <class T>
struct alignas(64) States {
  Row<T> plasma, red_cells;                           ///< Vp Vr, mL
  Row<T> protein;                                     ///< A, as mL of normal plasma
  Row<T> fibrinogen, platelets;                       ///< F g, Pl 10^9
  Row<T> interstitium;                                ///< vi, mL
  Row<T> drive_pulse, drive_resistance, drive_veins;  ///< xh xr xv
  Row<T> failure;                                     ///< d
  Row<T> tone;                                        ///< T
  Row<T> log_bleed, bleed_factor;                     ///< lam and exp(lam)
  Row<T> pulse_noise, resistance_noise;               ///< nh nr
  Row<T> lactate;                                     ///< Lac
  Row<T> loss, urine;                                 ///< L Ur, mL
};

/// What can be read off a member at one moment.
template <class T>
struct alignas(64) Outputs {
  Row<T> pulse, systolic, diastolic, mean_pressure, shock_index;
  Row<T> output, stroke_volume, filling_pressure;  ///< mL/min, mL, mmHg
  Row<T> volume, deficit_percent, loss, bleed;     ///< mL, %, mL, mL/min
  Row<T> haemoglobin, fibrinogen, platelets, lactate;
  Row<T> tone, failure, garment_volume, urine;
};

/// Puts one woman's parameters into a place of the block.
template <class T>
void set_traits(Traits<T>& traits, std::size_t place, const Parameters& woman, const Constants<double>& c) {
  const auto put = [place](Row<T>& row, double value) { row[place] = static_cast<T>(value); };
  const double haematocrit = woman.haemoglobin / c.haemoglobin_in_cells;
  put(traits.per_volume, 1 / woman.blood_volume);
  put(traits.unstressed, (1 - woman.stressed_share) * woman.blood_volume);
  put(traits.venous_reserve, c.venous_reserve * woman.blood_volume);
  put(traits.stiffness, c.filling_pressure_rest / (woman.stressed_share * woman.blood_volume));
  put(traits.venous_resistance, (c.filling_pressure_rest - c.atrial_pressure_rest) / woman.output);
  const double atrial = c.atrial_pressure_rest + c.filling_offset;
  put(traits.stroke_capacity, woman.output * (atrial + c.filling_half) / atrial / woman.pulse);
  put(traits.per_stroke, woman.pulse / woman.output);
  put(traits.pulse, woman.pulse);
  put(traits.pulse_reserve, woman.pulse * c.pulse_reserve);
  put(traits.pulse_pressure, woman.pulse_pressure);
  put(traits.per_pulse_pressure, 1 / woman.pulse_pressure);
  put(traits.per_mean_pressure, 1 / woman.mean_pressure);
  put(traits.per_output, 1 / woman.output);
  put(traits.per_haematocrit, 1 / haematocrit);
  const double conductance = woman.output / (woman.mean_pressure - c.venous_pressure);
  put(traits.upper, c.upper_share * conductance);
  put(traits.splanchnic, c.splanchnic_share * conductance);
  put(traits.pelvic, c.pelvic_share * conductance);
  put(traits.leg, c.leg_share * conductance);
  put(traits.garment_volume, woman.garment_volume);
  put(traits.garment_pressure, woman.garment_pressure);
  put(traits.tone_closes, 1 - woman.trauma_share);
  put(traits.trauma_open, woman.trauma_share * (1 - woman.untreated_tone) * (1 - woman.untreated_tone));
  put(traits.bleed_conductance, woman.bleed_rate / (c.reference_pressure - c.bleed_pressure_low));
  put(traits.prior_bleed, woman.loss_before / 5);
  put(traits.gain, woman.reflex_gain);
  put(traits.gain_pulse, c.reflex_gain_pulse * woman.pulse_gain);
  put(traits.failure_point, woman.failure_point);
  put(traits.fluid_out, c.fluid_out * woman.fluid_spread);
  put(traits.refill, c.refill * woman.refill_spread * woman.blood_volume / 6000);
  put(traits.protein_rest, woman.blood_volume * (1 - haematocrit));
  put(traits.untreated_tone, woman.untreated_tone);
  const double rise = c.tone_high - woman.untreated_tone;
  put(traits.tone_gain, (rise > 0 ? rise : 0) * woman.uterus_response);
  put(traits.bleed_decline, woman.bleed_decline);
}

/// Puts one woman at rest, before any bleed, into a place of the block.
template <class T>
void set_at_rest(States<T>& states, std::size_t place, const Parameters& woman, const Constants<double>& c) {
  const auto put = [place](Row<T>& row, double value) { row[place] = static_cast<T>(value); };
  const double haematocrit = woman.haemoglobin / c.haemoglobin_in_cells;
  const double plasma = woman.blood_volume * (1 - haematocrit);
  for (auto* row :
       {&states.interstitium, &states.drive_pulse, &states.drive_resistance, &states.drive_veins, &states.failure,
        &states.log_bleed, &states.pulse_noise, &states.resistance_noise, &states.loss, &states.urine})
    put(*row, 0);
  put(states.plasma, plasma);
  put(states.red_cells, woman.blood_volume * haematocrit);
  put(states.protein, plasma);
  put(states.fibrinogen, plasma * woman.fibrinogen / 1000);
  put(states.platelets, woman.blood_volume * woman.platelets / 1000);
  put(states.tone, woman.untreated_tone);
  put(states.bleed_factor, 1);
  put(states.lactate, c.lactate_rest);
}

}  // namespace stanch::physiology

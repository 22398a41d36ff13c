// The fixed constants of the model: rows [[body_constant]] of the protocol, each with its unit, source and status. The
// symbol after each name is that of docs/physiology.md.
#pragma once

#include <array>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"

namespace stanch::physiology {

template <class T>
struct Constants {
  T filling_pressure_rest{};     ///< Pms0, mmHg: mean systemic filling pressure at rest
  T atrial_pressure_rest{};      ///< Pra0, mmHg: right atrial pressure at rest
  T filling_offset{};            ///< a, mmHg: offset of the heart filling curve
  T filling_half{};              ///< b, mmHg: half-filling of the heart filling curve
  T filling_smooth{};            ///< epsP, mmHg: rounds the corner where stressed volume ends
  T venous_reserve{};            ///< fv, 1: share of blood volume that venous tone can mobilise
  T contractility_reserve{};     ///< kc, 1: rise of stroke volume at full drive
  T pulse_reserve{};             ///< kHR, 1: rise of the pulse at full drive, share of resting
  T pulse_low{};                 ///< HRmin, 1/min: lowest pulse
  T pulse_high{};                ///< HRmax, 1/min: highest pulse
  T viscosity_slope{};           ///< kv, 1: change of viscosity with haematocrit
  T form_factor{};               ///< ff, 1: share of pulse pressure below the mean
  T pulse_pressure_slope{};      ///< aPP, 1: pulse pressure against stroke volume
  T pulse_pressure_low{};        ///< PPmin, mmHg: smallest pulse pressure
  T upper_share{};               ///< share U, 1: share of resting output through the bed
  T splanchnic_share{};          ///< share A, 1: share of resting output through the bed
  T pelvic_share{};              ///< share P, 1: share of resting output through the bed
  T leg_share{};                 ///< share L, 1: share of resting output through the bed
  T upper_reach{};               ///< cU, 1: fall of conductance of the bed at full drive
  T splanchnic_reach{};          ///< cA, 1: fall of conductance of the bed at full drive
  T pelvic_reach{};              ///< cP, 1: fall of conductance of the bed at full drive
  T leg_reach{};                 ///< cL, 1: fall of conductance of the bed at full drive
  T venous_pressure{};           ///< Pv, mmHg: pressure behind an uncompressed bed
  T reflex_mean{};               ///< wM, 1: weight of mean pressure in the reflex
  T reflex_pulse{};              ///< wP, 1: weight of pulse pressure in the reflex
  T reflex_gain_pulse{};         ///< gH, 1: reflex gain to the pulse
  T reflex_gain_resistance{};    ///< gR, 1: reflex gain to resistance
  T reflex_gain_veins{};         ///< gV, 1: reflex gain to venous tone
  T lag_pulse{};                 ///< tauH, min: lag of the pulse
  T lag_resistance{};            ///< tauR, min: lag of resistance
  T lag_veins{};                 ///< tauV, min: lag of venous tone
  T failure_width{};             ///< dwid, 1: fall of output over which compensation fails wholly, share of resting
  T failure_rise{};              ///< tau d up, min: lag of failure
  T failure_fall{};              ///< tau d down, min: lag of recovery
  T failure_resistance{};        ///< dR, 1: drive to resistance lost in failure
  T failure_pulse{};             ///< dH, 1: drive to the pulse lost in failure
  T failure_veins{};             ///< dV, 1: drive to the veins lost in failure
  T oxygen_need{};               ///< VO2, mL/min: oxygen need
  T oxygen_extraction{};         ///< ext, 1: largest extraction
  T oxygen_saturation{};         ///< sat, 1: arterial saturation
  T oxygen_per_gram{};           ///< hufner, mL/g: oxygen carried by haemoglobin
  T lactate_rest{};              ///< lac0, mmol/L: lactate at rest
  T lactate_rate{};              ///< kLac, mmol/L per mL: lactate made per oxygen not delivered
  T lactate_high{};              ///< lacMax, mmol/L: ceiling of lactate
  T lactate_clearance{};         ///< tauLac, min: lag of clearance
  T injury_from{};               ///< inj0, mmol/L: lactate from which the heart weakens
  T injury_width{};              ///< injw, mmol/L: rise of lactate over which it weakens wholly
  T injury_loss{};               ///< cInj, 1: contractility lost at full injury
  T fluid_out{};                 ///< k12, 1/min: protein-free plasma to interstitium
  T fluid_back{};                ///< k21, 1/min: interstitium to plasma
  T fluid_urine{};               ///< k10, 1/min: protein-free plasma to urine
  T refill{};                    ///< kh, mL/min: capillary refill at full fall of filling pressure
  T protein_refill{};            ///< kA, 1/min: return of protein
  T urine_fall{};                ///< urD, 1: fall of urine with the deficit
  T urine_pressure_from{};       ///< MAPu, mmHg: mean pressure below which no urine is made
  T urine_pressure_width{};      ///< MAPw, mmHg: rise of mean pressure to full urine
  T bleed_pressure_low{};        ///< Pcrit, mmHg: pressure below which a site stops bleeding
  T fibrinogen_effect{};         ///< cFib, 1: more bleeding without fibrinogen
  T fibrinogen_enough{};         ///< Fib1, g/L: fibrinogen above which it adds nothing
  T tranexamic_effect{};         ///< txa, 1: less bleeding at full tranexamic effect
  T bleed_cap{};                 ///< Bmax, mL/min: largest bleed at reference pressure
  T reference_pressure{};        ///< MAPref, mmHg: mean pressure to which bleed rates refer
  T lag_tone{};                  ///< tauT, min: lag of uterine tone
  T tone_high{};                 ///< Tmax, 1: highest tone
  T clotting_use{};              ///< kcons, 1: clotting mass used up, share of that lost
  T garment_leg{};               ///< DL, 1: blood moved from the legs, share of volume
  T garment_pelvis{};            ///< DP, 1: blood moved from the pelvis
  T garment_abdomen{};           ///< DA, 1: blood moved from the abdomen
  T garment_half{};              ///< P50, mmHg: pressure of half effect
  T garment_bleed{};             ///< kG, 1: largest fall of bleeding by pressure on the uterus
  T garment_bleed_half{};        ///< PG50, mmHg: pressure of half that fall
  T oxytocin_vessels{};          ///< oxH, 1: fall of resistance at full oxytocin effect
  T noise_pulse{};               ///< sigH, 1/min: slow noise on the pulse
  T noise_pulse_lag{};           ///< tauNH, min: its time
  T noise_resistance{};          ///< sigR, 1: slow noise on resistance
  T noise_resistance_lag{};      ///< tauNR, min: its time
  T noise_bleed{};               ///< sigB, 1/sqrt(min): random walk of the log bleed rate
  T haemoglobin_in_cells{};      ///< MCHC, g/L: haemoglobin in red cells
  T garment_leg_pressure{};      ///< PLmax, mmHg: pressure at the leg bed, tight
  T garment_pelvis_pressure{};   ///< PPmax, mmHg: pressure at the pelvic bed, tight
  T garment_abdomen_pressure{};  ///< PAmax, mmHg: pressure at the splanchnic bed, tight
  T garment_uterus_pressure{};   ///< PUmax, mmHg: pressure on the uterus, tight
  T garment_lag{};               ///< tauG, min: time in which the garment takes hold
  T garment_ball_share{};        ///< ball, 1: share of the ball in the pressure on the abdomen
  T garment_loose{};             ///< loose, 1: tightness of a loose segment
  T vessel_half{};               ///< h50, IU: oxytocin of half effect on vessels
  T vessel_lag{};                ///< tauh, min: time of that effect
  T tranexamic_full{};           ///< x1, g: tranexamic acid of full effect
  T tranexamic_in{};             ///< taux0, min: time in which it takes hold
  T tranexamic_out{};            ///< taux1, min: time in which it leaves
  T compression{};               ///< Pman bimanual, mmHg: pressure by two hands
  T balloon{};                   ///< Pman balloon, mmHg: pressure by a balloon
  T repaired{};                  ///< mB, 1: bleeding left after repair, suture or ligation
  T removed{};                   ///< mB hysterectomy, 1: bleeding left after hysterectomy
  T spinal_resistance{};         ///< Rx spinal, 1: resistance under spinal or general anaesthesia
  T spinal_reflex{};             ///< gx spinal, 1: reflex gain under it
  T critical_systolic{};         ///< SBPcrit, mmHg: systolic pressure below which the forecast counts her as critical
};

/// A constant's row id and where it is kept.
template <class T>
struct ConstantField {
  std::string_view id;
  T Constants<T>::* at;
};

/// Every constant, in the order of the struct.
template <class T>
[[nodiscard]] constexpr auto constant_fields() {
  using C = Constants<T>;
  using Field = ConstantField<T>;
  return std::array{
      Field{"filling_pressure_rest", &C::filling_pressure_rest},
      Field{"atrial_pressure_rest", &C::atrial_pressure_rest},
      Field{"filling_offset", &C::filling_offset},
      Field{"filling_half", &C::filling_half},
      Field{"filling_smooth", &C::filling_smooth},
      Field{"venous_reserve", &C::venous_reserve},
      Field{"contractility_reserve", &C::contractility_reserve},
      Field{"pulse_reserve", &C::pulse_reserve},
      Field{"pulse_low", &C::pulse_low},
      Field{"pulse_high", &C::pulse_high},
      Field{"viscosity_slope", &C::viscosity_slope},
      Field{"form_factor", &C::form_factor},
      Field{"pulse_pressure_slope", &C::pulse_pressure_slope},
      Field{"pulse_pressure_low", &C::pulse_pressure_low},
      Field{"upper_share", &C::upper_share},
      Field{"splanchnic_share", &C::splanchnic_share},
      Field{"pelvic_share", &C::pelvic_share},
      Field{"leg_share", &C::leg_share},
      Field{"upper_reach", &C::upper_reach},
      Field{"splanchnic_reach", &C::splanchnic_reach},
      Field{"pelvic_reach", &C::pelvic_reach},
      Field{"leg_reach", &C::leg_reach},
      Field{"venous_pressure", &C::venous_pressure},
      Field{"reflex_mean", &C::reflex_mean},
      Field{"reflex_pulse", &C::reflex_pulse},
      Field{"reflex_gain_pulse", &C::reflex_gain_pulse},
      Field{"reflex_gain_resistance", &C::reflex_gain_resistance},
      Field{"reflex_gain_veins", &C::reflex_gain_veins},
      Field{"lag_pulse", &C::lag_pulse},
      Field{"lag_resistance", &C::lag_resistance},
      Field{"lag_veins", &C::lag_veins},
      Field{"failure_width", &C::failure_width},
      Field{"failure_rise", &C::failure_rise},
      Field{"failure_fall", &C::failure_fall},
      Field{"failure_resistance", &C::failure_resistance},
      Field{"failure_pulse", &C::failure_pulse},
      Field{"failure_veins", &C::failure_veins},
      Field{"oxygen_need", &C::oxygen_need},
      Field{"oxygen_extraction", &C::oxygen_extraction},
      Field{"oxygen_saturation", &C::oxygen_saturation},
      Field{"oxygen_per_gram", &C::oxygen_per_gram},
      Field{"lactate_rest", &C::lactate_rest},
      Field{"lactate_rate", &C::lactate_rate},
      Field{"lactate_high", &C::lactate_high},
      Field{"lactate_clearance", &C::lactate_clearance},
      Field{"injury_from", &C::injury_from},
      Field{"injury_width", &C::injury_width},
      Field{"injury_loss", &C::injury_loss},
      Field{"fluid_out", &C::fluid_out},
      Field{"fluid_back", &C::fluid_back},
      Field{"fluid_urine", &C::fluid_urine},
      Field{"refill", &C::refill},
      Field{"protein_refill", &C::protein_refill},
      Field{"urine_fall", &C::urine_fall},
      Field{"urine_pressure_from", &C::urine_pressure_from},
      Field{"urine_pressure_width", &C::urine_pressure_width},
      Field{"bleed_pressure_low", &C::bleed_pressure_low},
      Field{"fibrinogen_effect", &C::fibrinogen_effect},
      Field{"fibrinogen_enough", &C::fibrinogen_enough},
      Field{"tranexamic_effect", &C::tranexamic_effect},
      Field{"bleed_cap", &C::bleed_cap},
      Field{"reference_pressure", &C::reference_pressure},
      Field{"lag_tone", &C::lag_tone},
      Field{"tone_high", &C::tone_high},
      Field{"clotting_use", &C::clotting_use},
      Field{"garment_leg", &C::garment_leg},
      Field{"garment_pelvis", &C::garment_pelvis},
      Field{"garment_abdomen", &C::garment_abdomen},
      Field{"garment_half", &C::garment_half},
      Field{"garment_bleed", &C::garment_bleed},
      Field{"garment_bleed_half", &C::garment_bleed_half},
      Field{"oxytocin_vessels", &C::oxytocin_vessels},
      Field{"noise_pulse", &C::noise_pulse},
      Field{"noise_pulse_lag", &C::noise_pulse_lag},
      Field{"noise_resistance", &C::noise_resistance},
      Field{"noise_resistance_lag", &C::noise_resistance_lag},
      Field{"noise_bleed", &C::noise_bleed},
      Field{"haemoglobin_in_cells", &C::haemoglobin_in_cells},
      Field{"garment_leg_pressure", &C::garment_leg_pressure},
      Field{"garment_pelvis_pressure", &C::garment_pelvis_pressure},
      Field{"garment_abdomen_pressure", &C::garment_abdomen_pressure},
      Field{"garment_uterus_pressure", &C::garment_uterus_pressure},
      Field{"garment_lag", &C::garment_lag},
      Field{"garment_ball_share", &C::garment_ball_share},
      Field{"garment_loose", &C::garment_loose},
      Field{"vessel_half", &C::vessel_half},
      Field{"vessel_lag", &C::vessel_lag},
      Field{"tranexamic_full", &C::tranexamic_full},
      Field{"tranexamic_in", &C::tranexamic_in},
      Field{"tranexamic_out", &C::tranexamic_out},
      Field{"compression", &C::compression},
      Field{"balloon", &C::balloon},
      Field{"repaired", &C::repaired},
      Field{"removed", &C::removed},
      Field{"spinal_resistance", &C::spinal_resistance},
      Field{"spinal_reflex", &C::spinal_reflex},
      Field{"critical_systolic", &C::critical_systolic},
  };
}

/// Reads the rows of the protocol's table body_constant.
/// @return problems: protocol.malformed naming the constant that is missing or no number.
[[nodiscard]] Result<Constants<double>> read_constants(const Json& rows);

/// The same constants rounded to float, for members that run many at a time.
[[nodiscard]] Constants<float> as_float(const Constants<double>& constants);

}  // namespace stanch::physiology

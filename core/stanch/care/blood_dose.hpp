// How much of a blood product, and what dilution does to what is in the blood: plain arithmetic, each formula by
// itself. Whether a product is due is judged in transfusion.hpp and blood_targets.hpp.
#pragma once

#include <optional>

#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// An amount in whole units as issued, and the amount before it was rounded up.
struct UnitDose {
  int units = 0;
  double raw_units = 0;
};

/// Red-cell units for a rise of haemoglobin: rise wanted over the rise of one unit, scaled by weight, rounded up.
/// Not valid while bleeding.
/// @return `ask.input_impossible` for haemoglobin or weight at or below 0, or a target not above the present value.
/// Source: rise of one unit in a 70 kg adult from a teaching page; scaling is arithmetic.  [BP-1] [BP-2]
[[nodiscard]] Result<UnitDose> red_cells_needed(double hb_gl, double target_gl, double weight_kg,
                                                const protocol::Protocol& protocol);

struct PlasmaDose {
  double ml = 0;
  UnitDose whole;
};

/// Plasma by weight, rounded up to whole units.
/// @param ml_per_kg  the dose; the protocol's when not given
/// @return `ask.input_impossible` for a weight, dose or unit at or below 0.
/// Source: RCOG Green-top 52, 2016 (from memory).  [BP-3]
[[nodiscard]] Result<PlasmaDose> plasma_dose(double weight_kg, std::optional<double> ml_per_kg,
                                             std::optional<double> unit_ml, const protocol::Protocol& protocol);

/// Grams of fibrinogen concentrate from a measured level to a target: mg/kg = gap in mg/dL over the label's divisor.
/// @return `ask.input_impossible` for a negative level, a target not above it, or a weight at or below 0.
/// Source: product-label formula (from memory).  [BP-6]
[[nodiscard]] Result<double> fibrinogen_dose_g(double measured_gl, double target_gl, double weight_kg,
                                               const protocol::Protocol& protocol);

/// Fibrinogen in the usual dose of cryoprecipitate, in grams: pools times units times milligrams.  [BP-5]
[[nodiscard]] double cryo_fibrinogen_g(const protocol::Protocol& protocol);

/// What is left of a concentration after a volume was lost and replaced without it: c0 exp(-V / blood volume).
/// @return in the unit of c0; `ask.input_impossible` for a negative volume or concentration, or a blood volume at or
///         below 0.
/// Source: exponential washout at constant volume, derived.
[[nodiscard]] Result<double> diluted(double start, double volume_ml, double blood_volume_ml);

/// The volume lost and replaced at which a concentration is reached: blood volume times ln(c0 / c), in mL.
/// @return `ask.input_impossible` unless start > reached > 0 and blood volume > 0 (equal gives 0).
[[nodiscard]] Result<double> volume_to_reach_ml(double start, double reached, double blood_volume_ml);

}  // namespace stanch::care

// Mixing the chlorine solution that a used garment is soaked in. Arithmetic only: which strength, how long and in what
// order is the local protocol's. Warnings that belong beside every answer are the protocol's too: never with acid or
// ammonia, gloves and apron, fresh air, used the same day.
//
// Source of all formulas: CDC, preparation of chlorine solutions in resource-limited settings.
#pragma once

#include <cstdint>
#include <optional>

#include "stanch/base/result.hpp"

namespace stanch::stock {

/// A stock weaker than the target cannot be mixed to it: a finding, not a refused input.
enum class DilutionStatus : std::uint8_t { possible, stock_too_weak };

/// Liquid stock to target strength. The figures are there exactly when it is possible.
struct Dilution {
  DilutionStatus status = DilutionStatus::stock_too_weak;
  std::optional<double> parts_water;  ///< to one part of stock: stock / target - 1
  std::optional<double> stock_ml;     ///< for the whole batch
  std::optional<double> water_ml;
};

/// How to mix `batch_ml` of solution from liquid bleach. Equal strengths need no water.
/// @param stock_percent, target_percent  active chlorine, above 0 up to 100
/// @return `ask.input_impossible` outside these, or for a batch that is not above 0 mL.  [CL-10]
[[nodiscard]] Result<Dilution> dilute_liquid(double stock_percent, double target_percent, double batch_ml);

/// Bleaching powder or tablets to target strength.
struct PowderSolution {
  DilutionStatus status = DilutionStatus::stock_too_weak;
  std::optional<double> powder_g_per_l;  ///< per litre of water: target / active x 1000
  std::optional<double> powder_g;        ///< for the whole batch
};

/// How to dissolve powder with `active_percent` active chlorine in `batch_ml` of water.
/// @return `ask.input_impossible` as for dilute_liquid.  [CL-10]
[[nodiscard]] Result<PowderSolution> dissolve_powder(double active_percent, double target_percent, double batch_ml);

/// Percent active chlorine from degrees chlorum.  [CL-10]
/// @param percent_per_degree  from the local protocol
/// @return `ask.input_impossible` unless the answer is above 0 up to 100 %.
[[nodiscard]] Result<double> percent_from_chlorum(double degrees, double percent_per_degree);

/// Parts per million from percent: 10000 a percent.
[[nodiscard]] double ppm_from_percent(double percent);

/// The strength to reckon with: as tested when a test is known, else as on the label (common practice, no source).
[[nodiscard]] double strength_to_use(double label_percent, std::optional<double> tested_percent);

}  // namespace stanch::stock

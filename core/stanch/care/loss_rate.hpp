// How fast is she bleeding, judged from a drape or jar whose marks are coarse: the rate as an interval, whether it is
// certainly below or above a limit, and how long to wait until that can be told. What counts as blood, and in which
// container, is decided elsewhere; liquor, urine and irrigation are taken out before.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "stanch/base/result.hpp"

namespace stanch::care {

/// A cumulative volume, at minutes from any one origin.
struct VolumeReading {
  double at_min = 0.0;
  double volume_ml = 0.0;
};

/// Every rate that the readings allow, mL/h.
struct RateInterval {
  double low_ml_per_h = 0.0;
  double high_ml_per_h = 0.0;
};

/// [(dv - r) / dt, (dv + r) / dt], where r is the container's resolution; the lower end is not below 0.
/// @param resolution_ml  distance between two marks that can be told apart, 0 or above
/// @return `ask.input_impossible` when time does not go forward, or the volume falls: that is an error to resolve (a
///         container emptied without saying so, a mistyped figure), not a negative rate.
/// Source: interval arithmetic, derived.  [RATE-1]
[[nodiscard]] Result<RateInterval> rate_between(const VolumeReading& earlier, const VolumeReading& later,
                                                double resolution_ml);

enum class RateJudgement : std::uint8_t { certainly_below, certainly_above, cannot_tell };

/// certainly_below: every rate allowed is below the limit (the limit itself is not below). certainly_above: every one
/// is at the limit or above. Otherwise it cannot be told yet.  [RATE-2]
[[nodiscard]] RateJudgement judge_rate(const RateInterval& rate, double limit_ml_per_h);

/// Hours of watching until a true rate is certainly below the limit: r / (limit - rate). Never, when the rate is not
/// below the limit.
/// @return `ask.input_impossible` for a negative resolution, rate or limit.  [RATE-3]
[[nodiscard]] Result<std::optional<double>> hours_until_certain(double resolution_ml, double rate_ml_per_h,
                                                                double limit_ml_per_h);

/// The same when a small chance of error is accepted and reading errors are taken as uniform over one mark:
/// z r sqrt(2/12) / (limit - rate), z the one-sided normal quantile of `confidence`. For use with at least the number
/// of readings that fitted_rate needs.
[[nodiscard]] Result<std::optional<double>> hours_until_confident(double resolution_ml, double rate_ml_per_h,
                                                                  double limit_ml_per_h, double confidence);

/// A straight line through all readings.
struct FittedRate {
  double rate_ml_per_h = 0.0;
  double sd_ml_per_h = 0.0;  ///< from the resolution alone: r / sqrt(12) times slope_sd_per_unit_noise
  RateInterval interval;     ///< each end holds with the one-sided confidence asked for
};

/// Least-squares rate with the uncertainty that the marks leave.
/// @param readings  ordered by time, volumes never falling
/// @param confidence  one-sided, from 0.5 up to below 1
/// @param readings_min  fewer give no answer (too few to lean on statistics), see rate_between
/// @return nothing when there are too few readings; `ask.input_impossible` as for rate_between, or a wrong confidence.
/// Source: ordinary least squares; variance of a uniform error r^2/12.  [RATE-4]
[[nodiscard]] Result<std::optional<FittedRate>> fitted_rate(std::span<const VolumeReading> readings,
                                                            double resolution_ml, double confidence,
                                                            std::size_t readings_min);

/// SD of the least-squares slope, per hour, when each reading has SD 1: 1 / sqrt(sum of (t - mean t)^2), t in hours.
/// Infinite when all are at one time.
[[nodiscard]] double slope_sd_per_unit_noise(std::span<const VolumeReading> readings);

/// Blood in a weighed pad or cloth, mL.
/// @param gain_g  wet less dry mass, 0 or above
/// @param density_g_per_ml  of blood, as the local protocol has it (1.06 measured; 1.00 is common and over-reads by 6
/// %)
/// @return `ask.input_impossible` for a negative gain or a density that is not above 0.  [BL-10] [BL-11]
[[nodiscard]] Result<double> blood_from_mass(double gain_g, double density_g_per_ml);

}  // namespace stanch::care

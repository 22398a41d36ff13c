// Is a sign rising, falling, or can that not be told yet? Two answers side by side: a slope from all pairs of readings
// with an interval, which one bad cuff reading cannot turn, and a level-and-slope filter for display, which follows
// readings at uneven times. Which sign, and what to do about it, is decided elsewhere.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "stanch/base/result.hpp"

namespace stanch::care {

/// One reading of whatever is followed (shock index, mmHg, /min), at minutes from any one origin.
struct TimedValue {
  double at_min = 0.0;
  double value = 0.0;
};

/// Slope in the value's unit per minute, its interval, and Kendall's tau-b of value against time (1 always rising,
/// -1 always falling; none when all values are equal).
struct PairwiseSlope {
  double slope_per_min = 0.0;
  double low_per_min = 0.0;
  double high_per_min = 0.0;
  std::optional<double> tau;
};

/// Median of the slopes of all pairs at distinct times; interval from the variance of Kendall's S with the ties'
/// correction, as order statistics of the pair slopes. Texts round the two ranks differently: at most one rank apart.
///
/// @param points  in any order, n >= 2 at two or more distinct times
/// @param confidence  two-sided, strictly between 0 and 1
/// @return `ask.input_impossible` for too few points, a value that is not finite, or a confidence out of range.
/// Cost: n^2 log n.
/// Source: Theil, Proc. Koninklijke Nederlandse Akademie 53 (1950); Sen, J. American Statistical Association 63 (1968)
/// 1379-1389; Kendall, Rank Correlation Methods (variance of S with ties).  [TREND-1]
[[nodiscard]] Result<PairwiseSlope> pairwise_slope(std::span<const TimedValue> points, double confidence);

/// What must be there before a slope is shown at the bedside, from the local protocol.
struct TrendLimits {
  std::size_t points_min = 0;
  std::size_t points_most = 0;  ///< only so many of the latest readings enter, because the cost grows with the square
  double span_min = 0.0;        ///< minutes from the first to the last reading
  double confidence = 0.0;
};

enum class TrendStatus : std::uint8_t { known, too_few_readings, too_short_a_time };

/// `slope` is there exactly when `status` is known.
struct BedsideTrend {
  TrendStatus status = TrendStatus::too_few_readings;
  std::optional<PairwiseSlope> slope;
};

/// pairwise_slope, but unknown until there are enough readings over enough minutes (both limits inclusive), and of the
/// latest only. [TREND-2]
[[nodiscard]] Result<BedsideTrend> bedside_trend(std::span<const TimedValue> points, const TrendLimits& limits);

/// The filter's assumptions. The slope drifts by a random walk: after t minutes by sqrt(drift * t) per minute (1 SD).
struct FilterSettings {
  double reading_sd = 0.0;      ///< of one reading, in the value's unit
  double drift_per_min3 = 0.0;  ///< variance of the slope gained per minute, unit^2 / min^3
  double start_level = 0.0;
  double start_level_sd = 0.0;
  double start_slope_sd = 0.0;  ///< per minute; the slope starts at 0
};

/// What the filter knows after the last reading.
struct LevelAndSlope {
  double level = 0.0;
  double slope_per_min = 0.0;
  double level_variance = 0.0;
  double covariance = 0.0;
  double slope_variance = 0.0;
  double log_likelihood = 0.0;  ///< natural logarithm of the density of all readings
};

/// Kalman filter with state (level, slope) and F = [[1, dt], [0, 1]], Q = drift [[dt^3/3, dt^2/2], [dt^2/2, dt]]; the
/// start describes the moment of the first reading.
///
/// @param points  ordered by time, equal times allowed, at least one
/// @return `ask.input_impossible` for no points, times that go back, an SD that is not above 0, or a negative drift.
/// Source: Durbin and Koopman, Time Series Analysis by State Space Methods, local linear trend (from memory). [TREND-3]
[[nodiscard]] Result<LevelAndSlope> filter_trend(std::span<const TimedValue> points, const FilterSettings& settings);

/// Probability that the slope is above 0.
[[nodiscard]] double probability_rising(const LevelAndSlope& state);

enum class TrendWord : std::uint8_t { rising, falling, cannot_tell };

/// rising when the probability is `sure` or more, falling when it is 1 - sure or less; otherwise it cannot be told.
/// @param sure  above 0.5 and below 1  [TREND-4]
[[nodiscard]] TrendWord trend_word(double probability_of_rising, double sure);

}  // namespace stanch::care

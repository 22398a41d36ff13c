#include "stanch/care/trend.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"

namespace stanch::care {
namespace {

int sign_of(double x) { return (x > 0.0 ? 1 : 0) - (x < 0.0 ? 1 : 0); }

// Sizes of the groups of equal numbers, as the ties' terms need them.
struct Ties {
  double pairs = 0.0;     // sum of k (k-1) / 2
  double variance = 0.0;  // sum of k (k-1) (2k+5)
};

Ties ties_of(std::vector<double> numbers) {
  std::sort(numbers.begin(), numbers.end());
  Ties ties;
  for (auto first = numbers.begin(); first != numbers.end();) {
    const auto last = std::upper_bound(first, numbers.end(), *first);
    const auto k = static_cast<double>(last - first);
    ties.pairs += k * (k - 1.0) / 2.0;
    ties.variance += k * (k - 1.0) * (2.0 * k + 5.0);
    first = last;
  }
  return ties;
}

struct Pairs {
  std::vector<double> slopes;  // ascending, pairs at distinct times only
  double score = 0.0;          // Kendall's S: pairs that rise less pairs that fall
};

Pairs all_pairs(std::span<const TimedValue> points) {
  Pairs pairs;
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const double dt = points[j].at_min - points[i].at_min;
      const double dv = points[j].value - points[i].value;
      if (dt == 0.0) continue;
      pairs.slopes.push_back(dv / dt);
      pairs.score += sign_of(dv) * sign_of(dt);
    }
  }
  std::sort(pairs.slopes.begin(), pairs.slopes.end());
  return pairs;
}

double median_of_sorted(const std::vector<double>& sorted) {
  const std::size_t half = sorted.size() / 2;
  return sorted.size() % 2 == 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
}

InputCheck checked(std::span<const TimedValue> points) {
  InputCheck check;
  for (const TimedValue& point : points) {
    check.require_finite("at_min", point.at_min);
    check.require_finite("value", point.value);
  }
  return check;
}

void require_confidence(InputCheck& check, double confidence) {
  check.require(confidence > 0.0 && confidence < 1.0, "confidence", confidence,
                "it must be above 0 and below 1, for example 0.95");
}

}  // namespace

Result<PairwiseSlope> pairwise_slope(std::span<const TimedValue> points, double confidence) {
  InputCheck check = checked(points);
  require_confidence(check, confidence);
  if (check.failed()) return check.refusal();
  const Pairs pairs = all_pairs(points);
  check.require(!pairs.slopes.empty(), "points", static_cast<double>(points.size()),
                "readings at two or more distinct times are needed");
  if (check.failed()) return check.refusal();

  std::vector<double> times;
  std::vector<double> values;
  for (const TimedValue& point : points) {
    times.push_back(point.at_min);
    values.push_back(point.value);
  }
  const Ties time_ties = ties_of(std::move(times));
  const Ties value_ties = ties_of(std::move(values));
  const auto n = static_cast<double>(points.size());
  const double n_pairs = n * (n - 1.0) / 2.0;

  PairwiseSlope answer;
  answer.slope_per_min = median_of_sorted(pairs.slopes);
  if (value_ties.pairs < n_pairs) {
    answer.tau = pairs.score / std::sqrt((n_pairs - time_ties.pairs) * (n_pairs - value_ties.pairs));
  }
  const double variance =
      std::max(0.0, n * (n - 1.0) * (2.0 * n + 5.0) - time_ties.variance - value_ties.variance) / 18.0;
  const double reach = elementary::normal_quantile(0.5 + 0.5 * confidence) * std::sqrt(variance);
  const auto n_slopes = static_cast<double>(pairs.slopes.size());
  const double low = std::clamp(std::round((n_slopes - reach) / 2.0) - 1.0, 0.0, n_slopes - 1.0);
  const double high = std::clamp(std::round((n_slopes + reach) / 2.0), 0.0, n_slopes - 1.0);
  answer.low_per_min = pairs.slopes[static_cast<std::size_t>(low)];
  answer.high_per_min = pairs.slopes[static_cast<std::size_t>(high)];
  return answer;
}

Result<BedsideTrend> bedside_trend(std::span<const TimedValue> points, const TrendLimits& limits) {
  InputCheck check = checked(points);
  require_confidence(check, limits.confidence);
  if (check.failed()) return check.refusal();
  std::vector<TimedValue> latest(points.begin(), points.end());
  std::stable_sort(latest.begin(), latest.end(),
                   [](const TimedValue& a, const TimedValue& b) { return a.at_min < b.at_min; });
  const std::size_t n = std::min(latest.size(), limits.points_most);
  latest.erase(latest.begin(), latest.end() - static_cast<std::ptrdiff_t>(n));
  if (n < std::max<std::size_t>(limits.points_min, 2)) return BedsideTrend{TrendStatus::too_few_readings, std::nullopt};
  const double span = latest.back().at_min - latest.front().at_min;
  if (span < limits.span_min || span == 0.0) return BedsideTrend{TrendStatus::too_short_a_time, std::nullopt};
  const Result<PairwiseSlope> slope = pairwise_slope(latest, limits.confidence);
  if (!slope) return refuse(slope.error());
  return BedsideTrend{TrendStatus::known, *slope};
}

namespace {

LevelAndSlope moved_on(LevelAndSlope state, double dt, double drift) {
  state.level += dt * state.slope_per_min;
  state.level_variance += dt * (2.0 * state.covariance + dt * state.slope_variance) + drift * dt * dt * dt / 3.0;
  state.covariance += dt * state.slope_variance + drift * dt * dt / 2.0;
  state.slope_variance += drift * dt;
  return state;
}

// The covariance is kept as three numbers and shrunk by reading_variance / total, so that it stays symmetric and
// positive without repair.
LevelAndSlope corrected(LevelAndSlope state, double value, double reading_variance) {
  constexpr double log_2_pi = 1.8378770664093454836;
  const double total = state.level_variance + reading_variance;
  const double surprise = value - state.level;
  const double shrink = reading_variance / total;
  state.level += state.level_variance / total * surprise;
  state.slope_per_min += state.covariance / total * surprise;
  state.slope_variance -= state.covariance * state.covariance / total;
  state.level_variance *= shrink;
  state.covariance *= shrink;
  state.log_likelihood -= 0.5 * (log_2_pi + elementary::log(total) + surprise * surprise / total);
  return state;
}

InputCheck checked(std::span<const TimedValue> points, const FilterSettings& settings) {
  InputCheck check = checked(points);
  check.require(!points.empty(), "points", 0.0, "at least one reading is needed");
  for (std::size_t i = 1; i < points.size(); ++i) {
    check.require(points[i].at_min >= points[i - 1].at_min, "at_min", points[i].at_min,
                  "readings must be ordered by time");
  }
  check.require_finite("start_level", settings.start_level);
  const auto positive = [&check](std::string_view field, double value) {
    check.require(value > 0.0 && is_finite(value), field, value, "it must be above 0");
  };
  positive("reading_sd", settings.reading_sd);
  positive("start_level_sd", settings.start_level_sd);
  positive("start_slope_sd", settings.start_slope_sd);
  check.require(settings.drift_per_min3 >= 0.0 && is_finite(settings.drift_per_min3), "drift_per_min3",
                settings.drift_per_min3, "it must be 0 or above");
  return check;
}

}  // namespace

Result<LevelAndSlope> filter_trend(std::span<const TimedValue> points, const FilterSettings& settings) {
  const InputCheck check = checked(points, settings);
  if (check.failed()) return check.refusal();
  LevelAndSlope state;
  state.level = settings.start_level;
  state.level_variance = settings.start_level_sd * settings.start_level_sd;
  state.slope_variance = settings.start_slope_sd * settings.start_slope_sd;
  double at = points.front().at_min;
  for (const TimedValue& point : points) {
    state = moved_on(state, point.at_min - at, settings.drift_per_min3);
    state = corrected(state, point.value, settings.reading_sd * settings.reading_sd);
    at = point.at_min;
  }
  return state;
}

double probability_rising(const LevelAndSlope& state) {
  return elementary::normal_cdf(state.slope_per_min / std::sqrt(state.slope_variance));
}

TrendWord trend_word(double probability_of_rising, double sure) {
  if (probability_of_rising >= sure) return TrendWord::rising;
  if (probability_of_rising <= 1.0 - sure) return TrendWord::falling;
  return TrendWord::cannot_tell;
}

}  // namespace stanch::care

#include "stanch/care/trend.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <vector>

namespace stanch::care {
namespace {

// Shock index over one hour, from pulse and systolic pressure; our own made-up readings.
std::vector<TimedValue> shock_index_readings() {
  constexpr std::array<double, 7> at{0, 5, 12, 20, 31, 45, 60};
  constexpr std::array<double, 7> pulse{98, 102, 101, 108, 112, 118, 121};
  constexpr std::array<double, 7> systolic{112, 108, 110, 104, 103, 98, 96};
  std::vector<TimedValue> points;
  for (std::size_t i = 0; i < at.size(); ++i) points.push_back({at[i], pulse[i] / systolic[i]});
  return points;
}

TrendLimits usual_limits() { return {5, 60, 20.0, 0.95}; }

FilterSettings usual_filter() { return {0.077, 1e-7, 0.9, 0.3, 0.01}; }

// Source: Sen, J. American Statistical Association 63 (1968) 1379-1389, worked example: slope 4, 93 % interval 26/7 to
// 35/8.
TEST(Trend, sen_1968_worked_example) {
  const std::vector<TimedValue> points{{1, 9}, {2, 15}, {3, 19}, {4, 20}, {10, 45}, {12, 55}, {18, 78}};
  const auto slope = pairwise_slope(points, 0.93);
  ASSERT_TRUE(slope);
  EXPECT_NEAR(slope->slope_per_min, 4.0, 1e-9);
  EXPECT_NEAR(slope->low_per_min, 26.0 / 7.0, 1e-9);
  EXPECT_NEAR(slope->high_per_min, 35.0 / 8.0, 1e-9);
}

// Source: SciPy 1.10 theilslopes and kendalltau on the same numbers.
TEST(Trend, shock_index_slope_agrees_with_scipy) {
  const auto slope = pairwise_slope(shock_index_readings(), 0.95);
  ASSERT_TRUE(slope);
  EXPECT_NEAR(60.0 * slope->slope_per_min, 0.3894558, 1e-6);
  EXPECT_NEAR(60.0 * slope->low_per_min, 0.266821, 1e-6);
  EXPECT_NEAR(60.0 * slope->high_per_min, 0.519818, 1e-6);
  EXPECT_NEAR(slope->tau.value(), 0.904762, 1e-6);
}

// Source: SciPy 1.10: theilslopes([1,2,2,5,4,6,6], [0,0,1,2,3,3,5], 0.9) and kendalltau of the two lists.
TEST(Trend, ties_in_time_and_value_agree_with_scipy) {
  const std::vector<TimedValue> points{{0, 1}, {0, 2}, {1, 2}, {2, 5}, {3, 4}, {3, 6}, {5, 6}};
  const auto slope = pairwise_slope(points, 0.9);
  ASSERT_TRUE(slope);
  EXPECT_NEAR(slope->slope_per_min, 1.0, 1e-9);
  EXPECT_NEAR(slope->low_per_min, 1.0 / 3.0, 1e-9);
  EXPECT_NEAR(slope->high_per_min, 5.0 / 3.0, 1e-9);
  EXPECT_NEAR(slope->tau.value(), 15.0 / 19.0, 1e-9);
}

// Pulses in whole beats, three times two at one minute. Source: SciPy 1.10 theilslopes and kendalltau, recomputed by
// tests/reference/judging_a_series.py.
TEST(Trend, a_long_series_with_ties_agrees_with_scipy_at_every_confidence) {
  constexpr std::array<double, 20> at{0, 3, 6, 6, 9, 12, 15, 15, 18, 21, 24, 27, 30, 33, 33, 36, 39, 42, 45, 48};
  constexpr std::array<double, 20> pulse{96,  98,  98,  97,  101, 99,  104, 102, 104, 104,
                                         108, 103, 109, 112, 108, 111, 110, 116, 113, 112};
  std::vector<TimedValue> points;
  for (std::size_t i = 0; i < at.size(); ++i) points.push_back({at[i], pulse[i]});
  const struct {
    double confidence, low, high;
  } rows[] = {{0.5, 4.0 / 11, 5.0 / 12}, {0.8, 1.0 / 3, 4.0 / 9}, {0.95, 1.0 / 3, 7.0 / 15}, {0.99, 8.0 / 27, 0.5}};
  for (const auto& row : rows) {
    const auto slope = pairwise_slope(points, row.confidence);
    ASSERT_TRUE(slope);
    EXPECT_NEAR(slope->slope_per_min, 13.0 / 33, 1e-12);
    EXPECT_NEAR(slope->low_per_min, row.low, 1e-12) << row.confidence;
    EXPECT_NEAR(slope->high_per_min, row.high, 1e-12) << row.confidence;
    EXPECT_NEAR(slope->tau.value(), 0.8356068343896424, 1e-12);
  }
}

// Source: as above.
TEST(Trend, of_three_readings_the_interval_is_all_slopes) {
  const std::vector<TimedValue> points{{0, 100}, {10, 108}, {25, 109}};
  const auto slope = pairwise_slope(points, 0.999);
  ASSERT_TRUE(slope);
  EXPECT_NEAR(slope->slope_per_min, 0.36, 1e-12);
  EXPECT_NEAR(slope->low_per_min, 1.0 / 15, 1e-12);
  EXPECT_NEAR(slope->high_per_min, 0.8, 1e-12);
}

TEST(Trend, order_of_points_does_not_matter) {
  std::vector<TimedValue> points = shock_index_readings();
  const auto straight = pairwise_slope(points, 0.95);
  std::swap(points[0], points[5]);
  std::swap(points[2], points[3]);
  const auto mixed = pairwise_slope(points, 0.95);
  ASSERT_TRUE(straight && mixed);
  EXPECT_EQ(straight->slope_per_min, mixed->slope_per_min);
  EXPECT_EQ(straight->high_per_min, mixed->high_per_min);
  EXPECT_EQ(straight->tau, mixed->tau);
}

TEST(Trend, one_bad_cuff_reading_does_not_turn_the_slope) {
  std::vector<TimedValue> points = shock_index_readings();
  points[3].value = 0.1;
  const auto slope = pairwise_slope(points, 0.95);
  ASSERT_TRUE(slope);
  EXPECT_GT(slope->slope_per_min, 0.0);
}

TEST(Trend, equal_values_have_slope_zero_and_no_tau) {
  const std::vector<TimedValue> points{{0, 1}, {1, 1}, {2, 1}};
  const auto slope = pairwise_slope(points, 0.95);
  ASSERT_TRUE(slope);
  EXPECT_EQ(slope->slope_per_min, 0.0);
  EXPECT_FALSE(slope->tau);
}

TEST(Trend, refuses_points_at_one_time_only) {
  const std::vector<TimedValue> points{{3, 1}, {3, 2}};
  const auto slope = pairwise_slope(points, 0.95);
  ASSERT_FALSE(slope);
  EXPECT_EQ(slope.error().front().field, "points");
}

TEST(Trend, refuses_a_confidence_of_one_and_a_value_that_is_not_a_number) {
  const std::vector<TimedValue> points{{0, 1}, {1, std::numeric_limits<double>::quiet_NaN()}};
  const auto slope = pairwise_slope(points, 1.0);
  ASSERT_FALSE(slope);
  ASSERT_EQ(slope.error().size(), 2u);
  EXPECT_EQ(slope.error()[0].field, "value");
  EXPECT_EQ(slope.error()[1].field, "confidence");
}

TEST(Trend, four_readings_are_too_few_at_the_bedside) {
  const std::vector<TimedValue> points{{0, 1}, {10, 2}, {20, 3}, {30, 4}};
  const auto trend = bedside_trend(points, usual_limits());
  ASSERT_TRUE(trend);
  EXPECT_EQ(trend->status, TrendStatus::too_few_readings);
  EXPECT_FALSE(trend->slope);
}

TEST(Trend, exactly_twenty_minutes_are_enough_at_the_bedside) {
  std::vector<TimedValue> points{{0, 1}, {5, 2}, {10, 3}, {15, 4}, {20, 5}};
  EXPECT_EQ(bedside_trend(points, usual_limits())->status, TrendStatus::known);
  points.back().at_min = 19.99;
  EXPECT_EQ(bedside_trend(points, usual_limits())->status, TrendStatus::too_short_a_time);
}

TEST(Trend, only_the_latest_readings_enter_at_the_bedside) {
  // Falling long ago, rising since; out of order on purpose.
  const std::vector<TimedValue> points{{60, 9}, {0, 50}, {10, 40}, {20, 5}, {30, 6}, {40, 7}, {50, 8}};
  TrendLimits limits = usual_limits();
  limits.points_most = 5;
  EXPECT_NEAR(bedside_trend(points, limits)->slope.value().slope_per_min, 0.1, 1e-12);
  EXPECT_EQ(bedside_trend(points, limits)->slope->tau, 1.0);
  limits.points_most = 4;
  EXPECT_EQ(bedside_trend(points, limits)->status, TrendStatus::too_few_readings);
}

// Source: tests/reference/judging_a_series.py, by conditioning one joint normal distribution (no recursion).
TEST(Trend, filter_agrees_with_conditioning_on_all_readings_at_once) {
  const auto state = filter_trend(shock_index_readings(), usual_filter());
  ASSERT_TRUE(state);
  EXPECT_NEAR(state->level, 1.27395884, 1e-7);
  EXPECT_NEAR(state->slope_per_min, 0.00640773, 1e-7);
  EXPECT_NEAR(std::sqrt(state->level_variance), 0.0590708, 1e-7);
  EXPECT_NEAR(std::sqrt(state->slope_variance), 0.0020237, 1e-7);
  EXPECT_NEAR(state->log_likelihood, 6.59757259, 1e-7);
  EXPECT_EQ(trend_word(probability_rising(*state), 0.9), TrendWord::rising);
}

TEST(Trend, filter_cannot_tell_from_one_reading) {
  const std::vector<TimedValue> one{{7.0, 1.1}};
  const auto state = filter_trend(one, usual_filter());
  ASSERT_TRUE(state);
  EXPECT_EQ(probability_rising(*state), 0.5);
  EXPECT_EQ(trend_word(probability_rising(*state), 0.9), TrendWord::cannot_tell);
}

TEST(Trend, mirrored_readings_fall) {
  std::vector<TimedValue> points = shock_index_readings();
  for (TimedValue& point : points) point.value = 1.8 - point.value;
  const auto state = filter_trend(points, usual_filter());
  ASSERT_TRUE(state);
  EXPECT_EQ(trend_word(probability_rising(*state), 0.9), TrendWord::falling);
}

TEST(Trend, word_on_the_border_names_the_direction) {
  EXPECT_EQ(trend_word(0.75, 0.75), TrendWord::rising);
  EXPECT_EQ(trend_word(0.25, 0.75), TrendWord::falling);
  EXPECT_EQ(trend_word(0.7499999, 0.75), TrendWord::cannot_tell);
  EXPECT_EQ(trend_word(0.2500001, 0.75), TrendWord::cannot_tell);
}

TEST(Trend, filter_refuses_times_that_go_back) {
  const std::vector<TimedValue> points{{5, 1}, {4, 1}};
  const auto state = filter_trend(points, usual_filter());
  ASSERT_FALSE(state);
  EXPECT_EQ(state.error().front().field, "at_min");
}

TEST(Trend, filter_refuses_a_reading_sd_of_zero) {
  FilterSettings settings = usual_filter();
  settings.reading_sd = 0.0;
  EXPECT_FALSE(filter_trend(shock_index_readings(), settings));
}

}  // namespace
}  // namespace stanch::care

// The figures compared with come from tests/reference/judging_a_series.py (SciPy 1.10, adaptive integrals, a
// simulation); those marked exact follow from order statistics.
#include "stanch/care/opening_alarm_odds.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "stanch/base/elementary.hpp"
#include "stanch/base/quadrature.hpp"

namespace stanch::care {
namespace {

using enum OpeningRule;

constexpr OpeningRuleLimits limits{20.0, 12.0, 30.0};

double odds(OpeningRule rule, double sd, double change) {
  return alarm_probability(rule, limits, {sd, change}).value();
}

TEST(OpeningAlarmOdds, whole_table_within_printed_rounding) {
  constexpr double changes[] = {0, -10, -15, -20, -25, -30, -40};
  const struct {
    OpeningRule rule;
    double sd;
    double expected[7];
  } rows[] = {
      {last_one, 5, {.0023, .079, .240, .500, .760, .921, .998}},
      {last_one, 8, {.0385, .188, .329, .500, .671, .812, .961}},
      {median3_one, 5, {.0005, .048, .203, .500, .797, .952, 1.000}},
      {median3_one, 8, {.0189, .149, .302, .500, .698, .851, .981}},
      {last_both_of_two, 8, {.0085, .080, .180, .333, .521, .703, .931}},
      {median3_both_of_two, 5, {.0000, .007, .069, .300, .663, .910, .999}},
      {median3_both_of_two, 8, {.0016, .042, .131, .300, .527, .743, .964}},
      {median3_mean_of_two, 8, {.0053, .099, .258, .495, .733, .896, .994}},
      {median3_repeat, 5, {.0005, .072, .303, .674, .923, .992, 1.000}},
      {median3_repeat, 6.5, {.0064, .140, .364, .653, .873, .970, 1.000}},
      {median3_repeat, 8, {.0231, .199, .399, .634, .827, .938, .997}},
  };
  for (const auto& row : rows) {
    for (int i = 0; i < 7; ++i) {
      const double half_a_digit = i == 0 ? 0.5001e-4 : 0.5001e-3;
      EXPECT_NEAR(odds(row.rule, row.sd, changes[i]), row.expected[i], half_a_digit)
          << "rule " << static_cast<int>(row.rule) << " sd " << row.sd << " change " << changes[i];
    }
  }
}

TEST(OpeningAlarmOdds, false_alarms_to_six_digits) {
  EXPECT_NEAR(odds(last_one, 8, 0), 0.0385499, 1e-7);
  EXPECT_NEAR(odds(median3_one, 8, 0), 0.018915, 1e-6);
  EXPECT_NEAR(odds(median3_one, 8, -25), 0.698285, 1e-6);
  EXPECT_NEAR(odds(median3_both_of_two, 8, -25), 0.527177, 1e-6);
  EXPECT_NEAR(odds(median3_mean_of_two, 8, -25), 0.73324, 1e-5);
  EXPECT_NEAR(odds(median3_repeat, 6.5, 0), 0.00643, 1e-5);
  EXPECT_NEAR(odds(median3_repeat, 6.5, -25), 0.87259, 1e-5);
}

TEST(OpeningAlarmOdds, change_exactly_at_the_limit_has_exact_answers) {
  for (const double sd : {0.5, 5.0, 6.5, 8.0, 40.0}) {
    EXPECT_NEAR(odds(last_one, sd, -20), 0.5, 1e-12);
    EXPECT_NEAR(odds(median3_one, sd, -20), 0.5, 1e-12);
    EXPECT_NEAR(odds(last_both_of_two, sd, -20), 1.0 / 3.0, 1e-12);
    EXPECT_NEAR(odds(median3_both_of_two, sd, -20), 0.3, 1e-12);
    EXPECT_NEAR(alarm_probability_of_any(2, 20, {sd, -20}).value(), 0.7, 1e-12);
    EXPECT_NEAR(alarm_probability_of_any(3, 20, {sd, -20}).value(), 0.8, 1e-12);
  }
}

TEST(OpeningAlarmOdds, checking_again_finds_more) {
  EXPECT_NEAR(alarm_probability_of_any(1, 20, {8, -25}).value(), .698, 0.5e-3);
  EXPECT_NEAR(alarm_probability_of_any(2, 20, {8, -25}).value(), .869, 0.5e-3);
  EXPECT_NEAR(alarm_probability_of_any(3, 20, {8, -25}).value(), .931, 0.5e-3);
}

TEST(OpeningAlarmOdds, false_alarms_over_five_openings) {
  const struct {
    OpeningRule rule;
    double pressure_sd;
    double pulse_sd;
    double percent;
  } rows[] = {{last_one, 8, 5, 18.8},  {median3_one, 8, 5, 9.3},   {median3_both_of_two, 8, 5, 0.8},
              {last_one, 6.5, 4, 7.3}, {median3_one, 6.5, 4, 2.6}, {median3_both_of_two, 6.5, 4, 0.1},
              {last_one, 5, 3, 1.2},   {median3_one, 5, 3, 0.2},   {median3_both_of_two, 5, 3, 0.0}};
  for (const auto& row : rows) {
    const double any = probability_of_any_alarm(odds(row.rule, row.pressure_sd, 0), odds(row.rule, row.pulse_sd, 0), 5);
    EXPECT_NEAR(100.0 * any, row.percent, 0.05001);
  }
}

TEST(OpeningAlarmOdds, a_baseline_that_had_to_pass_is_too_high) {
  EXPECT_NEAR(alarm_probability_after_passing(100, 105, 20, {8, 0}).value(), 0.0524, 0.5e-4);
  EXPECT_NEAR(alarm_probability_after_passing(-1000, 105, 20, {8, 0}).value(), odds(last_one, 8, 0), 1e-12);
}

TEST(OpeningAlarmOdds, variance_of_the_median_of_three_equals_its_integral) {
  const auto second_moment = [](double z) {
    return z * z * 6.0 * elementary::normal_density(z) * elementary::normal_cdf(z) * elementary::normal_cdf(-z);
  };
  EXPECT_NEAR(baseline_variance(3).value(), 0.4486711, 1e-7);
  EXPECT_NEAR(baseline_variance(3).value(), integrate(second_moment, -9.0, 9.0, 18), 1e-14);
  EXPECT_EQ(baseline_variance(2).value(), 0.5);
  EXPECT_EQ(baseline_variance(1).value(), 1.0);
  EXPECT_FALSE(baseline_variance(0));
  EXPECT_FALSE(baseline_variance(4));
}

TEST(OpeningAlarmOdds, strength_of_a_fall_of_17) {
  const auto strength = fall_strength({-17, 6.5, 3, 2}, 20);
  ASSERT_TRUE(strength);
  EXPECT_NEAR(strength->standard_error, 6.33098, 1e-5);
  EXPECT_NEAR(strength->probability, 0.317800, 1e-5);
}

TEST(OpeningAlarmOdds, fewer_readings_before_make_a_fall_less_certain) {
  const auto three = fall_strength({-25, 6.5, 3, 1}, 20);
  const auto one = fall_strength({-25, 6.5, 1, 1}, 20);
  EXPECT_GT(three->probability, one->probability);
  EXPECT_NEAR(fall_strength({-20, 6.5, 1, 1}, 20)->probability, 0.5, 1e-15);
}

TEST(OpeningAlarmOdds, a_bigger_fall_never_alarms_less) {
  for (const OpeningRule rule :
       {last_one, median3_one, last_both_of_two, median3_both_of_two, median3_mean_of_two, median3_repeat}) {
    double before = 0.0;
    for (double change = 20.0; change >= -60.0; change -= 1.0) {
      const double now = odds(rule, 6.5, change);
      EXPECT_GE(now, before - 1e-12);
      EXPECT_LE(now, 1.0 + 1e-12);
      before = now;
    }
  }
}

TEST(OpeningAlarmOdds, the_ends_of_what_makes_sense) {
  EXPECT_TRUE(alarm_probability(median3_repeat, {20, 20, 20}, {8, 0}));
  EXPECT_FALSE(alarm_probability(median3_repeat, {20, 20.001, 20}, {8, 0}));
  EXPECT_FALSE(alarm_probability(median3_repeat, {20, 20, 19.999}, {8, 0}));
  EXPECT_TRUE(alarm_probability_of_any(1, 20, {8, 0}));
  EXPECT_TRUE(alarm_probability_of_any(100, 20, {8, 0}));
  EXPECT_FALSE(alarm_probability_of_any(101, 20, {8, 0}));
  EXPECT_FALSE(alarm_probability_of_any(3, std::numeric_limits<double>::infinity(), {8, 0}));
}

TEST(OpeningAlarmOdds, refuses_what_makes_no_sense) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_FALSE(alarm_probability(last_one, limits, {0.0, 0.0}));
  EXPECT_FALSE(alarm_probability(last_one, limits, {8.0, nan}));
  const auto out_of_order = alarm_probability(median3_repeat, {20, 25, 15}, {8, 0});
  ASSERT_FALSE(out_of_order);
  EXPECT_EQ(out_of_order.error().size(), 2u);
  EXPECT_FALSE(alarm_probability_of_any(0, 20, {8, 0}));
  EXPECT_FALSE(alarm_probability_after_passing(100, 20, 20, {8, 0}));
  EXPECT_FALSE(fall_strength({-17, 6.5, 3, 0}, 20));
  EXPECT_FALSE(fall_strength({-17, -6.5, 3, 1}, 20));
}

}  // namespace
}  // namespace stanch::care

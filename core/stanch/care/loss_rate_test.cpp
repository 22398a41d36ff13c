#include "stanch/care/loss_rate.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

namespace stanch::care {
namespace {

using enum RateJudgement;

constexpr double limit = 50.0;  // mL/h

RateInterval over_an_hour(double from_ml, double to_ml, double resolution_ml) {
  return rate_between({0, from_ml}, {60, to_ml}, resolution_ml).value();
}

// Worked by hand: 50 +- 50, 10 +- 10, 100 +- 25 mL in one hour.
TEST(LossRate, coarse_marks_cannot_tell) {
  const RateInterval rate = over_an_hour(350, 400, 50);
  EXPECT_EQ(rate.low_ml_per_h, 0.0);
  EXPECT_EQ(rate.high_ml_per_h, 100.0);
  EXPECT_EQ(judge_rate(rate, limit), cannot_tell);
}

TEST(LossRate, fine_marks_are_certainly_below) {
  const RateInterval rate = over_an_hour(350, 360, 10);
  EXPECT_EQ(rate.low_ml_per_h, 0.0);
  EXPECT_EQ(rate.high_ml_per_h, 20.0);
  EXPECT_EQ(judge_rate(rate, limit), certainly_below);
}

TEST(LossRate, a_large_gain_is_certainly_above) {
  const RateInterval rate = over_an_hour(350, 450, 25);
  EXPECT_EQ(rate.low_ml_per_h, 75.0);
  EXPECT_EQ(rate.high_ml_per_h, 125.0);
  EXPECT_EQ(judge_rate(rate, limit), certainly_above);
}

TEST(LossRate, the_limit_itself_is_not_below) {
  EXPECT_EQ(judge_rate({0.0, 50.0}, limit), cannot_tell);
  EXPECT_EQ(judge_rate({0.0, std::nextafter(50.0, 0.0)}, limit), certainly_below);
  EXPECT_EQ(judge_rate({50.0, 90.0}, limit), certainly_above);
  EXPECT_EQ(judge_rate({std::nextafter(50.0, 0.0), 90.0}, limit), cannot_tell);
}

TEST(LossRate, no_gain_is_never_a_negative_rate) {
  EXPECT_EQ(over_an_hour(350, 350, 25).low_ml_per_h, 0.0);
  EXPECT_EQ(over_an_hour(350, 350, 25).high_ml_per_h, 25.0);
}

TEST(LossRate, a_falling_volume_is_refused) {
  const auto rate = rate_between({0, 350}, {60, 340}, 25);
  ASSERT_FALSE(rate);
  EXPECT_EQ(rate.error().front().field, "volume_ml");
}

TEST(LossRate, time_must_go_forward) {
  EXPECT_FALSE(rate_between({60, 350}, {60, 360}, 25));
  EXPECT_FALSE(rate_between({61, 350}, {60, 360}, 25));
  EXPECT_FALSE(rate_between({0, 350}, {60, 360}, -1));
  EXPECT_FALSE(rate_between({0, 350}, {60, std::numeric_limits<double>::infinity()}, 25));
}

// Source: t = r / (50 - rate), derived; the table rounds to the digits shown.
TEST(LossRate, whole_table_of_hours_until_certain) {
  constexpr double rates[] = {0, 10, 20, 30, 40};
  const struct {
    double resolution_ml;
    double expected[5];
    double half_a_digit;
  } rows[] = {{5, {.10, .12, .17, .25, .50}, .0051},
              {25, {.50, .62, .83, 1.25, 2.5}, .0051},
              {50, {1.0, 1.25, 1.67, 2.5, 5.0}, .0051},
              {100, {2.0, 2.5, 3.3, 5.0, 10}, .051}};
  for (const auto& row : rows) {
    for (int i = 0; i < 5; ++i) {
      const auto hours = hours_until_certain(row.resolution_ml, rates[i], limit);
      ASSERT_TRUE(hours && *hours);
      EXPECT_NEAR(**hours, row.expected[i], row.half_a_digit) << row.resolution_ml << " mL, " << rates[i] << " mL/h";
    }
  }
}

TEST(LossRate, waiting_that_long_does_make_it_certain) {
  const double hours = hours_until_certain(25, 30, limit).value().value();
  const auto judged = [&](double t) { return judge_rate(rate_between({0, 0}, {60 * t, 30 * t}, 25).value(), limit); };
  EXPECT_EQ(judged(hours * 1.001), certainly_below);
  EXPECT_EQ(judged(hours * 0.999), cannot_tell);
}

TEST(LossRate, a_rate_at_the_limit_is_never_certainly_below) {
  EXPECT_FALSE(hours_until_certain(25, 50, limit).value());
  EXPECT_FALSE(hours_until_certain(25, 60, limit).value());
  EXPECT_FALSE(hours_until_certain(25, -1, limit));
  EXPECT_FALSE(hours_until_confident(25, 30, limit, 1.0));
}

TEST(LossRate, accepting_one_in_twenty_takes_two_thirds_of_the_time) {
  const double certain = hours_until_certain(50, 20, limit).value().value();
  const double confident = hours_until_confident(50, 20, limit, 0.95).value().value();
  EXPECT_NEAR(confident / certain, 1.645 * std::sqrt(2.0 / 12.0), 1e-4);
}

std::vector<VolumeReading> every_quarter_hour(std::size_t n, double rate_ml_per_h) {
  std::vector<VolumeReading> readings;
  for (std::size_t i = 0; i < n; ++i) {
    const double minutes = 15.0 * static_cast<double>(i);
    readings.push_back({minutes, 300.0 + rate_ml_per_h * minutes / 60.0});
  }
  return readings;
}

// Source: least squares by hand: sum of squares .625 h^2 for five readings, 3.75 h^2 for nine.
TEST(LossRate, slope_sd_of_five_and_nine_readings) {
  EXPECT_NEAR(slope_sd_per_unit_noise(every_quarter_hour(5, 0)), 1.265, 5e-4);
  EXPECT_NEAR(slope_sd_per_unit_noise(every_quarter_hour(9, 0)), 0.516, 5e-4);
}

TEST(LossRate, fit_finds_a_steady_rate_and_its_uncertainty) {
  const auto fit = fitted_rate(every_quarter_hour(5, 20), 25, 0.95, 4).value();
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->rate_ml_per_h, 20.0, 1e-9);
  EXPECT_NEAR(fit->sd_ml_per_h, 25.0 / std::sqrt(12.0) / std::sqrt(0.625), 1e-12);
  EXPECT_NEAR(fit->interval.high_ml_per_h, 20.0 + 1.6448536 * fit->sd_ml_per_h, 1e-6);
  EXPECT_EQ(judge_rate(fit->interval, limit), certainly_below);
}

TEST(LossRate, three_readings_are_too_few_for_statistics) {
  EXPECT_FALSE(fitted_rate(every_quarter_hour(3, 20), 25, 0.95, 4).value());
  EXPECT_TRUE(fitted_rate(every_quarter_hour(4, 20), 25, 0.95, 4).value());
}

TEST(LossRate, fit_refuses_a_falling_volume) {
  std::vector<VolumeReading> readings = every_quarter_hour(5, 20);
  readings[2].volume_ml = 0.0;
  EXPECT_FALSE(fitted_rate(readings, 25, 0.95, 4));
}

// Density of blood 1.06 g/mL: common practice, no source.
TEST(LossRate, pad_gain_of_53_g_is_50_ml) { EXPECT_NEAR(blood_from_mass(53, 1.06).value(), 50.0, 1e-9); }

TEST(LossRate, a_pad_lighter_than_dry_is_refused) {
  EXPECT_FALSE(blood_from_mass(-1, 1.06));
  EXPECT_FALSE(blood_from_mass(10, 0.0));
  EXPECT_EQ(blood_from_mass(0, 1.0).value(), 0.0);
}

}  // namespace
}  // namespace stanch::care

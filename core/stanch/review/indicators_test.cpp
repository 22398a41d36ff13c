#include "stanch/review/indicators.hpp"

#include <gtest/gtest.h>

namespace stanch::review {
namespace {

constexpr std::int64_t few = 5;

// Worked by hand from the definitions of the WHO near-miss approach, 2011.
TEST(Indicators, outcome_rates_worked_by_hand) {
  const auto rates = outcome_rates({10000, 82, 9}, few);
  ASSERT_TRUE(rates);
  EXPECT_NEAR(rates->near_miss_ratio.value.value(), 8.2, 1e-12);
  EXPECT_NEAR(rates->severe_outcome_ratio.value.value(), 9.1, 1e-12);
  EXPECT_NEAR(rates->near_miss_per_death.value.value(), 9.11, 0.01);
  EXPECT_NEAR(rates->mortality_index.value.value(), 9.89, 0.01);
}

TEST(Indicators, no_live_births_have_no_rate) {
  const auto rates = outcome_rates({0, 3, 0}, few);
  EXPECT_FALSE(rates->near_miss_ratio.value);
  EXPECT_FALSE(rates->severe_outcome_ratio.value);
  EXPECT_FALSE(rates->near_miss_per_death.value);
  EXPECT_EQ(rates->mortality_index.value, 0.0);
}

TEST(Indicators, fewer_than_five_events_show_counts_only) {
  EXPECT_TRUE(rate(4, 100, 100.0, few)->counts_only);
  EXPECT_FALSE(rate(5, 100, 100.0, few)->counts_only);
  EXPECT_EQ(rate(4, 100, 100.0, few)->events, 4);
}

TEST(Indicators, refuses_negative_counts) {
  const auto rates = outcome_rates({-1, 2, -3}, few);
  ASSERT_FALSE(rates);
  EXPECT_EQ(rates.error().size(), 2u);
  EXPECT_FALSE(rate(-1, 5, 1.0, few));
}

// Standard below 1 %: WHO, UNFPA, UNICEF and AMDD handbook, 2009 (from memory).
TEST(Indicators, case_fatality_against_the_standard) {
  const auto fatality = case_fatality(3, 400, 1.0, few);
  ASSERT_TRUE(fatality);
  EXPECT_NEAR(fatality->percent.value.value(), 0.75, 1e-12);
  EXPECT_EQ(fatality->below_standard, true);
  EXPECT_EQ(case_fatality(4, 400, 1.0, few)->below_standard, false);
  EXPECT_EQ(case_fatality(0, 0, 1.0, few)->below_standard, std::nullopt);
  EXPECT_FALSE(case_fatality(5, 4, 1.0, few));
}

// Source: Tanzanian roll-out in 280 facilities, Reproductive Health 2018: 297 of 419 women in shock; the paper prints
// 70.8 where the counts give 70.88.
TEST(Indicators, garment_used_in_shock) { EXPECT_NEAR(rate(297, 419, 100.0, few)->value.value(), 70.9, 0.05); }

TEST(Indicators, median_of_three_and_of_four) {
  EXPECT_EQ(interval_summary({18, 6, 13}, 0, 15, few)->median, 13.0);
  EXPECT_EQ(interval_summary({18, 6, 13, 14}, 0, 15, few)->median, 13.5);
  EXPECT_EQ(interval_summary({7}, 0, 15, few)->upper_quartile, 7.0);
}

// Source: numpy 1.24 quantile (type 7) of 3 5 8 13 21 34: .25 -> 5.75, .75 -> 19.
TEST(Indicators, quartiles_agree_with_numpy) {
  const auto summary = interval_summary({34, 3, 21, 5, 13, 8}, 0, 15, few);
  EXPECT_DOUBLE_EQ(summary->lower_quartile.value(), 5.75);
  EXPECT_DOUBLE_EQ(summary->upper_quartile.value(), 19.0);
}

TEST(Indicators, a_step_never_done_is_not_in_time) {
  const auto summary = interval_summary({10, 15, 15.1}, 1, 15, few);
  EXPECT_EQ(summary->in_time.events, 2);
  EXPECT_EQ(summary->in_time.out_of, 4);
  EXPECT_EQ(summary->in_time.value, 50.0);
  EXPECT_EQ(summary->n_not_done, 1);
}

TEST(Indicators, no_women_have_no_median) {
  const auto summary = interval_summary({}, 0, 15, few);
  EXPECT_FALSE(summary->median);
  EXPECT_FALSE(summary->in_time.value);
}

TEST(Indicators, refuses_a_negative_interval) {
  const auto summary = interval_summary({10, -1}, 0, 15, few);
  ASSERT_FALSE(summary);
  EXPECT_EQ(summary.error().front().field, "minutes");
}

}  // namespace
}  // namespace stanch::review

#include "stanch/care/bleed_rate.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;
using enum RateJudgement;

using Lines = std::initializer_list<std::string_view>;

std::optional<LossRate> rate_of(Lines lines) {
  return loss_rate(measured_loss(ToldCase(lines).at("20:00")), protocol::Protocol::shipped());
}

BleedRate judged_from_10_to_12(Lines lines) {
  const RateQuestion question{clock("10:00"), clock("12:00"), 50};
  return bleed_rate(measured_loss(ToldCase(lines).at("12:00")), question, protocol::Protocol::shipped());
}

// Worked by hand: 80 mL in 20 min is 240 mL/h; 300 mL more at that rate take 75 min.
TEST(LossRateOverTheRecord, between_the_last_readings_with_time_to_severe) {
  const auto rate = rate_of({"10:00 loss method=drape level_ml=620", "10:20 loss method=drape level_ml=700"});
  ASSERT_TRUE(rate);
  EXPECT_DOUBLE_EQ(rate->ml_per_h, 240);
  EXPECT_DOUBLE_EQ(*rate->minutes_to_severe, 75);
  EXPECT_EQ(rate->from, clock("10:00"));
  EXPECT_EQ(rate->to, clock("10:20"));
}

TEST(LossRateOverTheRecord, needs_readings_at_least_five_minutes_apart) {
  EXPECT_FALSE(rate_of({}));
  EXPECT_FALSE(rate_of({"10:00 loss method=drape level_ml=620"}));
  EXPECT_FALSE(rate_of({"10:00 loss method=drape level_ml=620", "10:04:59 loss method=drape level_ml=700"}));
  EXPECT_TRUE(rate_of({"10:00 loss method=drape level_ml=620", "10:05 loss method=drape level_ml=700"}));
}

TEST(LossRateOverTheRecord, looks_past_readings_that_are_too_near) {
  const auto rate = rate_of({"10:00 loss method=drape level_ml=600", "10:10 loss method=drape level_ml=620",
                             "10:18 loss method=drape level_ml=690", "10:20 loss method=drape level_ml=700"});
  EXPECT_EQ(rate->from, clock("10:10"));
}

TEST(LossRateOverTheRecord, no_time_to_severe_when_reached_or_nothing_is_lost) {
  EXPECT_FALSE(
      rate_of({"10:00 loss method=drape level_ml=900", "10:20 loss method=drape level_ml=1000"})->minutes_to_severe);
  EXPECT_FALSE(
      rate_of({"10:00 loss method=drape level_ml=900", "10:20 loss method=drape level_ml=900"})->minutes_to_severe);
}

TEST(BleedRate, no_reading_asks_for_one) {
  const BleedRate out = judged_from_10_to_12({});
  EXPECT_EQ(out.judgement, cannot_tell);
  EXPECT_TRUE(out.reading_due);
  EXPECT_FALSE(out.earliest);
}

TEST(BleedRate, fine_readings_over_the_whole_window_are_certainly_below) {
  const BleedRate out = judged_from_10_to_12({"10:00 loss method=drape level_ml=350 resolution_ml=25",
                                              "12:00 loss method=drape level_ml=400 resolution_ml=25"});
  EXPECT_EQ(out.judgement, certainly_below);
  EXPECT_EQ(out.rate->low_ml_per_h, 12.5);
  EXPECT_EQ(out.rate->high_ml_per_h, 37.5);
  EXPECT_FALSE(out.earliest);
}

TEST(BleedRate, the_limit_itself_is_not_below) {
  const BleedRate out = judged_from_10_to_12({"10:00 loss method=drape level_ml=350 resolution_ml=25",
                                              "12:00 loss method=drape level_ml=425 resolution_ml=25"});
  EXPECT_EQ(out.rate->high_ml_per_h, 50);
  EXPECT_EQ(out.judgement, cannot_tell);
  EXPECT_EQ(out.earliest, clock("12:00") + Duration::milliseconds(1));
}

TEST(BleedRate, coarse_marks_cannot_tell_until_long_enough) {
  // (0 + 100) / 50 = 2 h of watching, and a moment more because the limit is strict.
  const BleedRate out = judged_from_10_to_12({"10:20 loss method=drape level_ml=350 resolution_ml=100",
                                              "12:00 loss method=drape level_ml=350 resolution_ml=100"});
  EXPECT_EQ(out.judgement, cannot_tell);
  EXPECT_EQ(out.earliest, clock("12:20") + Duration::milliseconds(1));
  EXPECT_FALSE(out.reading_due);
}

TEST(BleedRate, a_single_reading_tells_when_the_next_could_show_it) {
  const BleedRate out = judged_from_10_to_12({"11:50 loss method=drape level_ml=350 resolution_ml=25"});
  EXPECT_EQ(out.judgement, cannot_tell);
  EXPECT_FALSE(out.rate);
  EXPECT_EQ(out.earliest, clock("13:50"));  // a whole window watched
}

TEST(BleedRate, a_late_burst_is_above_though_the_average_is_below) {
  const BleedRate out = judged_from_10_to_12({"10:00 loss method=drape level_ml=350 resolution_ml=5",
                                              "11:45 loss method=drape level_ml=350 resolution_ml=5",
                                              "12:00 loss method=drape level_ml=430 resolution_ml=5"});
  EXPECT_LT(out.rate->high_ml_per_h, 50);
  EXPECT_EQ(out.judgement, certainly_above);
}

TEST(BleedRate, readings_too_near_each_other_show_nothing_above) {
  const BleedRate out = judged_from_10_to_12({"10:00 loss method=drape level_ml=350 resolution_ml=5",
                                              "11:55:01 loss method=drape level_ml=350 resolution_ml=5",
                                              "12:00 loss method=drape level_ml=360 resolution_ml=5"});
  EXPECT_EQ(out.judgement, certainly_below);
  const BleedRate five_min = judged_from_10_to_12({"10:00 loss method=drape level_ml=350 resolution_ml=5",
                                                   "11:55 loss method=drape level_ml=350 resolution_ml=5",
                                                   "12:00 loss method=drape level_ml=360 resolution_ml=5"});
  EXPECT_EQ(five_min.judgement, certainly_above);  // (10 - 5) mL in 5 min is 60 mL/h
}

TEST(BleedRate, a_quiet_time_before_the_window_does_not_thin_it_out) {
  // 110 mL in all: 27.5 mL/h over the four hours since the last reading, 55 mL/h if it was all lost in the window.
  const BleedRate out = judged_from_10_to_12(
      {"08:00 loss method=drape level_ml=350 resolution_ml=5", "12:00 loss method=drape level_ml=460 resolution_ml=5"});
  EXPECT_EQ(out.judgement, cannot_tell);
  EXPECT_EQ(out.rate->high_ml_per_h, 57.5);
}

TEST(BleedRate, blood_lost_well_before_the_window_shows_nothing_in_it) {
  const BleedRate out = judged_from_10_to_12(
      {"09:00 loss method=drape level_ml=350 resolution_ml=5", "12:00 loss method=drape level_ml=900 resolution_ml=5"});
  EXPECT_EQ(out.judgement, cannot_tell);
  EXPECT_EQ(judged_from_10_to_12({"09:30 loss method=drape level_ml=350 resolution_ml=5",
                                  "12:00 loss method=drape level_ml=900 resolution_ml=5"})
                .judgement,
            certainly_above);
}

TEST(BleedRate, a_gap_at_either_end_cannot_tell) {
  EXPECT_EQ(judged_from_10_to_12({"10:30 loss method=drape level_ml=350 resolution_ml=5",
                                  "11:30 loss method=drape level_ml=350 resolution_ml=5"})
                .judgement,
            certainly_below);
  const BleedRate start = judged_from_10_to_12(
      {"10:31 loss method=drape level_ml=350 resolution_ml=5", "12:00 loss method=drape level_ml=350 resolution_ml=5"});
  EXPECT_EQ(start.judgement, cannot_tell);
  EXPECT_EQ(start.earliest, clock("12:31"));
  EXPECT_FALSE(start.reading_due);
  const BleedRate end = judged_from_10_to_12(
      {"10:00 loss method=drape level_ml=350 resolution_ml=5", "11:29 loss method=drape level_ml=350 resolution_ml=5"});
  EXPECT_EQ(end.judgement, cannot_tell);
  EXPECT_TRUE(end.reading_due);
  EXPECT_EQ(end.earliest, clock("12:00"));
}

TEST(BleedRate, errors_of_amounts_add_and_errors_of_a_level_do_not) {
  const BleedRate pads = judged_from_10_to_12({"10:00 loss method=weighed wet_g=50 dry_g=50",
                                               "11:00 loss method=weighed wet_g=60 dry_g=50",
                                               "12:00 loss method=weighed wet_g=60 dry_g=50"});
  EXPECT_EQ(pads.rate->low_ml_per_h, 5);    // (20 - 10) / 2
  EXPECT_EQ(pads.rate->high_ml_per_h, 15);  // (20 + 10) / 2
  const BleedRate drape = judged_from_10_to_12({"10:00 loss method=drape level_ml=50 resolution_ml=5",
                                                "11:00 loss method=drape level_ml=60 resolution_ml=10",
                                                "12:00 loss method=drape level_ml=70 resolution_ml=5"});
  EXPECT_EQ(drape.rate->low_ml_per_h, 5);
  EXPECT_EQ(drape.rate->high_ml_per_h, 15);
}

TEST(BleedRate, readings_after_the_window_do_not_count) {
  const BleedRate out = judged_from_10_to_12({"10:00 loss method=drape level_ml=350 resolution_ml=5",
                                              "12:00 loss method=drape level_ml=350 resolution_ml=5",
                                              "12:10 loss method=drape level_ml=800 resolution_ml=5"});
  EXPECT_EQ(out.to, clock("12:00"));
  EXPECT_EQ(out.judgement, certainly_below);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/stock/cleaning.hpp"

#include <gtest/gtest.h>

namespace stanch::stock {
namespace {

CleaningLimits limits() {
  return {.soak_short = Duration::minutes(15),
          .soak_timer = Duration::minutes(20),
          .soak_long = Duration::minutes(20),
          .start_within = Duration::minutes(60),
          .uses_notice = 40,
          .uses_most = 0,
          .tear_cm = 1.0,
          .inspection = {"fastening_holds", "no_tear", "dry", "label_readable"}};
}

std::vector<InspectionPoint> all_good() {
  std::vector<InspectionPoint> out;
  for (const std::string& point : limits().inspection) out.push_back({point, true});
  return out;
}

TEST(Cleaning, soak_is_enough_from_fifteen_minutes_and_long_above_twenty) {
  EXPECT_EQ(judge_soak(Duration::minutes(14.99), limits()), Soak::too_short);
  EXPECT_EQ(judge_soak(Duration::minutes(15), limits()), Soak::enough);
  EXPECT_EQ(judge_soak(Duration::minutes(20), limits()), Soak::enough);
  EXPECT_EQ(judge_soak(Duration::minutes(20.01), limits()), Soak::long_for_fabric);
}

TEST(Cleaning, timer_runs_to_twenty_minutes) {
  EXPECT_FALSE(is_soak_timer_over(Duration::minutes(19.99), limits()));
  EXPECT_TRUE(is_soak_timer_over(Duration::minutes(20), limits()));
}

TEST(Cleaning, overdue_only_after_the_hour) {
  EXPECT_FALSE(is_cleaning_overdue(Duration::minutes(60), limits()));
  EXPECT_TRUE(is_cleaning_overdue(Duration::minutes(60.01), limits()));
}

TEST(Cleaning, uses_ask_for_a_close_look_from_forty_and_never_end_by_default) {
  EXPECT_EQ(judge_uses(39, limits()), Uses::fine);
  EXPECT_EQ(judge_uses(40, limits()), Uses::look_closely);
  EXPECT_EQ(judge_uses(400, limits()), Uses::look_closely);
}

TEST(Cleaning, a_ward_may_set_a_last_use) {
  CleaningLimits ward = limits();
  ward.uses_most = 72;
  EXPECT_EQ(judge_uses(72, ward), Uses::look_closely);
  EXPECT_EQ(judge_uses(73, ward), Uses::last_use_passed);
}

TEST(Cleaning, every_point_good_is_fit) {
  EXPECT_EQ(judge_inspection(all_good(), std::nullopt, limits()).fitness, Fitness::fit);
}

TEST(Cleaning, one_point_not_looked_at_is_not_fit) {
  auto points = all_good();
  points.pop_back();
  const Inspection inspection = judge_inspection(points, std::nullopt, limits());
  EXPECT_EQ(inspection.fitness, Fitness::not_inspected);
  EXPECT_EQ(inspection.missing, std::vector<std::string>{"label_readable"});
}

TEST(Cleaning, one_failed_point_is_quarantine_even_when_others_are_missing) {
  const Inspection inspection = judge_inspection({{"dry", false}}, std::nullopt, limits());
  EXPECT_EQ(inspection.fitness, Fitness::quarantine);
  EXPECT_EQ(inspection.failed, std::vector<std::string>{"dry"});
  EXPECT_EQ(inspection.missing.size(), 3U);
}

TEST(Cleaning, a_tear_above_one_centimetre_fails_and_its_length_goes_before_the_tick) {
  EXPECT_EQ(judge_inspection(all_good(), 1.0, limits()).fitness, Fitness::fit);
  EXPECT_EQ(judge_inspection(all_good(), 1.1, limits()).fitness, Fitness::quarantine);
}

TEST(Cleaning, inspection_of_nothing_is_no_inspection) {
  EXPECT_EQ(judge_inspection({}, std::nullopt, limits()).fitness, Fitness::not_inspected);
}

}  // namespace
}  // namespace stanch::stock

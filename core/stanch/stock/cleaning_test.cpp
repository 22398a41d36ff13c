#include "stanch/stock/cleaning.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::stock {
namespace {

using protocol::Protocol;

const Protocol& shipped() { return Protocol::shipped(); }

Protocol with_last_use(int last) {
  return *shipped().with_ward_file(Json{{"protocol", {{"name", "ward"}, {"version", "1"}}},
                                        {"approved", {{"by", "A"}, {"role", "matron"}, {"on", "2031-05-06"}}},
                                        {"values", {{"cleaning.uses_most", last}}}});
}

std::vector<InspectionPoint> all_good() {
  std::vector<InspectionPoint> out;
  for (const std::string& point : shipped().words(protocol::key::cleaning_inspection)) out.push_back({point, true});
  return out;
}

TEST(Cleaning, soak_is_enough_from_fifteen_minutes_and_long_above_twenty) {
  EXPECT_EQ(judge_soak(Duration::minutes(14.99), shipped()), Soak::too_short);
  EXPECT_EQ(judge_soak(Duration::minutes(15), shipped()), Soak::enough);
  EXPECT_EQ(judge_soak(Duration::minutes(20), shipped()), Soak::enough);
  EXPECT_EQ(judge_soak(Duration::minutes(20.01), shipped()), Soak::long_for_fabric);
}

TEST(Cleaning, timer_runs_to_twenty_minutes) {
  EXPECT_FALSE(is_soak_timer_over(Duration::minutes(19.99), shipped()));
  EXPECT_TRUE(is_soak_timer_over(Duration::minutes(20), shipped()));
}

TEST(Cleaning, overdue_only_after_the_hour) {
  EXPECT_FALSE(is_cleaning_overdue(Duration::minutes(60), shipped()));
  EXPECT_TRUE(is_cleaning_overdue(Duration::minutes(60.01), shipped()));
}

TEST(Cleaning, uses_ask_for_a_close_look_from_forty_and_never_end_by_default) {
  EXPECT_EQ(judge_uses(39, shipped()), Uses::fine);
  EXPECT_EQ(judge_uses(40, shipped()), Uses::look_closely);
  EXPECT_EQ(judge_uses(400, shipped()), Uses::look_closely);
}

TEST(Cleaning, a_ward_may_set_a_last_use) {
  EXPECT_EQ(judge_uses(72, with_last_use(72)), Uses::look_closely);
  EXPECT_EQ(judge_uses(73, with_last_use(72)), Uses::last_use_passed);
}

TEST(Cleaning, every_point_good_is_fit) {
  EXPECT_EQ(judge_inspection(all_good(), std::nullopt, shipped()).fitness, Fitness::fit);
}

TEST(Cleaning, one_point_not_looked_at_is_not_fit) {
  auto points = all_good();
  points.pop_back();
  const Inspection inspection = judge_inspection(points, std::nullopt, shipped());
  EXPECT_EQ(inspection.fitness, Fitness::not_inspected);
  EXPECT_EQ(inspection.missing, std::vector<std::string>{"label_readable"});
}

TEST(Cleaning, one_failed_point_is_quarantine_even_when_others_are_missing) {
  const Inspection inspection = judge_inspection({{"dry", false}}, std::nullopt, shipped());
  EXPECT_EQ(inspection.fitness, Fitness::quarantine);
  EXPECT_EQ(inspection.failed, std::vector<std::string>{"dry"});
  EXPECT_EQ(inspection.missing.size(), 8U);
}

TEST(Cleaning, a_tear_above_one_centimetre_fails_and_its_length_goes_before_the_tick) {
  EXPECT_EQ(judge_inspection(all_good(), 1.0, shipped()).fitness, Fitness::fit);
  EXPECT_EQ(judge_inspection(all_good(), 1.1, shipped()).fitness, Fitness::quarantine);
}

TEST(Cleaning, inspection_of_nothing_is_no_inspection) {
  EXPECT_EQ(judge_inspection({}, std::nullopt, shipped()).fitness, Fitness::not_inspected);
}

}  // namespace
}  // namespace stanch::stock

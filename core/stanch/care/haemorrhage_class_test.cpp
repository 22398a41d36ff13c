#include "stanch/care/haemorrhage_class.hpp"

#include <gtest/gtest.h>

#include "stanch/care/haematocrit.hpp"
#include "stanch/care/picture.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using enum ClassOfBleed;
using support::ToldCase;

TEST(HaemorrhageClass, the_worse_counts_and_one_alone_is_at_least_that) {
  EXPECT_EQ(worse_class(mild, moderate).worse, moderate);
  EXPECT_EQ(worse_class(moderate, mild).worse, moderate);
  EXPECT_TRUE(worse_class(mild, moderate).certain);
  EXPECT_FALSE(worse_class(mild, {}).certain);
  EXPECT_EQ(worse_class(mild, {}).worse, mild);
  EXPECT_TRUE(worse_class({}, severe).certain);
  EXPECT_FALSE(worse_class({}, {}).worse);
}

TEST(HaemorrhageClass, a_pressure_that_cannot_be_read_is_severe) {
  EXPECT_EQ(class_by_pressure({}, protocol::Protocol::shipped()), severe);
}

TEST(HaemorrhageClass, asks_for_what_is_missing) {
  const auto judged = [](const ToldCase& told) {
    const View view = told.at("09:00");
    return haemorrhage_class(view, picture_of(view));
  };
  const HaemorrhageClass nothing = judged(ToldCase({"08:00 opened birth_at=07:30 birth_mode=vaginal"}));
  EXPECT_FALSE(nothing.worse);
  EXPECT_FALSE(nothing.ask.empty());
  const HaemorrhageClass both =
      judged(ToldCase({"08:00 opened birth_at=07:30 birth_mode=vaginal weight_kg=60 "
                       "height_cm=160 gestation_wk=39",
                       "08:55 loss method=drape level_ml=1300", "08:58 vitals pulse=90 bp=116/72"}));
  EXPECT_EQ(both.worse, moderate);
  EXPECT_TRUE(both.certain);
  EXPECT_TRUE(both.ask.empty());
}

TEST(Haematocrit, needs_a_fall_and_sensible_numbers) {
  EXPECT_EQ(loss_by_haematocrit(5000, 36, 36).value(), 0);
  EXPECT_EQ(loss_by_haematocrit(5000, 30, 33).value(), 0);
  EXPECT_FALSE(loss_by_haematocrit(0, 36, 28));
  EXPECT_FALSE(loss_by_haematocrit(5000, 0, 28));
  EXPECT_FALSE(loss_by_haematocrit(5000, 36, 0));
  EXPECT_FALSE(allowable_loss(5000, 21, 21, protocol::Protocol::shipped()));
  EXPECT_FALSE(allowable_loss(5000, 20, 21, protocol::Protocol::shipped()));
  EXPECT_FALSE(allowable_loss(5000, 30, 0, protocol::Protocol::shipped()));
  EXPECT_TRUE(allowable_loss(5000, 22, 21, protocol::Protocol::shipped()));
}

TEST(Haematocrit, of_a_woman_takes_the_first_and_the_newest_result) {
  const ToldCase told({"08:00 opened weight_kg=60 height_cm=160", "08:00 lab hct_percent=36",
                       "09:00 lab hct_percent=33", "10:00 lab hct_percent=30"});
  const auto at = [&](std::string_view time) {
    const View view = told.at(time);
    return haematocrit(view, picture_of(view).blood_volume);
  };
  EXPECT_FALSE(at("08:30").now_percent);
  EXPECT_EQ(at("08:30").start_percent, 36);
  EXPECT_EQ(at("10:30").start_percent, 36);
  EXPECT_EQ(at("10:30").now_percent, 30);
  EXPECT_EQ(at("10:30").by_points_ml, 1000);
}

}  // namespace
}  // namespace stanch::care

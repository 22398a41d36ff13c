#include "stanch/care/blood_pressure.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::ToldCase;

BloodPressure of(int sbp, int dbp) { return blood_pressure_of(sbp, dbp, protocol::Protocol::shipped()); }

// Textbook formula, worked by hand.
TEST(BloodPressure, mean_and_pulse_pressure) {
  EXPECT_DOUBLE_EQ(*of(90, 60).mean_mmhg, 70.0);
  EXPECT_EQ(of(90, 60).pulse_pressure_mmhg, 30);
  EXPECT_NEAR(*of(79, 50).mean_mmhg, 59.667, 0.001);
}

// Entry stratum of Miller et al. 2010: mean below 60.
TEST(BloodPressure, severe_shock_is_a_mean_strictly_below_sixty) {
  EXPECT_EQ(of(80, 50).severe_shock, Tri::no);
  EXPECT_EQ(of(79, 50).severe_shock, Tri::yes);
}

TEST(BloodPressure, narrow_is_strictly_below_a_quarter_of_the_systolic) {
  EXPECT_EQ(of(100, 76).narrow, Tri::yes);
  EXPECT_EQ(of(100, 75).narrow, Tri::no);
  const auto by_number = support::ward_protocol(R"({"shock.narrow_rule": "mmhg"})");
  EXPECT_EQ(blood_pressure_of(100, 71, by_number).narrow, Tri::yes);
  EXPECT_EQ(blood_pressure_of(100, 70, by_number).narrow, Tri::no);
}

TEST(BloodPressure, newest_systolic_decides) {
  const ToldCase told({"10:00 vitals bp=100/70", "10:05 vitals pulse=100", "10:06 vitals bp=90/72"});
  EXPECT_EQ(blood_pressure(told.at("10:05")).pulse_pressure_mmhg, 30);
  EXPECT_EQ(blood_pressure(told.at("10:06")).narrow, Tri::yes);
  EXPECT_EQ(blood_pressure(told.at("10:06")).at, support::clock("10:06"));
  EXPECT_EQ(blood_pressure(told.at("09:00")).severe_shock, Tri::unknown);
}

TEST(BloodPressure, unrecordable_is_severe_shock) {
  EXPECT_EQ(
      blood_pressure(ToldCase({"10:00 vitals bp=100/70", "10:05 vitals sbp=unrecordable"}).at("10:05")).severe_shock,
      Tri::yes);
  EXPECT_EQ(blood_pressure(ToldCase({"10:05 vitals sbp=0"}).at("10:05")).severe_shock, Tri::yes);
}

TEST(BloodPressure, felt_systolic_can_show_severe_shock_but_not_exclude_it) {
  EXPECT_EQ(blood_pressure(ToldCase({"10:00 vitals sbp=59 palpated=true"}).at("10:00")).severe_shock, Tri::yes);
  EXPECT_EQ(blood_pressure(ToldCase({"10:00 vitals sbp=60 palpated=true"}).at("10:00")).severe_shock, Tri::unknown);
}

TEST(BloodPressure, old_normal_reading_excludes_nothing) {
  const ToldCase told({"10:00 vitals bp=100/70"});
  EXPECT_EQ(blood_pressure(told.at("10:20")).severe_shock, Tri::no);
  EXPECT_EQ(blood_pressure(told.at("10:20:01")).severe_shock, Tri::unknown);
  EXPECT_EQ(blood_pressure(told.at("10:20:01")).narrow, Tri::unknown);
}

}  // namespace
}  // namespace stanch::care

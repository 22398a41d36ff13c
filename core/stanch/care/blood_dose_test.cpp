#include "stanch/care/blood_dose.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace stanch::care {
namespace {

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }
constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

// Source: 10 g/L a unit at 70 kg (teaching page), scaling and rounding by hand.
TEST(BloodDose, red_cells_for_twenty_g_l_at_70_kg_are_two) {
  const auto dose = red_cells_needed(65, 85, 70, shipped()).value();
  EXPECT_EQ(dose.units, 2);
  EXPECT_NEAR(dose.raw_units, 2.0, 1e-12);
}

TEST(BloodDose, red_cells_are_rounded_up_at_low_weight) {
  const auto dose = red_cells_needed(60, 80, 50, shipped()).value();
  EXPECT_EQ(dose.units, 2);
  EXPECT_NEAR(dose.raw_units, 1.43, 0.005);
}

TEST(BloodDose, a_whole_quotient_is_not_rounded_up_by_noise) {
  // 3 x 0.1 style noise: (80 - 50) / 10 x 70 / 70 is exactly three units however it is computed.
  EXPECT_EQ(red_cells_needed(50, 80, 70, shipped()).value().units, 3);
  EXPECT_EQ(red_cells_needed(79.9, 89.9, 70, shipped()).value().units, 1);
  EXPECT_EQ(red_cells_needed(79.9, 89.9, 70.1, shipped()).value().units, 2);
}

TEST(BloodDose, red_cells_refuse_what_makes_no_sense) {
  EXPECT_EQ(red_cells_needed(0, 80, 70, shipped()).error().front().field, "hb");
  EXPECT_EQ(red_cells_needed(80, 80, 70, shipped()).error().front().field, "target");
  EXPECT_EQ(red_cells_needed(60, 80, 0, shipped()).error().front().field, "weight");
  EXPECT_FALSE(red_cells_needed(60, 80, infinity, shipped()));
  EXPECT_FALSE(red_cells_needed(60, infinity, 70, shipped()));
  EXPECT_FALSE(red_cells_needed(60, not_a_number, 70, shipped()));
}

// Source: RCOG Green-top 52, 2016 (from memory): 12 to 15 mL/kg, whole units, rounded up.
TEST(BloodDose, plasma_by_weight_is_rounded_up_to_units) {
  const auto fifteen = plasma_dose(70, 15, 275, shipped()).value();
  EXPECT_EQ(fifteen.ml, 1050.0);
  EXPECT_EQ(fifteen.whole.units, 4);
  const auto twelve = plasma_dose(70, 12, 275, shipped()).value();
  EXPECT_EQ(twelve.ml, 840.0);
  EXPECT_EQ(twelve.whole.units, 4);
  EXPECT_NEAR(twelve.whole.raw_units, 3.05, 0.005);
}

TEST(BloodDose, plasma_uses_the_protocol_when_nothing_is_given) {
  const auto dose = plasma_dose(55, {}, {}, shipped()).value();
  EXPECT_EQ(dose.ml, 825.0);
  EXPECT_EQ(dose.whole.units, 3);
}

TEST(BloodDose, plasma_refuses_what_makes_no_sense) {
  EXPECT_EQ(plasma_dose(0, {}, {}, shipped()).error().front().field, "weight");
  EXPECT_EQ(plasma_dose(60, 0, {}, shipped()).error().front().field, "ml_per_kg");
  EXPECT_EQ(plasma_dose(60, 15, 0, shipped()).error().front().field, "unit_ml");
  EXPECT_EQ(plasma_dose(-1, -1, -1, shipped()).error().size(), 3U);
  EXPECT_FALSE(plasma_dose(infinity, {}, {}, shipped()));
}

// Source: label-type formula (from memory): 0.8 g/L is 80 mg/dL; 80 / 1.7 x 70 kg = 3.29 g.
TEST(BloodDose, fibrinogen_from_1_2_to_2_at_70_kg) {
  EXPECT_NEAR(fibrinogen_dose_g(1.2, 2.0, 70, shipped()).value(), 3.294, 0.001);
  EXPECT_NEAR(fibrinogen_dose_g(0, 1.7, 10, shipped()).value(), 1.0, 1e-12);
}

TEST(BloodDose, fibrinogen_refuses_what_makes_no_sense) {
  EXPECT_EQ(fibrinogen_dose_g(-0.1, 2, 70, shipped()).error().front().field, "measured");
  EXPECT_EQ(fibrinogen_dose_g(2, 2, 70, shipped()).error().front().field, "target");
  EXPECT_EQ(fibrinogen_dose_g(1, 2, 0, shipped()).error().front().field, "weight");
  EXPECT_FALSE(fibrinogen_dose_g(1, infinity, 70, shipped()));
}

// 2 pools of 5 units of 200 mg.
TEST(BloodDose, usual_cryoprecipitate_holds_two_grams) { EXPECT_EQ(cryo_fibrinogen_g(shipped()), 2.0); }

// Source: exp(-1) = 0.367879..., by hand.
TEST(BloodDose, one_blood_volume_leaves_36_8_percent) {
  EXPECT_NEAR(diluted(1.0, 5000, 5000).value(), 0.36788, 1e-5);
  EXPECT_NEAR(diluted(5.0, 5000, 5000).value(), 1.84, 0.005);
  EXPECT_EQ(diluted(5.0, 0, 5000).value(), 5.0);
  EXPECT_EQ(diluted(0.0, 100, 5000).value(), 0.0);
}

// Source: ln 2.5 = 0.916291, ln 2.25 = 0.810930.
TEST(BloodDose, volume_at_which_fibrinogen_reaches_two) {
  EXPECT_NEAR(volume_to_reach_ml(5, 2, 5000).value(), 4581.45, 0.01);
  EXPECT_NEAR(volume_to_reach_ml(4.5, 2, 5000).value(), 4054.65, 0.01);
  EXPECT_EQ(volume_to_reach_ml(2, 2, 5000).value(), 0.0);
}

TEST(BloodDose, the_two_dilution_formulas_are_inverse) {
  const double v = volume_to_reach_ml(4.2, 1.3, 4700).value();
  EXPECT_NEAR(diluted(4.2, v, 4700).value(), 1.3, 1e-12);
}

TEST(BloodDose, dilution_refuses_what_makes_no_sense) {
  EXPECT_EQ(diluted(-1, 1, 1).error().front().field, "start");
  EXPECT_EQ(diluted(1, -1, 1).error().front().field, "volume");
  EXPECT_EQ(diluted(1, 1, 0).error().front().field, "blood_volume");
  EXPECT_FALSE(diluted(infinity, 1, 1));
  EXPECT_FALSE(diluted(1, infinity, 1));
  EXPECT_FALSE(diluted(1, 1, infinity));
  EXPECT_EQ(volume_to_reach_ml(5, 0, 5000).error().front().field, "reached");
  EXPECT_EQ(volume_to_reach_ml(1.9, 2, 5000).error().front().field, "start");
  EXPECT_EQ(volume_to_reach_ml(5, 2, 0).error().front().field, "blood_volume");
  EXPECT_FALSE(volume_to_reach_ml(infinity, 2, 5000));
  EXPECT_FALSE(volume_to_reach_ml(5, 2, infinity));
}

TEST(BloodDose, anything_above_zero_makes_sense) {
  EXPECT_TRUE(red_cells_needed(0.01, 80, 70, shipped()));
  EXPECT_TRUE(red_cells_needed(60, 80, 0.01, shipped()));
  EXPECT_TRUE(plasma_dose(0.01, 0.01, 0.01, shipped()));
  EXPECT_TRUE(diluted(0, 0, 0.01));
  EXPECT_EQ(volume_to_reach_ml(0.01, 0.01, 0.01).value(), 0);
}

}  // namespace
}  // namespace stanch::care

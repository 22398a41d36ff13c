// Sources: worked examples of nursing handouts on drip rates (1200 mL in 6 h at 15 drops/mL = 50 drops/min and so on);
// the oxytocin and tranexamic acid rates are arithmetic on RCOG 2016, MCPC 2017 and WHO 2017 regimens.
#include "stanch/care/infusion.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace stanch::care {
namespace {

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }
double drops(double ml, double minutes, double factor) {
  return drip_rate(ml, minutes, factor, shipped())->drops_per_min;
}

TEST(Infusion, handout_examples_of_drops_per_minute) {
  EXPECT_EQ(drops(1200, 360, 15), 50);
  EXPECT_EQ(drops(200, 120, 20), 33);
  EXPECT_EQ(drops(1500, 720, 15), 31);
  EXPECT_EQ(drops(500, 240, 20), 42);
  EXPECT_EQ(drops(125, 60, 60), 125);
  EXPECT_NEAR(drip_rate(200, 120, 20, shipped())->exact_per_min, 33.333, 0.001);
}

TEST(Infusion, half_a_drop_rounds_up) {
  EXPECT_EQ(drops(101, 120, 15), 13);  // 12.625
  EXPECT_EQ(drops(100, 120, 15), 13);  // 12.5
  EXPECT_EQ(drops(99, 120, 15), 12);   // 12.375
}

TEST(Infusion, above_two_hundred_drops_a_minute_is_too_fast_by_eye) {
  EXPECT_FALSE(drip_rate(100, 10, 20, shipped())->too_fast_by_eye);  // exactly 200
  EXPECT_TRUE(drip_rate(101, 10, 20, shipped())->too_fast_by_eye);
  EXPECT_EQ(drops(1000, 15, 20), 1333);
  EXPECT_TRUE(drip_rate(1000, 15, 20, shipped())->too_fast_by_eye);
  EXPECT_EQ(drip_rate(100, 10, 20, shipped())->ml_per_h, 600);
}

TEST(Infusion, the_drop_factor_must_be_one_a_giving_set_can_have) {
  EXPECT_TRUE(drip_rate(100, 10, 8, shipped()));
  EXPECT_TRUE(drip_rate(100, 10, 60, shipped()));
  const auto low = drip_rate(100, 10, 7.9, shipped());
  ASSERT_FALSE(low);
  EXPECT_EQ(low.error()[0].field, "factor");
  EXPECT_FALSE(drip_rate(100, 10, 60.1, shipped()));
  EXPECT_FALSE(drip_rate(100, 10, 0, shipped()));
}

TEST(Infusion, impossible_inputs_are_named_all_at_once) {
  const auto bad = drip_rate(0, -1, 0, shipped());
  ASSERT_FALSE(bad);
  ASSERT_EQ(bad.error().size(), 3U);
  EXPECT_EQ(bad.error()[0].field, "ml");
  EXPECT_EQ(bad.error()[1].field, "over_min");
  const auto left = minutes_left(0, 0, 0, shipped());
  ASSERT_FALSE(left);
  EXPECT_EQ(left.error().size(), 3U);
  const auto hourly = ml_per_hour(0, 0, shipped());
  ASSERT_FALSE(hourly);
  EXPECT_EQ(hourly.error().size(), 2U);
  const auto rate = infusion_rate(0, 0, 0);
  ASSERT_FALSE(rate);
  EXPECT_EQ(rate.error().size(), 3U);
  EXPECT_FALSE(drip_rate(std::numeric_limits<double>::infinity(), 10, 20, shipped()));
}

TEST(Infusion, time_left_and_volume_per_hour) {
  EXPECT_EQ(*minutes_left(600, 15, 10, shipped()), 400);
  EXPECT_EQ(*ml_per_hour(60, 20, shipped()), 180);
}

TEST(Infusion, forty_units_in_half_a_litre_over_four_hours) {
  const auto rate = infusion_rate(40, 500, 125);
  ASSERT_TRUE(rate);
  EXPECT_EQ(rate->per_h, 10);
  EXPECT_NEAR(rate->milli_per_min, 166.667, 0.001);
  EXPECT_EQ(rate->per_ml, 0.08);
  EXPECT_EQ(rate->hours_for_bag, 4);
}

TEST(Infusion, twenty_units_in_a_litre_at_sixty_drops_is_sixty_milliunits_a_minute) {
  EXPECT_NEAR(infusion_rate(20, 1000, *ml_per_hour(60, 20, shipped()))->milli_per_min, 60, 1e-9);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/shock_index_noise.hpp"

#include <gtest/gtest.h>

namespace stanch::care {
namespace {

// Source: closed form worked by hand.
TEST(ShockIndexNoise, pulse_110_over_100) {
  const auto noise = shock_index_noise({110, 100, 4, 6});
  ASSERT_TRUE(noise);
  EXPECT_DOUBLE_EQ(noise->shock_index, 1.1);
  EXPECT_NEAR(noise->sd, 0.0771751, 1e-7);
  EXPECT_NEAR(noise->bias, 0.00396, 1e-12);
}

TEST(ShockIndexNoise, pulse_130_over_80) { EXPECT_NEAR(shock_index_noise({130, 80, 5, 8})->sd, 0.174, 5e-4); }

TEST(ShockIndexNoise, no_noise_gives_none) {
  EXPECT_EQ(shock_index_noise({90, 120, 0, 0})->sd, 0.0);
  EXPECT_EQ(shock_index_noise({90, 120, 0, 0})->bias, 0.0);
}

TEST(ShockIndexNoise, refuses_pressure_zero_and_negative_noise) {
  const auto noise = shock_index_noise({110, 0, -1, 6});
  ASSERT_FALSE(noise);
  ASSERT_EQ(noise.error().size(), 2u);
  EXPECT_EQ(noise.error()[0].field, "sbp");
  EXPECT_EQ(noise.error()[1].field, "pulse_sd");
}

}  // namespace
}  // namespace stanch::care

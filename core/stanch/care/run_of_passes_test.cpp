#include "stanch/care/run_of_passes.hpp"

#include <gtest/gtest.h>

namespace stanch::care {
namespace {

// Source: closed form worked by hand.
TEST(RunOfPasses, nine_in_a_row) {
  EXPECT_NEAR(run_of_passes(0.95, 9)->readings_expected, 11.7, 0.05);
  EXPECT_NEAR(run_of_passes(0.9, 9)->readings_expected, 15.8117, 1e-4);
  EXPECT_NEAR(run_of_passes(0.8, 9)->readings_expected, 32.3, 0.05);
  EXPECT_NEAR(run_of_passes(0.9, 9)->chance_at_once, 0.387420489, 1e-12);
}

TEST(RunOfPasses, certain_passes_take_just_the_run) {
  EXPECT_EQ(run_of_passes(1.0, 9)->readings_expected, 9.0);
  EXPECT_EQ(run_of_passes(1.0, 9)->chance_at_once, 1.0);
}

TEST(RunOfPasses, one_pass_waits_one_over_the_chance) { EXPECT_EQ(run_of_passes(0.25, 1)->readings_expected, 4.0); }

TEST(RunOfPasses, refuses_chance_zero_and_length_zero) {
  const auto run = run_of_passes(0.0, 0);
  ASSERT_FALSE(run);
  EXPECT_EQ(run.error().size(), 2u);
  EXPECT_FALSE(run_of_passes(1.0001, 9));
  EXPECT_FALSE(run_of_passes(1e-10, 900));
}

}  // namespace
}  // namespace stanch::care

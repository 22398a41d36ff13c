#include "stanch/base/clock_offset.hpp"

#include <gtest/gtest.h>

namespace stanch {
namespace {

ClockExchange stamps(std::int64_t t0, std::int64_t t1, std::int64_t t2, std::int64_t t3) {
  return {Moment::at_ms(t0), Moment::at_ms(t1), Moment::at_ms(t2), Moment::at_ms(t3)};
}

// Worked by hand from the formulas of RFC 5905, section 8: stamps 1000.000 1003.200 1003.210 1000.050 s.
TEST(ClockOffset, four_stamps_worked_by_hand) {
  const auto offset = clock_offset(stamps(1000000, 1003200, 1003210, 1000050));
  ASSERT_TRUE(offset);
  EXPECT_EQ(offset->offset_ms, 3180.0);
  EXPECT_EQ(offset->delay_ms, 40.0);
  EXPECT_EQ(offset->error_ms, 20.0);
}

TEST(ClockOffset, a_peer_behind_has_a_negative_offset) {
  EXPECT_EQ(clock_offset(stamps(5000, 1000, 1000, 5001))->offset_ms, -4000.5);
}

// The whole delay on one leg: the true offset lies exactly at the bound.
TEST(ClockOffset, error_bound_covers_a_one_sided_delay) {
  const auto offset = clock_offset(stamps(0, 700, 700, 100));
  EXPECT_EQ(offset->offset_ms - offset->error_ms, 600.0);
  EXPECT_EQ(offset->offset_ms + offset->error_ms, 700.0);
}

TEST(ClockOffset, refuses_stamps_out_of_order) {
  const auto backwards = clock_offset(stamps(1000, 0, 0, 999));
  ASSERT_FALSE(backwards);
  EXPECT_EQ(backwards.error().front().field, "answered");
  EXPECT_FALSE(clock_offset(stamps(0, 10, 9, 20)));
  EXPECT_FALSE(clock_offset(stamps(0, 10, 31, 20)));
  EXPECT_TRUE(clock_offset(stamps(0, 10, 30, 20)));
}

TEST(ClockOffset, warns_only_beyond_the_tolerance) {
  const Duration two_minutes = Duration::minutes(2);
  EXPECT_FALSE(is_clock_off({120000.0, 0.0, 0.0}, two_minutes));
  EXPECT_TRUE(is_clock_off({120000.5, 0.0, 0.0}, two_minutes));
  EXPECT_TRUE(is_clock_off({-120000.5, 0.0, 0.0}, two_minutes));
}

}  // namespace
}  // namespace stanch

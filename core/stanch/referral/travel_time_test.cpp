#include "stanch/referral/travel_time.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace stanch::referral {
namespace {

// Source: B12 by hand: ln 1.5 / 1.2815516.
TEST(TravelTime, from_what_crews_say) {
  const auto time = from_words(40, 60);
  ASSERT_TRUE(time);
  EXPECT_NEAR(time->sigma, 0.3163861, 1e-7);
  EXPECT_NEAR(within(*time, 60), 0.9, 1e-12);
  EXPECT_NEAR(within(*time, 40), 0.5, 1e-12);
  EXPECT_FALSE(from_words(40, 40));
  EXPECT_FALSE(from_words(0, 40));
}

// Source: B08, closed form in Python.
TEST(TravelTime, a_sum_in_short) {
  const TravelTime sum = sum_in_short({75, 0.25}, {30, 0.5});
  EXPECT_NEAR(sum.median_min, 108.300213, 1e-5);
  EXPECT_NEAR(sum.sigma, 0.236633, 1e-5);
}

TEST(TravelTime, ends) {
  EXPECT_EQ(within({40, 0.3}, 0), 0.0);
  EXPECT_EQ(within({40, 0.3}, -5), 0.0);
  EXPECT_EQ(within({40, 0}, 39.9), 0.0);
  EXPECT_EQ(within({40, 0}, 40), 1.0);
}

// Source: by hand: one trip of 80 against words of 40 with the same weight of the logarithm lies at sqrt(40 x 80).
TEST(TravelTime, trips_draw_the_words_towards_them) {
  EXPECT_NEAR(from_trips({40, 0.3}, std::vector<double>{80})->median_min, 56.5685424949, 1e-9);
  EXPECT_EQ(from_trips({40, 0.3}, {})->median_min, 40);
  const std::vector<double> many(200, 60.0);
  EXPECT_NEAR(from_trips({40, 0.3}, many)->median_min, 60, 0.2);
  const std::vector<double> spread{30, 45, 50, 70, 120};
  EXPECT_GT(from_trips({40, 0.1}, spread)->sigma, 0.3);
  EXPECT_FALSE(from_trips({40, 0.3}, std::vector<double>{0}));
}

}  // namespace
}  // namespace stanch::referral

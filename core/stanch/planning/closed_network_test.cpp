#include "stanch/planning/closed_network.hpp"

#include <gtest/gtest.h>

#include <vector>

#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

// Source: A20, mean-value analysis and convolution in mpmath, and GNU Octave queueing (qncsmva).
TEST(ClosedNetwork, brought_in_proportion_to_use) {
  const std::vector<Station> stations{{1, 1.0 / 7}, {2, 2.0 / 7}, {4, 4.0 / 7}};
  const auto drift = drifting_garments(stations, 10, 15);
  ASSERT_TRUE(drift);
  EXPECT_NEAR(drift->uses_per_month, 6.05838491375, 1e-10);
  for (const double none : drift->none_free) EXPECT_NEAR(none, 0.134516440892, 1e-10);
  EXPECT_NEAR(drift->missed_per_month, 0.9416, 5e-5);
}

// Source: A21, as above.
TEST(ClosedNetwork, brought_in_equal_thirds) {
  const std::vector<Station> stations{{1, 1.0 / 3}, {2, 1.0 / 3}, {4, 1.0 / 3}};
  const auto drift = drifting_garments(stations, 10, 10);
  EXPECT_NEAR(drift->uses_per_month, 2.99412155698, 1e-8);
  EXPECT_NEAR(drift->none_free[0], 0.00195948, 1e-8);
  EXPECT_NEAR(drift->none_free[1], 0.50097974, 1e-8);
  EXPECT_NEAR(drift->none_free[2], 0.75048987, 1e-8);
  EXPECT_NEAR(drifting_garments(stations, 10, 15)->missed_per_month, 4.0002, 5e-5);
}

// Source: A22, as above.
TEST(ClosedNetwork, brought_in_other_shares) {
  const std::vector<Station> stations{{1, 0.1}, {2, 0.3}, {4, 0.6}};
  const auto drift = drifting_garments(stations, 10, 6);
  EXPECT_NEAR(drift->uses_per_month, 4.92262193809, 1e-8);
  EXPECT_NEAR(drift->none_free[0], 0.50773781, 1e-8);
  EXPECT_NEAR(drift->none_free[1], 0.26160671, 1e-8);
  EXPECT_NEAR(drift->none_free[2], 0.26160671, 1e-8);
}

// Source: A23, identity: one station is one shelf whose garments come home.
TEST(ClosedNetwork, one_station_is_the_erlang_loss) {
  const std::vector<Station> one{{1, 1}};
  EXPECT_NEAR(drifting_garments(one, 2 * days_per_month, 4)->none_free[0], 2.0 / 21.0, 1e-14);
  EXPECT_EQ(drifting_garments(one, 10, 0)->none_free[0], 1.0);
}

// Source: convolution, another algorithm for the same network, written here.
TEST(ClosedNetwork, agrees_with_convolution) {
  const std::vector<Station> stations{{0.7, 0.2}, {3.1, 0.15}, {1.9, 0.4}, {2.5, 0.25}};
  const int garments = 12;
  const double months = 17 / days_per_month;
  std::vector<double> g{1.0};
  for (int k = 1; k <= garments; ++k) g.push_back(g.back() * months / k);
  for (const Station& one : stations)
    for (int k = 1; k <= garments; ++k)
      g[static_cast<std::size_t>(k)] += one.share / one.per_month * g[static_cast<std::size_t>(k) - 1];
  EXPECT_NEAR(drifting_garments(stations, 17, garments)->uses_per_month, g[garments - 1] / g[garments], 1e-12);
}

TEST(ClosedNetwork, refuses_shares_that_do_not_add_up) {
  const std::vector<Station> stations{{1, 0.5}, {0, 0.4}};
  const auto refused = drifting_garments(stations, 0, -1);
  ASSERT_FALSE(refused);
  ASSERT_EQ(refused.error().size(), 4u);
  EXPECT_EQ(refused.error()[0].field, "stations.1.per_month");
  EXPECT_EQ(refused.error()[1].field, "stations.share");
}

}  // namespace
}  // namespace stanch::planning

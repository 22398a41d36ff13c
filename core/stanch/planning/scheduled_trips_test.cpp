#include "stanch/planning/scheduled_trips.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

// Source: A27, A28 and the table they are from: the chain in Python; a simulation of 1e8 days agreed in every cell.
// Printed to five digits.
TEST(ScheduledTrips, every_cell_of_the_table) {
  const struct {
    double per_month;
    double every;
    double loss[4];
  } rows[] = {{1, 7, {0.17459, 0.02018, 0.00168, 0.00011}},  {1, 14, {0.24763, 0.04526, 0.00621, 0.00068}},
              {1, 30, {0.38773, 0.12096, 0.03029, 0.00620}}, {2, 14, {0.39844, 0.13138, 0.03471, 0.00743}},
              {4, 7, {0.45179, 0.17500, 0.05506, 0.01406}},  {4, 14, {0.57540, 0.30001, 0.13884, 0.05570}}};
  for (const auto& row : rows)
    for (int s = 1; s <= 4; ++s)
      EXPECT_NEAR(*trip_loss(row.per_month, row.every, 3, s), row.loss[s - 1], 6e-6)
          << row.per_month << ", " << row.every << ", " << s;
  EXPECT_NEAR(*trip_loss(1, 14, 3, 2), 0.045261, 1e-6);
  EXPECT_NEAR(*trip_loss(1, 30, 3, 4), 0.006197, 1e-6);
  EXPECT_NEAR(*trip_loss(4, 7, 3, 5), 0.002990, 1e-6);
}

// Source: the same chain in Python. Two women a month, fewer than 1 % missed.
TEST(ScheduledTrips, garments_by_how_often_a_trip_goes) {
  EXPECT_NEAR(*trip_loss(2, 7, 3, 4), 0.0014, 5e-5);
  EXPECT_NEAR(*trip_loss(2, 14, 3, 4), 0.0074, 5e-5);
  EXPECT_NEAR(*trip_loss(2, 30, 3, 6), 0.0046, 5e-5);
  EXPECT_GT(*trip_loss(2, 30, 3, 5), 0.01);
}

TEST(ScheduledTrips, reckoning_with_the_mean_is_too_hopeful) {
  EXPECT_GT(*trip_loss(1, 30, 3, 4), 2 * *erlang_loss(4, offered_load(1, 3 + 15)));
}

TEST(ScheduledTrips, one_garment_by_hand) {
  // Clean at once, one garment: a woman finds it exactly when she is the first since the last trip, so of x women
  // between two trips 1 - e^-x are served.
  const double x = 14 / days_per_month;
  EXPECT_NEAR(*trip_loss(1, 14, 0, 1), 1 - (1 - std::exp(-x)) / x, 1e-14);
}

TEST(ScheduledTrips, edges) {
  EXPECT_EQ(*trip_loss(1, 14, 3, 0), 1.0);
  EXPECT_EQ(*trip_loss(0, 14, 3, 2), 0.0);
  EXPECT_NEAR(*trip_loss(1, 14, 3, 60), 0.0, 1e-12);
  EXPECT_FALSE(trip_loss(1, 14, 15, 2));
  EXPECT_FALSE(trip_loss(1, 0, 0, 2));
  EXPECT_FALSE(trip_loss(5000, 30, 3, 2));
  EXPECT_FALSE(trip_loss(1, 14, 3, 401));
}

// Source: by hand. Two garments of 300 that last 40 months, for two more trips a month.
TEST(ScheduledTrips, worth_of_a_trip_by_hand) {
  EXPECT_NEAR(*worth_of_a_trip(2, 300, 40, 2), 7.5, 1e-12);
  EXPECT_FALSE(worth_of_a_trip(2, 300, 0, 2));
  EXPECT_FALSE(worth_of_a_trip(2, -1, 40, 0));
}

}  // namespace
}  // namespace stanch::planning

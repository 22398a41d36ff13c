#include "stanch/planning/erlang.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace stanch::planning {
namespace {

// Source: A01, A02 by hand (a / (1 + a); 1/2 / (1 + 1 + 1/2)); A03 by hand 2/21 and GNU Octave queueing 1.2.7; A04 to
// A08 mpmath 1.2.1, A05 to A07 also Octave queueing; recomputed by tests/reference/garment_pool.py.
TEST(ErlangLoss, agrees_with_hand_and_independent_libraries) {
  const struct {
    int garments;
    double load;
    double loss;
    double tolerance;
  } rows[] = {{1, 0.25, 0.2, 1e-15},
              {2, 1, 0.2, 1e-15},
              {4, 2, 2.0 / 21.0, 1e-14},
              {5, 3, 0.11005434782608696, 1e-14},
              {10, 5, 0.018384570336648133, 1e-14},
              {30, 25, 0.052603172228140617, 1e-13},
              {100, 100, 0.075700452710860970, 1e-13},
              {1000, 1000, 0.024811917646160408, 1e-12}};
  for (const auto& row : rows)
    EXPECT_NEAR(*erlang_loss(row.garments, row.load), row.loss, row.tolerance) << row.garments << ", " << row.load;
}

// Source: A09, mpmath: the true value is 3.63e-985, below every double.
TEST(ErlangLoss, underflows_cleanly_to_zero) { EXPECT_EQ(*erlang_loss(500, 2), 0.0); }

// Source: A10, the definition.
TEST(ErlangLoss, no_demand_finds_every_garment_and_no_garment_fails_everybody) {
  EXPECT_EQ(*erlang_loss(0, 0), 1.0);
  EXPECT_EQ(*erlang_loss(3, 0), 0.0);
  EXPECT_EQ(*erlang_loss(0, 5), 1.0);
}

TEST(ErlangLoss, refuses_what_cannot_be) {
  const auto refused = erlang_loss(-1, -0.5);
  ASSERT_FALSE(refused);
  ASSERT_EQ(refused.error().size(), 2u);
  EXPECT_EQ(refused.error()[0].field, "garments");
  EXPECT_EQ(refused.error()[1].field, "load");
  EXPECT_FALSE(erlang_loss(1, std::numeric_limits<double>::quiet_NaN()));
  EXPECT_FALSE(erlang_loss(1, std::numeric_limits<double>::infinity()));
  EXPECT_FALSE(erlang_loss_unusable(1, 1, 1.5));
  EXPECT_FALSE(garments_for(1, 0));
  EXPECT_FALSE(load_at_loss(0, 0.1));
  EXPECT_FALSE(load_at_loss(1, 1));
}

// Source: printed tables of offered load (from memory); more digits computed by bisection in Python.
TEST(ErlangLoss, load_carried_agrees_with_printed_tables) {
  const struct {
    int garments;
    double loss;
    double load;
  } rows[] = {{1, 0.01, 0.0101},  {2, 0.01, 0.1526},   {3, 0.01, 0.4555},   {4, 0.01, 0.8694},   {5, 0.01, 1.3608},
              {10, 0.01, 4.4612}, {20, 0.01, 12.0306}, {30, 0.01, 20.3373}, {50, 0.01, 37.9014}, {100, 0.01, 84.0642},
              {1, 0.05, 0.0526},  {2, 0.05, 0.3813},   {3, 0.05, 0.8994},   {4, 0.05, 1.5246},   {5, 0.05, 2.2185},
              {10, 0.05, 6.2157}, {20, 0.05, 15.2493}, {1, 0.001, 0.0010},  {2, 0.001, 0.0458},  {3, 0.001, 0.1938},
              {4, 0.001, 0.4393}, {5, 0.001, 0.7621},  {10, 0.001, 3.0920}};
  for (const auto& row : rows)
    EXPECT_NEAR(*load_at_loss(row.garments, row.loss), row.load, 5.1e-5) << row.garments << ", " << row.loss;
}

// Source: A12, A13, and the whole table computed in Python by the same definition. Rows are shocks a year, columns days
// of turnaround.
TEST(ErlangLoss, garments_for_one_and_five_in_a_hundred) {
  const double per_year[] = {2, 6, 12, 24, 52, 104, 208};
  const double days[] = {2, 4, 7, 10, 14, 21, 30, 45};
  const int one_percent[7][8] = {
      {2, 2, 2, 2, 2, 2, 3, 3},   {2, 2, 2, 3, 3, 3, 4, 4},     {2, 2, 3, 3, 4, 4, 5, 6},      {2, 3, 4, 4, 5, 6, 7, 8},
      {3, 4, 5, 6, 7, 8, 10, 13}, {4, 5, 7, 8, 10, 13, 16, 21}, {5, 7, 10, 12, 15, 20, 27, 37}};
  const int five_percent[7][8] = {{1, 1, 1, 2, 2, 2, 2, 2},     {1, 2, 2, 2, 2, 2, 3, 3},  {2, 2, 2, 2, 3, 3, 4, 4},
                                  {2, 2, 3, 3, 4, 4, 5, 6},     {2, 3, 4, 4, 5, 7, 8, 11}, {3, 4, 5, 6, 8, 10, 13, 18},
                                  {4, 6, 8, 10, 13, 17, 22, 31}};
  for (int row = 0; row < 7; ++row)
    for (int column = 0; column < 8; ++column) {
      const double load = offered_load(per_year[row] / months_per_year, days[column]);
      EXPECT_EQ(*garments_for(load, 0.01), one_percent[row][column]) << per_year[row] << ", " << days[column];
      EXPECT_EQ(*garments_for(load, 0.05), five_percent[row][column]) << per_year[row] << ", " << days[column];
    }
}

// Source: the sum over the number away, written out.
TEST(ErlangLoss, an_unusable_share_adds_the_shelves_with_only_bad_garments) {
  const double load = offered_load(2, 10);
  EXPECT_NEAR(*erlang_loss_unusable(3, load, 0.0), 0.02462, 5e-6);
  EXPECT_NEAR(*erlang_loss_unusable(3, load, 0.05), 0.03117, 5e-6);
  EXPECT_EQ(*erlang_loss_unusable(3, load, 1.0), 1.0);
  double weighted = 0.0;
  double all = 0.0;
  double term = 1.0;
  for (int k = 0; k <= 3; ++k) {
    if (k > 0) term *= load / k;
    weighted += term * std::pow(0.05, 3 - k);
    all += term;
  }
  EXPECT_NEAR(*erlang_loss_unusable(3, load, 0.05), weighted / all, 1e-15);
}

// Source: A35, computed in Python.
TEST(ErlangLoss, one_in_twenty_lost_with_slow_resupply) {
  const double days = *turnaround_with_losses(10, 0.05, 120);
  EXPECT_NEAR(days, 15.5, 1e-12);
  EXPECT_NEAR(*erlang_loss(3, offered_load(2, days)), 0.0648968190, 1e-9);
  EXPECT_FALSE(turnaround_with_losses(10, 1.1, 120));
  EXPECT_FALSE(turnaround_with_losses(-1, 0.1, 120));
}

}  // namespace
}  // namespace stanch::planning

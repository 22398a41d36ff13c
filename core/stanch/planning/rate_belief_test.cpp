#include "stanch/planning/rate_belief.hpp"

#include <gtest/gtest.h>

#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

LossAt erlang(int garments, double days) {
  return [=](double per_month) { return *erlang_loss(garments, offered_load(per_month, days)); };
}

double loss_after(double women, double months) {
  return averaged_loss(*belief_from_record(women, months), erlang(2, 10));
}

// Source: A24, SciPy's and mpmath's adaptive quadrature; recomputed by tests/reference/garment_pool.py.
TEST(RateBelief, three_women_in_six_months) { EXPECT_NEAR(loss_after(3, 6), 0.02641820179, 1e-9); }

// Source: the same quadrature in SciPy.
TEST(RateBelief, a_short_record_costs) {
  EXPECT_NEAR(*erlang_loss(2, offered_load(0.5, 10)), 0.01146, 5e-6);
  EXPECT_NEAR(loss_after(48, 96), 0.01229, 5e-6);
  EXPECT_NEAR(loss_after(12, 24), 0.01488, 5e-6);
}

// Source: A25, SciPy; the row's other values from the same program.
TEST(RateBelief, months_that_differ_more_than_by_chance) {
  const auto loss = [](double spread) { return averaged_loss(*belief_from_spread(2, spread), erlang(3, 10)); };
  EXPECT_NEAR(loss(0.5), 0.071220, 1e-6);
  EXPECT_NEAR(loss(0.25), 0.04784, 5e-6);
  EXPECT_NEAR(loss(1.0), 0.11558, 5e-6);
  EXPECT_NEAR(loss(1e-4), *erlang_loss(3, offered_load(2, 10)), 2e-5);
}

TEST(RateBelief, weighted_rates_average_as_the_integral_does) {
  for (const RateBelief belief : {RateBelief{0.5, 12}, RateBelief{3.5, 6}, RateBelief{2, 1}, RateBelief{400.5, 24}}) {
    double average = 0.0;
    for (const WeightedRate& one : weighted_rates(belief)) average += one.weight * erlang(2, 10)(one.per_month);
    EXPECT_NEAR(average, averaged_loss(belief, erlang(2, 10)), 1e-8) << belief.shape;
  }
}

// Source: SciPy's gamma quantiles, in tests/reference/garment_pool.py.
TEST(RateBelief, quantiles) {
  EXPECT_NEAR(quantile(*belief_from_record(3, 6), 0.05), 0.1806124924415, 1e-9);
  EXPECT_NEAR(quantile(*belief_from_record(3, 6), 0.95), 1.1722617041117, 1e-9);
  EXPECT_NEAR(quantile(*belief_from_record(0, 12), 0.95), 0.1600607841956, 1e-9);
}

TEST(RateBelief, spread_of_monthly_counts) {
  EXPECT_EQ(spread_of_counts(2, 4), 0.5);
  EXPECT_EQ(spread_of_counts(2, 1.5), 0.0);
  EXPECT_EQ(spread_of_counts(0, 0), 0.0);
}

// Source: A26, SciPy; the exact answer by the time-dependent equations is 0.0400168, within 1 %.
TEST(RateBelief, a_season) {
  const auto season = loss_over_season(2, 0.6, erlang(3, 10));
  ASSERT_TRUE(season);
  EXPECT_NEAR(season->over_the_year, 0.0403843693, 1e-8);
  EXPECT_NEAR(season->over_the_year, 0.0400168, 0.01 * 0.0400168);
  EXPECT_NEAR(season->flat, 0.02462, 5e-6);
  EXPECT_NEAR(season->at_the_peak, 0.0692, 5e-5);
}

TEST(RateBelief, refuses_what_cannot_be) {
  EXPECT_FALSE(belief_from_record(-1, 6));
  EXPECT_FALSE(belief_from_record(1, 0));
  EXPECT_FALSE(belief_from_spread(0, 1));
  EXPECT_FALSE(belief_from_spread(1, 0));
  EXPECT_FALSE(loss_over_season(1, 1.1, erlang(1, 1)));
}

}  // namespace
}  // namespace stanch::planning

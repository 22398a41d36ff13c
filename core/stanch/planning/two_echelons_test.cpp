#include "stanch/planning/two_echelons.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace stanch::planning {
namespace {

std::vector<Outpost> four() { return {{1, 1, 1}, {2, 1.5, 1}, {3, 0.5, 1}, {4, 2, 2}}; }

// Source: A29 by hand (e^-1 and its sums); A30 computed in Python and as in textbook tables (from memory).
TEST(TwoEchelons, garments_owed_by_a_poisson_pipeline) {
  const double one[] = {1, 0.36788, 0.10364, 0.02334, 0.00435};
  for (int s = 0; s <= 4; ++s) EXPECT_NEAR(poisson_owed(1, s)->mean, one[s], 1e-5) << s;
  const double four_away[] = {4, 3.0183, 2.1099, 1.3480, 0.7815, 0.4103, 0.1954};
  for (int s = 0; s <= 6; ++s) EXPECT_NEAR(poisson_owed(4, s)->mean, four_away[s], 5e-5) << s;
  EXPECT_EQ(poisson_owed(0, 3)->mean, 0.0);
  EXPECT_NEAR(poisson_owed(4, 0)->variance, 4.0, 1e-12);
}

// Source: A31, SciPy.
TEST(TwoEchelons, garments_owed_by_a_negative_binomial_pipeline) {
  EXPECT_NEAR(*negative_binomial_owed(2, 3, 1), 1.197531, 1e-6);
  EXPECT_NEAR(*negative_binomial_owed(2, 3, 3), 0.338820, 1e-6);
  EXPECT_EQ(*negative_binomial_owed(2, 2, 3), poisson_owed(2, 3)->mean);
}

// Source: A32, the fixed point in Python.
TEST(TwoEchelons, four_facilities_and_two_garments_at_the_hub) {
  const auto out = two_echelons(four(), 2, 4);
  ASSERT_TRUE(out);
  EXPECT_NEAR(out->wait_days, 0.55807, 1e-5);
  EXPECT_NEAR(out->in_cleaning, 1.217899, 1e-5);
  const double none_free[] = {0.048696, 0.119123, 0.094438, 0.040574};
  for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(out->none_free[i], none_free[i], 1e-5) << i;
}

// Source: the same fixed point; the totals that a simulation agrees with to 5 %.
TEST(TwoEchelons, what_the_hubs_garments_save) {
  const double missed[] = {2.1861, 1.2256, 0.7326, 0.5368};
  for (int s = 0; s <= 3; ++s) EXPECT_NEAR(two_echelons(four(), s, 4)->missed_per_month, missed[s], 5e-5) << s;
}

// Source: exhaustive search over all splits (Python).
TEST(TwoEchelons, the_best_split_is_that_of_an_exhaustive_search) {
  const struct {
    int garments;
    int at_hub;
    std::vector<int> at_outposts;
    double missed;
  } rows[] = {{6, 1, {1, 1, 1, 2}, 1.22560}, {8, 2, {1, 1, 2, 2}, 0.47008}, {10, 2, {1, 2, 2, 3}, 0.10253}};
  for (const auto& row : rows) {
    const auto split = split_with_hub(four(), row.garments, 4);
    ASSERT_TRUE(split);
    EXPECT_EQ(split->at_hub, row.at_hub);
    EXPECT_EQ(split->at_outposts, row.at_outposts);
    EXPECT_NEAR(split->missed_per_month, row.missed, 5e-6);
  }
}

// Source: A34, SciPy.
TEST(TwoEchelons, demand_that_waits) {
  const Owed depot = *poisson_owed(0.3 * 10, 2);
  EXPECT_NEAR(depot.mean, 1.248935, 1e-6);
  EXPECT_NEAR(depot.variance, 2.091651, 1e-6);
  const Pipeline base = outpost_pipeline(0.1, 2, 1.0 / 3, depot);
  EXPECT_NEAR(base.mean, 0.616312, 1e-6);
  EXPECT_NEAR(base.variance, 0.709947, 1e-6);
  EXPECT_NEAR(*negative_binomial_owed(base.mean, base.variance, 1), 0.179718, 1e-6);
  EXPECT_NEAR(poisson_owed(base.mean, 1)->mean, 0.156244, 1e-6);
}

TEST(TwoEchelons, nobody_comes) {
  const std::vector<Outpost> quiet{{0, 1, 1}};
  const auto out = two_echelons(quiet, 1, 4);
  ASSERT_TRUE(out);
  EXPECT_EQ(out->wait_days, 0.0);
  EXPECT_EQ(out->missed_per_month, 0.0);
}

TEST(TwoEchelons, refuses_what_cannot_be) {
  const std::vector<Outpost> bad{{-1, -1, -1}};
  const auto refused = two_echelons(bad, -1, -1);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().size(), 5u);
  EXPECT_FALSE(poisson_owed(701, 1));
  EXPECT_FALSE(negative_binomial_owed(1, -1, 1));
}

}  // namespace
}  // namespace stanch::planning

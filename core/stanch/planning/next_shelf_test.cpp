#include "stanch/planning/next_shelf.hpp"

#include <gtest/gtest.h>

#include <vector>

#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

// Source: A37, by hand and SciPy's Poisson tail.
TEST(NextShelf, goes_where_it_serves_most_before_the_next_chance) {
  const std::vector<Wanting> shelves{{0.5, 0}, {2, 1}, {4, 3}};
  const auto next = next_shelf(shelves, days_per_month);
  ASSERT_TRUE(next);
  EXPECT_NEAR(next->gain[0], 0.393469, 1e-6);
  EXPECT_NEAR(next->gain[1], 0.593994, 1e-6);
  EXPECT_NEAR(next->gain[2], 0.566530, 1e-6);
  EXPECT_EQ(next->shelf, 1u);
}

TEST(NextShelf, nobody_wants_it_or_two_want_it_alike) {
  const std::vector<Wanting> quiet{{0, 0}};
  EXPECT_FALSE(next_shelf(quiet, 10)->shelf);
  const std::vector<Wanting> alike{{1, 2}, {1, 2}};
  EXPECT_EQ(next_shelf(alike, 10)->shelf, 0u);
  EXPECT_GT(next_shelf(std::vector<Wanting>{{1, 40}}, 10)->gain[0], 0.0);
  EXPECT_FALSE(next_shelf(alike, 0));
  EXPECT_FALSE(next_shelf(std::vector<Wanting>{{1, -1, 0}}, 10));
}

// Source: A36, a scan in Python.
TEST(Replacement, fails_late_at_five_times_the_cost) {
  const auto best = best_replacement({70, 3}, 1, 5);
  ASSERT_TRUE(best);
  EXPECT_EQ(best->uses, 35);
  EXPECT_NEAR(best->cost_per_use, 0.04323290738, 1e-10);
  EXPECT_NEAR(best->uses_per_garment, 34.00, 0.005);
  EXPECT_NEAR(best->still_good, 0.8825, 5e-5);
  EXPECT_NEAR(best->cost_if_run_to_failure, 0.079354, 1e-6);
  EXPECT_NEAR(purchases_per_year(300, *best), 8.82, 0.005);
  EXPECT_EQ(best_replacement({70, 3}, 1, 20)->uses, 21);
}

TEST(Replacement, refuses_what_cannot_be) {
  const auto refused = best_replacement({0, 0}, 0, 0);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().size(), 4u);
}

}  // namespace
}  // namespace stanch::planning

#include "stanch/planning/allocation.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

// Four shelves A, B, C, D.
std::vector<Shelf> four() { return {{0.5, 4}, {2, 10}, {4, 7}, {1, 21}}; }

std::vector<Shelf> ten_thousand() {
  std::vector<Shelf> out;
  for (int i = 0; i < 10000; ++i) out.push_back({0.2 + ((37 * i) % 101) / 25.0, 3.0 + (53 * i) % 29});
  return out;
}

// Source: A14, exhaustive search over all spreads of ten garments (Python).
TEST(Allocation, ten_garments_over_four_shelves) {
  const auto spread = spread_for_fewest_missed(four(), 10);
  ASSERT_TRUE(spread);
  EXPECT_EQ(spread->garments, (std::vector<int>{1, 3, 4, 2}));
  EXPECT_NEAR(spread->missed_per_month, 0.25121973626, 1e-10);
}

// Source: A15, exhaustive search for every number from 0 to 12 (Python).
TEST(Allocation, twelve_garments_in_their_order_with_the_whole_curve) {
  const auto spread = spread_for_fewest_missed(four(), 12, Keep::whole_curve);
  ASSERT_TRUE(spread);
  std::string order;
  for (const auto shelf : spread->order) order += static_cast<char>('A' + shelf);
  EXPECT_EQ(order, "CBCDBCADBCDB");
  EXPECT_NEAR(spread->missed_per_month, 0.11418567552, 1e-10);
  ASSERT_EQ(spread->missed_after.size(), 13u);
  EXPECT_EQ(spread->missed_after[0], 7.5);
  EXPECT_NEAR(spread->missed_after[10], 0.25121973626, 1e-10);
  EXPECT_NEAR(spread->missed_after[12], spread->missed_per_month, 1e-12);
}

// Source: the same exhaustive search, by the worst shelf.
TEST(Allocation, ten_garments_for_the_worst_of_four_shelves) {
  const auto spread = spread_for_the_worst_shelf(four(), 10);
  ASSERT_TRUE(spread);
  EXPECT_EQ(spread->garments, (std::vector<int>{1, 3, 3, 3}));
  EXPECT_NEAR(spread->worst, 0.061657, 1e-6);
  EXPECT_NEAR(spread->missed_per_month, 0.317562, 1e-6);
}

// Source: B(10, 2.75) times the rate of all shelves together, Python.
TEST(Allocation, the_pooled_bound) { EXPECT_NEAR(*missed_if_pooled(four(), 10), 0.000957, 1e-6); }

// Source: A16, A17: a plain Python program and one in C++ that agreed.
TEST(Allocation, ten_thousand_shelves) {
  const auto shelves = ten_thousand();
  const auto spread = spread_for_fewest_missed(shelves, 40000);
  ASSERT_TRUE(spread);
  EXPECT_NEAR(spread->missed_per_month, 465.5792726891, 1e-6);
  EXPECT_NEAR(spread->worst, 0.2397752107, 1e-9);
  long long weighted = 0;
  for (std::size_t i = 0; i < shelves.size(); ++i) weighted += static_cast<long long>(i + 1) * spread->garments[i];
  EXPECT_EQ(weighted, 200038552);
  EXPECT_NEAR(spread_for_fewest_missed(shelves, 20000)->missed_per_month, 4818.4486066264, 1e-6);
  EXPECT_NEAR(spread_for_fewest_missed(shelves, 60000)->missed_per_month, 18.5992781169, 1e-6);
}

int sum(const std::vector<int>& numbers) {
  int out = 0;
  for (const int n : numbers) out += n;
  return out;
}

// Source: A18, computed in Python.
TEST(Allocation, garments_to_reach_one_in_a_hundred) {
  const auto shelves = ten_thousand();
  const auto everywhere = reach_on_every_shelf(shelves, 0.01);
  EXPECT_EQ(sum(everywhere->garments), 50165);
  EXPECT_LT(everywhere->worst, 0.01);
  EXPECT_EQ(sum(reach_overall(shelves, 0.01)->garments), 45141);
}

// Source: A19, bisection on the worst share (Python).
TEST(Allocation, ten_thousand_shelves_by_the_worst) {
  const auto spread = spread_for_the_worst_shelf(ten_thousand(), 40000);
  EXPECT_NEAR(spread->worst, 0.0430795326, 1e-8);
  EXPECT_EQ(sum(spread->garments), 39998);
  EXPECT_EQ(spread->left_over, 2);
  EXPECT_NEAR(spread->missed_per_month, 532.7, 0.05);
}

TEST(Allocation, a_shelf_without_demand_gets_its_minimum_only) {
  const std::vector<Shelf> shelves{{0, 5, 1, 1}, {1, 5}, {0, 5}};
  EXPECT_EQ(spread_for_fewest_missed(shelves, 4)->garments, (std::vector<int>{1, 3, 0}));
  const std::vector<Shelf> asleep{{0, 5}};
  EXPECT_EQ(spread_for_fewest_missed(asleep, 4)->left_over, 4);
  EXPECT_EQ(spread_for_the_worst_shelf(asleep, 4)->left_over, 4);
  EXPECT_EQ(sum(reach_on_every_shelf(asleep, 0.01)->garments), 0);
}

TEST(Allocation, equal_gains_go_to_the_first_and_weight_goes_before) {
  const std::vector<Shelf> twins{{1, 5}, {1, 5}};
  EXPECT_EQ(spread_for_fewest_missed(twins, 1)->garments, (std::vector<int>{1, 0}));
  const std::vector<Shelf> far{{1, 5}, {1, 5, 2.0}};
  EXPECT_EQ(spread_for_fewest_missed(far, 1)->garments, (std::vector<int>{0, 1}));
}

TEST(Allocation, refuses_naming_the_shelf) {
  const std::vector<Shelf> shelves{{1, 5}, {-1, 5, 0, -2}};
  const auto refused = spread_for_fewest_missed(shelves, 3);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error()[0].field, "shelves.1.per_month");
  EXPECT_EQ(refused.error()[1].field, "shelves.1.weight");
  EXPECT_EQ(refused.error()[2].field, "shelves.1.at_least");
  const std::vector<Shelf> minimum{{1, 5, 1, 2}};
  EXPECT_FALSE(spread_for_fewest_missed(minimum, 1));
  EXPECT_FALSE(reach_overall(minimum, 0));
}

}  // namespace
}  // namespace stanch::planning

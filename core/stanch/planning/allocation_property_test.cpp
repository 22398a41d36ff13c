// What must hold for any shelves: one more garment never leaves more women without, and the greedy spread is the best
// of all spreads, found by trying every one.
#include <gtest/gtest.h>
// gtest first: rapidcheck's bridge needs it
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <vector>

#include "stanch/planning/allocation.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

std::vector<Shelf> some_shelves(int most) {
  const int n = *rc::gen::inRange(1, most + 1);
  std::vector<Shelf> out;
  for (int i = 0; i < n; ++i)
    out.push_back(
        {*rc::gen::inRange(0, 60) / 10.0, *rc::gen::inRange(1, 400) / 10.0, *rc::gen::element(1.0, 1.0, 1.5, 3.0)});
  return out;
}

double missed(const std::vector<Shelf>& shelves, const std::vector<int>& garments) {
  double out = 0.0;
  for (std::size_t i = 0; i < shelves.size(); ++i)
    out += shelves[i].weight * shelves[i].per_month *
           *erlang_loss(garments[i], offered_load(shelves[i].per_month, shelves[i].turnaround_days));
  return out;
}

void try_all(const std::vector<Shelf>& shelves, std::vector<int>& spread, std::size_t at, int left, double& best) {
  if (at + 1 == shelves.size()) {
    spread[at] = left;
    best = std::min(best, missed(shelves, spread));
    return;
  }
  for (int n = 0; n <= left; ++n) {
    spread[at] = n;
    try_all(shelves, spread, at + 1, left - n, best);
  }
}

RC_GTEST_PROP(AllocationProperty, one_more_garment_never_leaves_more_women_without, ()) {
  const auto shelves = some_shelves(30);
  const int garments = *rc::gen::inRange(1, 120);
  const auto spread = spread_for_fewest_missed(shelves, garments, Keep::whole_curve);
  RC_ASSERT(spread.has_value());
  RC_ASSERT(std::is_sorted(spread->missed_after.rbegin(), spread->missed_after.rend()));
  const auto fewer = spread_for_the_worst_shelf(shelves, garments - 1);
  const auto more = spread_for_the_worst_shelf(shelves, garments);
  RC_ASSERT(more->worst <= fewer->worst);
}

RC_GTEST_PROP(AllocationProperty, greedy_is_the_best_of_all_spreads, ()) {
  const auto shelves = some_shelves(5);
  const int garments = *rc::gen::inRange(0, 13);
  const auto greedy = spread_for_fewest_missed(shelves, garments);
  RC_ASSERT(greedy.has_value());
  std::vector<int> spread(shelves.size());
  double best = 1e300;
  try_all(shelves, spread, 0, garments, best);
  RC_ASSERT(missed(shelves, greedy->garments) <= best + 1e-12);
}

}  // namespace
}  // namespace stanch::planning

// core/stanch/planning/allocation.hpp
//
// Spreading G garments over many shelves. Three aims, which disagree and are therefore named:
//   fewest women missed   greedy by gain; because the loss falls ever more slowly with each garment, every step of the
//                         greedy order is the best spread of that many garments
//   nobody worse than     the worst shelf as good as can be (minimax)
//   reach                 the fewest garments for a share missed, overall or on every shelf
//
// Source: convexity of the loss in whole garments: Messerli, Bell System Technical Journal 1972; greedy is exact: Gross
// 1956, Fox 1966 (from memory).
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::planning {

/// One shelf as the formulas see it.
struct Shelf {
  double per_month = 0.0;        ///< women in shock a month
  double turnaround_days = 0.0;  ///< from leaving the shelf until ready on it again
  double weight = 1.0;           ///< of each woman there; above 1 for shelves far from help
  int at_least = 0;              ///< garments that it gets whatever they gain
};

struct Spread {
  std::vector<int> garments;         ///< [n_shelves]
  double missed_per_month = 0.0;     ///< women who find none, all shelves
  double worst = 0.0;                ///< highest share missed on a shelf that has demand
  int left_over = 0;                 ///< of the garments asked about, those that the aim has no use for
  std::vector<std::uint32_t> order;  ///< the shelf that got each garment, in order; empty unless asked for
  std::vector<double> missed_after;  ///< [garments + 1] women missed a month with 0, 1, 2 ... garments of that order
};

enum class Keep : std::uint8_t { result_only, whole_curve };

/// Fewest (weighted) women missed with `garments` in all. Gains that are equal go to the shelf that stands first. A
/// shelf without demand gets its `at_least` only. Cost n + garments log n.
/// @return `ask.input_impossible` naming the shelf's index, or when `at_least` adds up to more than there are
[[nodiscard]] Result<Spread> spread_for_fewest_missed(std::span<const Shelf> shelves, int garments,
                                                      Keep keep = Keep::result_only);

/// Makes the highest share missed as low as it can be. `left_over` garments cannot lower it further.
[[nodiscard]] Result<Spread> spread_for_the_worst_shelf(std::span<const Shelf> shelves, int garments);

/// The fewest garments with which the share missed on every shelf is below `target`.
[[nodiscard]] Result<Spread> reach_on_every_shelf(std::span<const Shelf> shelves, double target);

/// The fewest garments with which the share missed over all shelves is below `target`.
[[nodiscard]] Result<Spread> reach_overall(std::span<const Shelf> shelves, double target);

/// Women missed a month if all shelves were one: a bound that no spread can reach.
[[nodiscard]] Result<double> missed_if_pooled(std::span<const Shelf> shelves, int garments);

}  // namespace stanch::planning

// Today's decision: where does the next clean garment go? And when is a garment replaced?
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::planning {

struct Wanting {
  double per_month = 0.0;  ///< women in shock a month
  int ready = 0;           ///< on the shelf now, and those that arrive before the next chance to deliver
  double weight = 1.0;
};

struct NextShelf {
  std::optional<std::size_t> shelf;  ///< none when no shelf has demand
  std::vector<double> gain;          ///< [n_shelves] women served by one more garment there before the next chance
};

/// One more garment serves a woman if more come than there are garments: gain = weight P(Poisson(rate H) > ready). Of
/// equal gains the first.
/// @param horizon_days  until the next chance to deliver, above 0
[[nodiscard]] Result<NextShelf> next_shelf(std::span<const Wanting> shelves, double horizon_days);

/// How long garments last: the chance to pass inspection after n uses is exp(-(n / scale)^steepness).
struct Wear {
  double scale_uses = 0.0;
  double steepness = 0.0;
};

struct Replacement {
  int uses = 0;                         ///< replace after so many
  double cost_per_use = 0.0;            ///< in units of the planned replacement's cost
  double uses_per_garment = 0.0;        ///< mean, with those that fail earlier
  double still_good = 0.0;              ///< share that reaches it
  double cost_if_run_to_failure = 0.0;  ///< per use
};

/// The number of uses with the lowest cost per use when a garment that fails costs `failed_cost` and one replaced in
/// time `planned_cost`. For the budget only: the maker's maximum and a failed inspection go before it.
/// Source: Barlow and Hunter 1960, in discrete form (from memory).
[[nodiscard]] Result<Replacement> best_replacement(const Wear& wear, double planned_cost, double failed_cost);

/// Garments to buy a year.
[[nodiscard]] double purchases_per_year(double uses_per_year, const Replacement& replacement);

}  // namespace stanch::planning

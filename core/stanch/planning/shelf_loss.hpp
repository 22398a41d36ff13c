// core/stanch/planning/shelf_loss.hpp
//
// What share of women finds no garment at one facility, with 0, 1, 2 ... garments, by the model that its way home asks
// for.
#pragma once

#include <optional>
#include <vector>

#include "stanch/planning/need.hpp"
#include "stanch/planning/rate_belief.hpp"

namespace stanch::planning {

/// A shelf whose figures are complete.
struct ShelfFigures {
  LossModel model = LossModel::comes_home;
  double ready_days = 0.0;  ///< out, cleaned and on the way back, without waiting for a trip
  double every_days = 0.0;  ///< from trip to trip, 0 when it comes at once
  double lost_share = 0.0;
  double resupply_days = 0.0;
  double unusable = 0.0;
  double season = 0.0;               ///< swing of the rate, 0 to 1
  std::optional<RateBelief> belief;  ///< else the rate is taken as known
};

/// Mean days from leaving the shelf until a garment is ready on it again, lost ones counted until replaced.
[[nodiscard]] double mean_days_away(const ShelfFigures& shelf);

/// Shares missed at this rate with 0 to `most` garments, the belief left aside.
/// A lost garment thins a shelf with trips by a Poisson number that is on order; an approximation, checked by
/// simulation.
[[nodiscard]] std::vector<double> losses_at(const ShelfFigures& shelf, double per_month, int most);

/// The same, averaged over the season and over what is not known of the rate.
[[nodiscard]] std::vector<double> losses_of(const ShelfFigures& shelf, double per_month, int most);

}  // namespace stanch::planning

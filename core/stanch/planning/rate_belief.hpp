// core/stanch/planning/rate_belief.hpp
//
// The rate of women in shock is never known exactly, differs from month to month and has seasons. What is believed of
// it is a gamma distribution; the share of women who find no garment is then averaged over it, each rate weighted by
// itself, because more women come when the rate is high.
//
// Source: Poisson counts with a conjugate gamma prior (Jeffreys: shape 0.5) and negative binomial counts, as in any
// textbook (from memory); average over a season: Green and Kolesar 1991 (from memory).
#pragma once

#include <functional>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::planning {

/// Gamma distribution of a monthly rate: mean shape / months, variance shape / months^2.
struct RateBelief {
  double shape = 0.0;
  double months = 0.0;
  [[nodiscard]] double mean() const { return shape / months; }
};

inline constexpr double jeffreys_shape = 0.5;

/// From a record of `women` in `months`, before which nothing was known (Jeffreys) or what `prior` says.
/// @return `ask.input_impossible` for a negative count or no time
[[nodiscard]] Result<RateBelief> belief_from_record(double women, double months,
                                                    RateBelief prior = {jeffreys_shape, 0.0});

/// Monthly rates that vary around `mean_per_month` with squared coefficient of variation `spread`, above 0.
[[nodiscard]] Result<RateBelief> belief_from_spread(double mean_per_month, double spread);

/// The squared coefficient of variation of the rate behind monthly counts: (variance - mean) / mean^2, never below 0.
[[nodiscard]] double spread_of_counts(double mean, double variance);

/// The rate that is not exceeded with this probability (above 0, below 1), to 1e-10 relative.
[[nodiscard]] double quantile(const RateBelief& belief, double probability);

/// Share missed at a given rate: any model of a shelf.
using LossAt = std::function<double(double per_month)>;

/// Average of `loss` over the belief, weighted by the rate. To about 1e-10 for a smooth loss; calls it some 600 times.
[[nodiscard]] double averaged_loss(const RateBelief& belief, const LossAt& loss);

/// The belief as rates with weights that add up to 1, each rate weighted by itself: for averaging many figures at
/// once. Good to about 1e-8.
struct WeightedRate {
  double per_month = 0.0;
  double weight = 0.0;
};
[[nodiscard]] std::vector<WeightedRate> weighted_rates(const RateBelief& belief);

/// Share missed over a year in which the rate swings as mean (1 + swing cos): right to about 1 % while the turnaround
/// is short against the season.
struct SeasonLoss {
  double over_the_year = 0.0;
  double flat = 0.0;  ///< what planning on the mean rate would say
  double at_the_peak = 0.0;
};

/// @param swing  from 0 to 1
[[nodiscard]] Result<SeasonLoss> loss_over_season(double mean_per_month, double swing, const LossAt& loss);

}  // namespace stanch::planning

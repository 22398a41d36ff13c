// core/stanch/planning/two_echelons.hpp
//
// The ambulance leaves its wrapped woman at the hub and takes a clean garment from the hub's own shelf at once. How
// many should the hub hold, and how many each facility? The hub's own ward is one more facility, with no way to go.
//
// Source: METRIC (Feeney and Sherbrooke 1966, Sherbrooke 1968) with lost demand (Andersson and Melchiors 2001);
// VARI-METRIC (Graves 1985, Sherbrooke 1992), all from memory. Against simulation the total is within about 5 % and on
// the pessimistic side; a single facility within about 10 %, either way.
#pragma once

#include <span>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::planning {

/// Mean and variance of garments owed by a shelf of `stock` when the number in cleaning is Poisson of this mean (0 up
/// to 700).
struct Owed {
  double mean = 0.0;
  double variance = 0.0;
};
[[nodiscard]] Result<Owed> poisson_owed(double in_cleaning, int stock);

/// Mean owed when the number in the pipeline is negative binomial of this mean and variance; Poisson when the variance
/// isn't above the mean.
[[nodiscard]] Result<double> negative_binomial_owed(double mean, double variance, int stock);

struct Outpost {
  double per_month = 0.0;  ///< women in shock a month
  double way_days = 0.0;   ///< out to the hub and back
  int garments = 0;
};

struct TwoEchelons {
  double wait_days = 0.0;         ///< of an ambulance for a clean garment at the hub, mean
  double in_cleaning = 0.0;       ///< garments worn or in cleaning at the hub, mean
  std::vector<double> none_free;  ///< [n_outposts] share of women who find none
  double missed_per_month = 0.0;
};

/// @param hub_garments  on the hub's shelf
/// @param hub_days      worn and cleaned at the hub, mean
[[nodiscard]] Result<TwoEchelons> two_echelons(std::span<const Outpost> outposts, int hub_garments, double hub_days);

struct HubSplit {
  int at_hub = 0;
  std::vector<int> at_outposts;
  double missed_per_month = 0.0;
};

/// The best split of `garments` between hub and outposts (their own counts are not read): every number at the hub, the
/// rest by gain.
[[nodiscard]] Result<HubSplit> split_with_hub(std::span<const Outpost> outposts, int garments, double hub_days);

/// The pipeline of an outpost whose demand waits: mean and variance by VARI-METRIC.
struct Pipeline {
  double mean = 0.0;
  double variance = 0.0;
};
/// @param share  of the hub's demand that comes from this outpost
[[nodiscard]] Pipeline outpost_pipeline(double per_day, double way_days, double share, const Owed& hub);

}  // namespace stanch::planning

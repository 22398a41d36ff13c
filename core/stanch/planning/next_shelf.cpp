#include "stanch/planning/next_shelf.hpp"

#include <string>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

/// P(Poisson(mean) > most), summed from the side where no digits are lost.
double poisson_above(double mean, int most) {
  double term = elementary::exp(-mean);
  double below = term;
  for (int k = 1; k <= most; ++k) {
    term *= mean / k;
    below += term;
  }
  if (below < 0.5) return 1.0 - below;
  double above = 0.0;
  for (int k = most + 1; term > 0.0; ++k) {
    term *= mean / k;
    above += term;
    if (k > mean && term < 1e-17 * above) break;
  }
  return above;
}

double survival(const Wear& wear, int uses) {
  return elementary::exp(-elementary::pow(uses / wear.scale_uses, wear.steepness));
}

}  // namespace

Result<NextShelf> next_shelf(std::span<const Wanting> shelves, double horizon_days) {
  InputCheck check;
  check.require(horizon_days > 0.0 && is_finite(horizon_days), "horizon_days", horizon_days, "it must be above 0 days");
  for (std::size_t i = 0; i < shelves.size(); ++i) {
    const std::string where = "shelves." + std::to_string(i);
    const Wanting& one = shelves[i];
    const double mean = offered_load(one.per_month, horizon_days);
    if (!(one.per_month >= 0.0 && mean <= 700.0))
      check.require(false, where + ".per_month", one.per_month,
                    "it must be 0 women a month or more, and no more than 700 before the next delivery");
    if (one.ready < 0) check.require(false, where + ".ready", one.ready, "it must be 0 or more");
    if (!(one.weight > 0.0 && is_finite(one.weight)))
      check.require(false, where + ".weight", one.weight, "it must be above 0");
  }
  if (check.failed()) return check.refusal();
  NextShelf out;
  for (std::size_t i = 0; i < shelves.size(); ++i) {
    const Wanting& one = shelves[i];
    const double mean = offered_load(one.per_month, horizon_days);
    out.gain.push_back(mean > 0.0 ? one.weight * poisson_above(mean, one.ready) : 0.0);
    if (out.gain[i] > 0.0 && (!out.shelf || out.gain[i] > out.gain[*out.shelf])) out.shelf = i;
  }
  return out;
}

Result<Replacement> best_replacement(const Wear& wear, double planned_cost, double failed_cost) {
  InputCheck check;
  check.require(wear.scale_uses > 0.0 && wear.scale_uses <= 1e5, "scale_uses", wear.scale_uses,
                "it must be above 0, up to 100000 uses");
  check.require(wear.steepness >= 0.2 && wear.steepness <= 50.0, "steepness", wear.steepness,
                "it must be from 0.2 to 50");
  check.require(planned_cost > 0.0 && is_finite(planned_cost), "planned_cost", planned_cost, "it must be above 0");
  check.require(failed_cost > 0.0 && is_finite(failed_cost), "failed_cost", failed_cost, "it must be above 0");
  if (check.failed()) return check.refusal();
  Replacement best;
  double uses_per_garment = 0.0;
  constexpr double nobody_left = 1e-12;
  constexpr int longest = 10'000'000;
  for (int n = 1; n <= longest; ++n) {
    uses_per_garment += survival(wear, n - 1);
    const double good = survival(wear, n);
    const double cost = (planned_cost * good + failed_cost * (1.0 - good)) / uses_per_garment;
    if (best.uses == 0 || cost < best.cost_per_use) {
      best.uses = n;
      best.cost_per_use = cost;
      best.uses_per_garment = uses_per_garment;
      best.still_good = good;
    }
    best.cost_if_run_to_failure = failed_cost / uses_per_garment;
    if (good < nobody_left) break;
  }
  return best;
}

double purchases_per_year(double uses_per_year, const Replacement& replacement) {
  return uses_per_year / replacement.uses_per_garment;
}

}  // namespace stanch::planning

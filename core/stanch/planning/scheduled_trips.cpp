#include "stanch/planning/scheduled_trips.hpp"

#include <cstddef>
#include <vector>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

using Row = std::vector<double>;

/// Probabilities that min(most, N) is 0 ... most, N Poisson.
Row capped_poisson(double mean, std::size_t most) {
  Row out(most + 1, 0.0);
  double term = elementary::exp(-mean);
  double left = 1.0;
  for (std::size_t k = 0; k < most; ++k) {
    out[k] = term;
    left -= term;
    term *= mean / static_cast<double>(k + 1);
  }
  out[most] = left > 0.0 ? left : 0.0;
  return out;
}

double mean_of(const Row& probabilities) {
  double out = 0.0;
  for (std::size_t k = 0; k < probabilities.size(); ++k) out += static_cast<double>(k) * probabilities[k];
  return out;
}

/// The lasting distribution of a chain by Grassmann, Taksar and Heyman (1985, from memory): no subtraction, so that
/// small probabilities keep their digits.
Row lasting(std::vector<Row> p) {
  const std::size_t n = p.size();
  for (std::size_t k = n - 1; k > 0; --k) {
    double leaving = 0.0;
    for (std::size_t j = 0; j < k; ++j) leaving += p[k][j];
    if (!(leaving > 0.0)) continue;
    for (std::size_t i = 0; i < k; ++i) {
      p[i][k] /= leaving;
      for (std::size_t j = 0; j < k; ++j) p[i][j] += p[i][k] * p[k][j];
    }
  }
  Row pi(n, 0.0);
  pi[0] = 1.0;
  double sum = 1.0;
  for (std::size_t k = 1; k < n; ++k) {
    for (std::size_t i = 0; i < k; ++i) pi[k] += pi[i] * p[i][k];
    sum += pi[k];
  }
  for (double& one : pi) one /= sum;
  return pi;
}

}  // namespace

Result<double> trip_loss(double per_month, double every_days, double ready_days, int garments) {
  InputCheck check;
  check.require(per_month >= 0.0 && is_finite(per_month), "per_month", per_month, "it must be 0 women a month or more");
  check.require(every_days > 0.0 && is_finite(every_days), "every_days", every_days, "it must be above 0 days");
  check.require(ready_days >= 0.0 && ready_days <= every_days, "ready_days", ready_days,
                "it must be from 0 to the days between trips");
  check.require(garments >= 0 && garments <= most_in_chain, "garments", garments, "it must be from 0 to 400");
  const double in_time = per_month * (every_days - ready_days) / days_per_month;  // women early enough for this trip
  const double late = per_month * ready_days / days_per_month;
  check.require(in_time + late < 700.0, "per_month", per_month, "it must be fewer than 700 women between two trips");
  if (check.failed()) return check.refusal();
  if (garments == 0) return 1.0;
  if (per_month == 0.0) return 0.0;
  const auto s = static_cast<std::size_t>(garments);
  // State: garments still out just after a trip; they come with the next one, as do those used early enough before it.
  std::vector<Row> chain(s + 1, Row(s + 1, 0.0));
  for (std::size_t out = 0; out <= s; ++out) {
    const Row early = capped_poisson(in_time, s - out);
    for (std::size_t used = 0; used <= s - out; ++used) {
      const Row after = capped_poisson(late, s - out - used);
      for (std::size_t next = 0; next < after.size(); ++next) chain[out][next] += early[used] * after[next];
    }
  }
  const Row pi = lasting(std::move(chain));
  double served = 0.0;
  for (std::size_t out = 0; out <= s; ++out) served += pi[out] * mean_of(capped_poisson(in_time + late, s - out));
  const double loss = 1.0 - served / (in_time + late);
  return loss > 0.0 ? loss : 0.0;
}

Result<double> worth_of_a_trip(int garments_saved, double garment_price, double garment_months,
                               double extra_trips_per_month) {
  InputCheck check;
  check.require(garment_price >= 0.0 && is_finite(garment_price), "garment_price", garment_price,
                "it must be 0 or more");
  check.require(garment_months > 0.0 && is_finite(garment_months), "garment_months", garment_months,
                "it must be above 0 months");
  check.require(extra_trips_per_month > 0.0 && is_finite(extra_trips_per_month), "extra_trips_per_month",
                extra_trips_per_month, "it must be above 0");
  if (check.failed()) return check.refusal();
  return garments_saved * garment_price / garment_months / extra_trips_per_month;
}

}  // namespace stanch::planning

#include "stanch/planning/closed_network.hpp"

#include <string>

#include "stanch/base/input_check.hpp"
#include "stanch/base/sum.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

InputCheck checked(std::span<const Station> stations, double cycle_days, int garments) {
  InputCheck check;
  double shares = 0.0;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const std::string where = "stations." + std::to_string(i);
    const Station& one = stations[i];
    if (!(one.per_month > 0.0 && is_finite(one.per_month)))
      check.require(false, where + ".per_month", one.per_month, "it must be above 0 women a month");
    if (!(one.share >= 0.0 && one.share <= 1.0))
      check.require(false, where + ".share", one.share, "it must be a share from 0 to 1");
    shares += one.share;
  }
  check.require(shares > 1.0 - 1e-9 && shares < 1.0 + 1e-9, "stations.share", shares, "the shares must add up to 1");
  check.require(cycle_days > 0.0 && is_finite(cycle_days), "cycle_days", cycle_days, "it must be above 0 days");
  check.require(garments >= 0 && garments <= most_garments, "garments", garments, "it must be from 0 to 10 million");
  return check;
}

}  // namespace

Result<Drift> drifting_garments(std::span<const Station> stations, double cycle_days, int garments) {
  const InputCheck check = checked(stations, cycle_days, garments);
  if (check.failed()) return check.refusal();
  const double cycle_months = cycle_days / days_per_month;
  std::vector<double> waiting(stations.size(), 0.0);  // garments waiting at each facility
  std::vector<double> wait(stations.size());          // months that a garment brought there now would wait, by share
  double uses = 0.0;
  for (int n = 1; n <= garments; ++n) {
    double round_trip = cycle_months;
    for (std::size_t i = 0; i < stations.size(); ++i) {
      wait[i] = stations[i].share * (1.0 + waiting[i]) / stations[i].per_month;
      round_trip += wait[i];
    }
    uses = static_cast<double>(n) / round_trip;
    for (std::size_t i = 0; i < stations.size(); ++i) waiting[i] = uses * wait[i];
  }
  Drift out;
  out.uses_per_month = uses;
  CompensatedSum missed;
  for (const Station& one : stations) {
    out.none_free.push_back(1.0 - uses * one.share / one.per_month);
    missed.add(one.per_month * out.none_free.back());
  }
  out.missed_per_month = missed.value();
  return out;
}

}  // namespace stanch::planning

#include "stanch/planning/need.hpp"

#include <algorithm>
#include <utility>

#include "stanch/base/input_check.hpp"
#include "stanch/base/sum.hpp"
#include "stanch/planning/erlang.hpp"
#include "stanch/planning/scheduled_trips.hpp"
#include "stanch/planning/shelf_loss.hpp"

namespace stanch::planning {
namespace {

constexpr double range_low = 0.05;  // 9 in 10 lie between
constexpr double range_high = 0.95;
constexpr int spare_rows = 4;  // beyond the need, so that a spread and a chart can go on

double taken_as_0(const std::optional<double>& told, const char* column, FacilityNeed& out) {
  if (!told) out.assumed.emplace_back(column);
  return told.value_or(0.0);
}

/// The rate and its range; false when there is none.
bool read_rate(const Facility& facility, FacilityNeed& out, ShelfFigures& shelf) {
  if (facility.women_seen && facility.months_seen) {
    shelf.belief = *belief_from_record(*facility.women_seen, *facility.months_seen);
    out.rate_from = RateFrom::record;
    out.women_per_year = {shelf.belief->mean() * months_per_year, quantile(*shelf.belief, range_low) * months_per_year,
                          quantile(*shelf.belief, range_high) * months_per_year};
    return true;
  }
  double per_year = 0.0;
  if (facility.women_per_year) {
    out.rate_from = RateFrom::told;
    per_year = *facility.women_per_year;
  } else if (facility.births_per_year && facility.women_per_100_births) {
    out.rate_from = RateFrom::births;
    per_year = *facility.births_per_year * *facility.women_per_100_births / 100.0;
  } else {
    return false;
  }
  out.women_per_year = {per_year, per_year, per_year};
  return true;
}

ShelfFigures figures_of(const Facility& facility, double days_out, double others) {
  ShelfFigures shelf;
  shelf.ready_days = days_out + others;
  shelf.every_days = facility.trip_every_days.value_or(0.0);
  shelf.lost_share = facility.lost_percent.value_or(0.0) / 100.0;
  shelf.resupply_days = facility.resupply_days.value_or(0.0);
  shelf.unusable = facility.unusable_percent.value_or(0.0) / 100.0;
  shelf.season = facility.season_percent.value_or(0.0) / 100.0;
  if (shelf.every_days > 0.0)
    shelf.model = shelf.ready_days <= shelf.every_days ? LossModel::trips : LossModel::trips_by_mean;
  return shelf;
}

int most_for(const ShelfFigures& shelf) { return shelf.model == LossModel::trips ? most_in_chain : 100'000; }

/// Losses with so many garments that the last one is below the target; empty when none is.
template <class Ask>
std::vector<double> losses_to(double target, int at_least, int most, Ask ask) {
  for (int n = std::max(8, at_least);; n = std::min(2 * n, most)) {
    std::vector<double> losses = ask(n);
    if (losses.back() < target) return losses;
    if (n >= most) return {};
  }
}

int first_below(const std::vector<double>& losses, double target) {
  const auto it = std::find_if(losses.begin(), losses.end(), [&](double loss) { return loss < target; });
  return static_cast<int>(it - losses.begin());
}

int need_at(const ShelfFigures& shelf, double women_per_year, double target) {
  const auto losses = losses_to(target, 0, most_for(shelf),
                                [&](int n) { return losses_at(shelf, women_per_year / months_per_year, n); });
  return losses.empty() ? most_for(shelf) : first_below(losses, target);
}

double loss_with(const FacilityNeed& facility, int garments) {
  const auto at = static_cast<std::size_t>(std::max(0, garments));
  return at < facility.none_free.size() ? facility.none_free[at] : facility.none_free.back();
}

double missed_with(const FacilityNeed& facility, int garments) {
  return facility.women_per_year.value * loss_with(facility, garments);
}

FacilityNeed need_of(const Facility& facility, const NeedOptions& options) {
  FacilityNeed out;
  out.name = facility.name;
  out.line = facility.line;
  out.have = facility.have;
  ShelfFigures rate;
  if (!read_rate(facility, out, rate)) {
    out.left_out = "no_rate";
    return out;
  }
  if (!facility.days_out) {
    out.left_out = "no_days";
    return out;
  }
  const double others =
      taken_as_0(facility.days_clean, "days_clean", out) + taken_as_0(facility.days_back, "days_back", out);
  (void)taken_as_0(facility.trip_every_days, "trip_every_days", out);
  (void)taken_as_0(facility.lost_percent, "lost_percent", out);
  ShelfFigures shelf = figures_of(facility, *facility.days_out, others);
  shelf.belief = rate.belief;
  const ShelfFigures quick = figures_of(facility, facility.days_out_low.value_or(*facility.days_out), others);
  const ShelfFigures slow = figures_of(facility, facility.days_out_high.value_or(*facility.days_out), others);
  out.model = shelf.model;
  out.days_away = {mean_days_away(shelf), mean_days_away(quick), mean_days_away(slow)};
  const int has = facility.have.value_or(0);
  const double per_month = out.women_per_year.value / months_per_year;
  out.none_free = losses_to(options.target, has + 1, most_for(shelf),
                            [&](int n) { return losses_of(shelf, per_month, std::min(n, most_for(shelf))); });
  if (out.none_free.empty()) {
    out.left_out = "too_many";
    return out;
  }
  out.need = std::max(first_below(out.none_free, options.target), facility.at_least.value_or(0));
  out.need_low = std::min(out.need, need_at(quick, out.women_per_year.low, options.target));
  out.need_high = std::max(out.need, need_at(slow, out.women_per_year.high, options.target));
  const int rows = std::min(std::max(out.need_high, has) + spare_rows, most_for(shelf));
  out.none_free = losses_of(shelf, per_month, rows);
  out.missed_per_year = missed_with(out, has);
  out.one_more_per_year = out.missed_per_year - missed_with(out, has + 1);
  return out;
}

/// Garments one by one to where each saves most (weighted) women, of equal ones to the first.
class Spreader {
 public:
  Spreader(const Need& need, const std::vector<Facility>& facilities, std::vector<int> start)
      : need_(need), facilities_(facilities), garments_(std::move(start)) {}

  /// The shelf that gains most, or nothing when none gains.
  template <class May>
  [[nodiscard]] std::optional<std::size_t> next(May may) const {
    std::optional<std::size_t> best;
    double best_gain = 0.0;
    for (std::size_t i = 0; i < garments_.size(); ++i) {
      if (!need_.facilities[i].left_out.empty() || !may(i, garments_[i])) continue;
      const double gain = facilities_[i].weight.value_or(1.0) * saves(i);
      if (gain <= best_gain) continue;
      best = i;
      best_gain = gain;
    }
    return best;
  }
  [[nodiscard]] double saves(std::size_t i) const {
    return missed_with(need_.facilities[i], garments_[i]) - missed_with(need_.facilities[i], garments_[i] + 1);
  }
  void add(std::size_t i) { ++garments_[i]; }
  [[nodiscard]] int at(std::size_t i) const { return garments_[i]; }

 private:
  const Need& need_;
  const std::vector<Facility>& facilities_;
  std::vector<int> garments_;
};

constexpr auto anywhere = [](std::size_t, int) { return true; };

// What is given first whatever it gains: the told minimum, as far as the garments go.
std::vector<int> minimum(const Need& need, const std::vector<Facility>& facilities) {
  std::vector<int> out;
  int left = need.garments;
  for (std::size_t i = 0; i < facilities.size(); ++i) {
    const int wanted = need.facilities[i].left_out.empty() ? facilities[i].at_least.value_or(0) : 0;
    out.push_back(std::min(left, wanted));
    left -= out.back();
  }
  return out;
}

void spread_over_district(Need& need, const std::vector<Facility>& facilities) {
  std::vector<int> start = minimum(need, facilities);
  int given = 0;
  for (const int n : start) given += n;
  Spreader best(need, facilities, std::move(start));
  while (given < need.garments) {
    const auto next = best.next(anywhere);
    if (!next) break;
    best.add(*next);
    ++given;
  }
  CompensatedSum missed;
  for (std::size_t i = 0; i < facilities.size(); ++i) {
    if (!need.facilities[i].left_out.empty()) continue;
    need.facilities[i].best = best.at(i);
    missed.add(missed_with(need.facilities[i], best.at(i)));
  }
  need.missed_if_spread = missed.value();
}

void what_to_buy(Need& need, const std::vector<Facility>& facilities) {
  std::vector<int> start;
  for (const FacilityNeed& one : need.facilities) start.push_back(one.have.value_or(0));
  Spreader buying(need, facilities, std::move(start));
  const auto lacks = [&](std::size_t i, int garments) { return garments < need.facilities[i].need; };
  while (const auto next = buying.next(lacks)) {
    need.next.push_back({*next, buying.at(*next) + 1, buying.saves(*next)});
    buying.add(*next);
  }
}

void curve_of(Need& need, const std::vector<Facility>& facilities) {
  Spreader spread(need, facilities, std::vector<int>(facilities.size(), 0));
  CompensatedSum missed;
  missed.add(need.women_per_year);
  need.missed_by_garments.push_back(missed.value());
  const int most = std::max(need.need_high, need.garments);
  for (int n = 0; n < most; ++n) {
    const auto next = spread.next(anywhere);
    if (!next) break;
    missed.add(-spread.saves(*next));
    spread.add(*next);
    need.missed_by_garments.push_back(missed.value());
  }
}

}  // namespace

std::string_view word(RateFrom from) {
  constexpr std::string_view words[] = {"record", "told", "births"};
  return words[static_cast<std::size_t>(from)];
}

std::string_view word(LossModel model) {
  constexpr std::string_view words[] = {"comes_home", "trips", "trips_by_mean"};
  return words[static_cast<std::size_t>(model)];
}

Result<Need> need_of(const FacilityTable& table, const NeedOptions& options) {
  InputCheck check;
  check.require(options.target > 0.0 && options.target <= 1.0, "target", options.target,
                "it must be a share above 0, up to 1");
  check.require(options.garments.value_or(0) >= 0 && options.garments.value_or(0) <= most_garments, "garments",
                options.garments.value_or(0), "it must be from 0 to 10 million");
  if (check.failed()) return check.refusal();
  Need out;
  out.options = options;
  out.unknown_columns = table.unknown_columns;
  CompensatedSum women;
  CompensatedSum missed;
  CompensatedSum missed_with_need;
  for (const Facility& facility : table.facilities) {
    FacilityNeed one = need_of(facility, options);
    out.have += one.have.value_or(0);
    if (one.left_out.empty()) {
      out.need += one.need;
      out.need_low += one.need_low;
      out.need_high += one.need_high;
      women.add(one.women_per_year.value);
      missed.add(one.missed_per_year);
      missed_with_need.add(missed_with(one, one.need));
    }
    out.facilities.push_back(std::move(one));
  }
  out.women_per_year = women.value();
  out.missed_per_year = missed.value();
  out.missed_if_needed = missed_with_need.value();
  out.garments = options.garments.value_or(out.have);
  spread_over_district(out, table.facilities);
  what_to_buy(out, table.facilities);
  curve_of(out, table.facilities);
  return out;
}

}  // namespace stanch::planning

#include "stanch/planning/two_echelons.hpp"

#include <algorithm>
#include <string>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/base/sum.hpp"
#include "stanch/planning/allocation.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

constexpr double most_mean = 700.0;  // e^-mean is still a normal number

Owed owed_at(double mean, int stock) {
  // E[(X-s)+] = m - s + sum over x < s of (s-x) p(x), and likewise for the square.
  double short_mean = 0.0;
  double short_square = 0.0;
  double p = elementary::exp(-mean);
  for (int x = 0; x < stock; ++x) {
    const double left = stock - x;
    short_mean += left * p;
    short_square += left * left * p;
    p *= mean / (x + 1);
  }
  const double above = mean - stock;
  const double owed = std::max(0.0, above + short_mean);
  return {owed, std::max(0.0, mean + above * above - short_square - owed * owed)};
}

void require_stock(InputCheck& check, const char* field, int stock) {
  check.require(stock >= 0 && stock <= most_garments, field, stock, "it must be from 0 to 10 million");
}

InputCheck checked(std::span<const Outpost> outposts, double hub_days, int hub_garments) {
  InputCheck check;
  double per_month = 0.0;
  for (std::size_t i = 0; i < outposts.size(); ++i) {
    const std::string where = "outposts." + std::to_string(i);
    const Outpost& one = outposts[i];
    if (!(one.per_month >= 0.0 && is_finite(one.per_month)))
      check.require(false, where + ".per_month", one.per_month, "it must be 0 women a month or more");
    if (!(one.way_days >= 0.0 && is_finite(one.way_days)))
      check.require(false, where + ".way_days", one.way_days, "it must be 0 days or more");
    if (one.garments < 0) check.require(false, where + ".garments", one.garments, "it must be 0 or more");
    per_month += one.per_month;
  }
  check.require(hub_days >= 0.0 && is_finite(hub_days), "hub_days", hub_days, "it must be 0 days or more");
  check.require(offered_load(per_month, hub_days) <= most_mean, "hub_days", hub_days,
                "with these women it must give no more than 700 garments at the hub");
  require_stock(check, "hub_garments", hub_garments);
  return check;
}

double loss_of(const Outpost& one, double wait_days) {
  const double load = offered_load(one.per_month, one.way_days + wait_days);
  double loss = 1.0;
  for (int s = 1; s <= one.garments; ++s) loss = next_erlang_loss(loss, load, s);
  return loss;
}

TwoEchelons settled(std::span<const Outpost> outposts, int hub_garments, double hub_days) {
  TwoEchelons out;
  out.none_free.assign(outposts.size(), 0.0);
  constexpr int most_rounds = 1000;
  constexpr double close_enough = 1e-13;
  double change = 1.0;
  for (int round = 0; round < most_rounds && change > close_enough; ++round) {
    double arriving = 0.0;
    for (std::size_t i = 0; i < outposts.size(); ++i) arriving += outposts[i].per_month * (1.0 - out.none_free[i]);
    out.in_cleaning = offered_load(arriving, hub_days);
    out.wait_days = arriving > 0.0 ? owed_at(out.in_cleaning, hub_garments).mean / arriving * days_per_month : 0.0;
    change = 0.0;
    for (std::size_t i = 0; i < outposts.size(); ++i) {
      const double loss = loss_of(outposts[i], out.wait_days);
      const double moved = loss - out.none_free[i];
      change = std::max(change, moved < 0.0 ? -moved : moved);
      out.none_free[i] = loss;
    }
  }
  CompensatedSum missed;
  for (std::size_t i = 0; i < outposts.size(); ++i) missed.add(outposts[i].per_month * out.none_free[i]);
  out.missed_per_month = missed.value();
  return out;
}

/// Given the hub's stock: the spread by gain and the wait it leads to, in turn, until neither changes.
std::vector<Outpost> best_beside_hub(std::vector<Outpost> outposts, int at_hub, int garments, double hub_days,
                                     double& missed) {
  std::vector<Outpost> best = outposts;
  missed = -1.0;
  constexpr int most_rounds = 30;
  double wait = 0.0;
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<Shelf> shelves;
    for (const Outpost& one : outposts) shelves.push_back({one.per_month, one.way_days + wait});
    const auto spread = spread_for_fewest_missed(shelves, garments - at_hub);
    if (!spread) break;
    for (std::size_t i = 0; i < outposts.size(); ++i) outposts[i].garments = spread->garments[i];
    const TwoEchelons now = settled(outposts, at_hub, hub_days);
    if (missed < 0.0 || now.missed_per_month < missed) {
      missed = now.missed_per_month;
      best = outposts;
    }
    if (now.wait_days == wait) break;
    wait = now.wait_days;
  }
  return best;
}

}  // namespace

Result<Owed> poisson_owed(double in_cleaning, int stock) {
  InputCheck check;
  check.require(in_cleaning >= 0.0 && in_cleaning <= most_mean, "in_cleaning", in_cleaning, "it must be from 0 to 700");
  require_stock(check, "stock", stock);
  if (check.failed()) return check.refusal();
  return owed_at(in_cleaning, stock);
}

Result<double> negative_binomial_owed(double mean, double variance, int stock) {
  InputCheck check;
  check.require(mean >= 0.0 && mean <= most_mean, "mean", mean, "it must be from 0 to 700");
  check.require(variance >= 0.0 && is_finite(variance), "variance", variance, "it must be 0 or more");
  require_stock(check, "stock", stock);
  if (check.failed()) return check.refusal();
  if (!(variance > mean)) return owed_at(mean, stock).mean;
  const double p = mean / variance;
  const double r = mean * p / (1.0 - p);
  double probability = elementary::pow(p, r);
  double owed = mean - stock;
  for (int x = 0; x < stock; ++x) {
    owed += (stock - x) * probability;
    probability *= (x + r) / (x + 1) * (1.0 - p);
  }
  return std::max(0.0, owed);
}

Result<TwoEchelons> two_echelons(std::span<const Outpost> outposts, int hub_garments, double hub_days) {
  const InputCheck check = checked(outposts, hub_days, hub_garments);
  if (check.failed()) return check.refusal();
  return settled(outposts, hub_garments, hub_days);
}

Result<HubSplit> split_with_hub(std::span<const Outpost> outposts, int garments, double hub_days) {
  const InputCheck check = checked(outposts, hub_days, garments);
  if (check.failed()) return check.refusal();
  HubSplit out;
  out.missed_per_month = -1.0;
  for (int at_hub = 0; at_hub <= garments; ++at_hub) {
    double missed = 0.0;
    const auto best = best_beside_hub({outposts.begin(), outposts.end()}, at_hub, garments, hub_days, missed);
    if (out.missed_per_month >= 0.0 && missed >= out.missed_per_month) continue;
    out.missed_per_month = missed;
    out.at_hub = at_hub;
    out.at_outposts.clear();
    for (const Outpost& one : best) out.at_outposts.push_back(one.garments);
  }
  return out;
}

Pipeline outpost_pipeline(double per_day, double way_days, double share, const Owed& hub) {
  const double on_the_way = per_day * way_days;
  return {on_the_way + share * hub.mean, on_the_way + share * (1.0 - share) * hub.mean + share * share * hub.variance};
}

}  // namespace stanch::planning

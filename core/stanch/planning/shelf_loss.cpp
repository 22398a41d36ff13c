#include "stanch/planning/shelf_loss.hpp"

#include <algorithm>

#include "stanch/base/elementary.hpp"
#include "stanch/planning/erlang.hpp"
#include "stanch/planning/scheduled_trips.hpp"

namespace stanch::planning {
namespace {

std::vector<double> trip_losses(const ShelfFigures& shelf, double per_month, int most) {
  std::vector<double> whole;
  for (int s = 0; s <= most; ++s)
    whole.push_back(trip_loss(per_month, shelf.every_days, shelf.ready_days, s).value_or(1.0));
  const double on_order = offered_load(per_month, shelf.lost_share * shelf.resupply_days);
  if (on_order == 0.0) return whole;
  std::vector<double> out;
  for (int s = 0; s <= most; ++s) {
    double term = elementary::exp(-on_order);
    double left = 1.0;
    double loss = 0.0;
    for (int k = 0; k < s; ++k) {
      loss += term * whole[static_cast<std::size_t>(s - k)];
      left -= term;
      term *= on_order / (k + 1);
    }
    out.push_back(loss + std::max(0.0, left));
  }
  return out;
}

std::vector<double> erlang_losses(const ShelfFigures& shelf, double per_month, int most) {
  const double load = offered_load(per_month, mean_days_away(shelf));
  std::vector<double> out{1.0};
  for (int s = 1; s <= most; ++s) out.push_back(next_erlang_loss(out.back(), load, s));
  return out;
}

using Losses = std::vector<double>;

/// Averages vectors of losses by asking for each of them once a rate.
class Averaged {
 public:
  explicit Averaged(int most) : sums_(static_cast<std::size_t>(most) + 1, 0.0) {}
  void add(const Losses& losses, double weight) {
    for (std::size_t i = 0; i < sums_.size(); ++i) sums_[i] += weight * losses[i];
    weights_ += weight;
  }
  [[nodiscard]] Losses value() const {
    Losses out = sums_;
    for (double& one : out) one /= weights_;
    return out;
  }

 private:
  Losses sums_;
  double weights_ = 0.0;
};

Losses over_the_season(const ShelfFigures& shelf, double per_month, int most) {
  if (shelf.season == 0.0) return losses_at(shelf, per_month, most);
  // As loss_over_season, with all numbers of garments at once: 16 steps are plenty for a smooth swing.
  constexpr int steps = 16;
  constexpr double cos_of_step = 0.92387953251128675613;  // cos(2 pi / 16)
  Averaged average(most);
  double cosine = 1.0;
  double before = cos_of_step;
  for (int i = 0; i < steps; ++i) {
    const double rate = per_month * (1.0 + shelf.season * cosine);
    if (rate > 0.0) average.add(losses_at(shelf, rate, most), rate);
    const double next = 2.0 * cos_of_step * cosine - before;
    before = cosine;
    cosine = next;
  }
  return average.value();
}

}  // namespace

double mean_days_away(const ShelfFigures& shelf) {
  const double wait = shelf.every_days / 2.0;
  return turnaround_with_losses(shelf.ready_days + wait, shelf.lost_share, shelf.resupply_days).value_or(0.0);
}

std::vector<double> losses_at(const ShelfFigures& shelf, double per_month, int most) {
  Losses out =
      shelf.model == LossModel::trips ? trip_losses(shelf, per_month, most) : erlang_losses(shelf, per_month, most);
  for (std::size_t s = 1; s < out.size() && shelf.unusable > 0.0; ++s)
    out[s] += (1.0 - out[s]) * shelf.unusable * out[s - 1];
  return out;
}

std::vector<double> losses_of(const ShelfFigures& shelf, double per_month, int most) {
  if (!shelf.belief) return over_the_season(shelf, per_month, most);
  Averaged average(most);
  for (const WeightedRate& one : weighted_rates(*shelf.belief))
    average.add(over_the_season(shelf, one.per_month, most), one.weight);
  return average.value();
}

}  // namespace stanch::planning

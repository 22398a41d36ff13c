#include "stanch/planning/allocation.hpp"

#include <algorithm>
#include <string>

#include "stanch/base/input_check.hpp"
#include "stanch/base/sum.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

/// A shelf that waits for its next garment.
struct Waiting {
  double gain;  ///< what decides who is next
  std::uint32_t shelf;
};

bool comes_first(const Waiting& a, const Waiting& b) {
  return a.gain > b.gain || (a.gain == b.gain && a.shelf < b.shelf);
}

/// The waiting shelves with the next one on top. The top is changed in place, which costs half of taking it out and
/// putting it back.
class Queue {
 public:
  explicit Queue(std::vector<Waiting> all) : all_(std::move(all)) {
    std::make_heap(all_.begin(), all_.end(), [](const Waiting& a, const Waiting& b) { return comes_first(b, a); });
  }
  [[nodiscard]] bool empty() const { return all_.empty(); }
  [[nodiscard]] const Waiting& top() const { return all_.front(); }
  void change_top(double gain) {
    const Waiting changed{gain, all_.front().shelf};
    std::size_t at = 0;
    for (std::size_t child = 1; child < all_.size(); child = 2 * at + 1) {
      if (child + 1 < all_.size() && comes_first(all_[child + 1], all_[child])) ++child;
      if (!comes_first(all_[child], changed)) break;
      all_[at] = all_[child];
      at = child;
    }
    all_[at] = changed;
  }

 private:
  std::vector<Waiting> all_;
};

/// A shelf on its way: garments so far, the loss with them and with one more.
struct Filling {
  double per_month;
  double load;
  double weight;
  double loss;
  double next_loss;
  int garments;
};

class Filler {
 public:
  explicit Filler(std::span<const Shelf> shelves) {
    all_.reserve(shelves.size());
    for (const Shelf& shelf : shelves) {
      const double load = offered_load(shelf.per_month, shelf.turnaround_days);
      all_.push_back({shelf.per_month, load, shelf.weight, 1.0, next_erlang_loss(1.0, load, 1), 0});
      missed_.add(shelf.per_month);
      for (int i = 0; i < shelf.at_least; ++i) add(all_.size() - 1);
    }
  }

  void add(std::size_t shelf) {
    Filling& one = all_[shelf];
    missed_.add(-one.per_month * (one.loss - one.next_loss));
    one.loss = one.next_loss;
    ++one.garments;
    one.next_loss = next_erlang_loss(one.loss, one.load, one.garments + 1);
    ++given_;
  }

  [[nodiscard]] double gain(std::size_t shelf) const {
    const Filling& one = all_[shelf];
    return one.weight * one.per_month * (one.loss - one.next_loss);
  }
  [[nodiscard]] const Filling& at(std::size_t shelf) const { return all_[shelf]; }
  [[nodiscard]] std::size_t size() const { return all_.size(); }
  [[nodiscard]] int given() const { return given_; }
  [[nodiscard]] double missed_per_month() const { return missed_.value(); }

  template <class Rank>
  [[nodiscard]] Queue queue(Rank rank) const {
    std::vector<Waiting> waiting;
    waiting.reserve(all_.size());
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (all_[i].per_month > 0.0) waiting.push_back({rank(i), static_cast<std::uint32_t>(i)});
    return Queue(std::move(waiting));
  }

  /// Sums anew from the end state, so that the total does not depend on the way there.
  void finish(Spread& out) const {
    CompensatedSum missed;
    out.garments.reserve(all_.size());
    for (const Filling& one : all_) {
      out.garments.push_back(one.garments);
      missed.add(one.per_month * one.loss);
      if (one.per_month > 0.0) out.worst = std::max(out.worst, one.loss);
    }
    out.missed_per_month = missed.value();
  }

 private:
  std::vector<Filling> all_;
  CompensatedSum missed_;
  int given_ = 0;
};

InputCheck checked(std::span<const Shelf> shelves) {
  InputCheck check;
  for (std::size_t i = 0; i < shelves.size(); ++i) {
    const Shelf& one = shelves[i];
    const auto field = [&](const char* name) { return "shelves." + std::to_string(i) + "." + name; };
    const double load = offered_load(one.per_month, one.turnaround_days);
    if (!(one.per_month >= 0.0 && is_finite(one.per_month)))
      check.require(false, field("per_month"), one.per_month, "it must be 0 women a month or more");
    if (!(one.turnaround_days >= 0.0 && is_finite(load)))
      check.require(false, field("turnaround_days"), one.turnaround_days, "it must be 0 days or more");
    if (!(one.weight > 0.0 && is_finite(one.weight)))
      check.require(false, field("weight"), one.weight, "it must be above 0");
    if (one.at_least < 0) check.require(false, field("at_least"), one.at_least, "it must be 0 or more");
  }
  return check;
}

InputCheck checked(std::span<const Shelf> shelves, int garments) {
  InputCheck check = checked(shelves);
  check.require(garments >= 0 && garments <= most_garments, "garments", garments, "it must be from 0 to 10 million");
  long long least = 0;
  for (const Shelf& one : shelves) least += one.at_least;
  check.require(least <= garments, "garments", garments, "fewer than the shelves are to have at least");
  return check;
}

InputCheck checked(std::span<const Shelf> shelves, double target) {
  InputCheck check = checked(shelves);
  check.require(target > 0.0 && target <= 1.0, "target", target, "it must be a share above 0, up to 1");
  return check;
}

}  // namespace

Result<Spread> spread_for_fewest_missed(std::span<const Shelf> shelves, int garments, Keep keep) {
  const InputCheck check = checked(shelves, garments);
  if (check.failed()) return check.refusal();
  const bool curve = keep == Keep::whole_curve;
  Filler filler(shelves);
  Spread out;
  if (curve) out.missed_after.push_back(filler.missed_per_month());
  Queue queue = filler.queue([&](std::size_t i) { return filler.gain(i); });
  while (filler.given() < garments && !queue.empty()) {
    const std::size_t shelf = queue.top().shelf;
    filler.add(shelf);
    queue.change_top(filler.gain(shelf));
    if (!curve) continue;
    out.order.push_back(static_cast<std::uint32_t>(shelf));
    out.missed_after.push_back(filler.missed_per_month());
  }
  out.left_over = garments - filler.given();
  filler.finish(out);
  return out;
}

Result<Spread> spread_for_the_worst_shelf(std::span<const Shelf> shelves, int garments) {
  const InputCheck check = checked(shelves, garments);
  if (check.failed()) return check.refusal();
  Filler filler(shelves);
  const auto loss = [&](std::size_t i) { return filler.at(i).loss; };
  Queue queue = filler.queue(loss);
  std::vector<std::pair<std::size_t, double>> given;  // to whom, and the loss there before
  while (filler.given() < garments && !queue.empty()) {
    const std::size_t shelf = queue.top().shelf;
    given.emplace_back(shelf, queue.top().gain);
    filler.add(shelf);
    queue.change_top(filler.at(shelf).loss);
  }
  Spread out;
  out.left_over = garments - filler.given();
  filler.finish(out);
  // Several shelves may tie for the worst: garments that only some of them got lower nothing and are handed back.
  for (auto last = given.rbegin(); last != given.rend() && last->second <= out.worst; ++last) {
    const auto [shelf, before] = *last;
    out.missed_per_month +=
        shelves[shelf].per_month * (before - *erlang_loss(out.garments[shelf], filler.at(shelf).load));
    --out.garments[shelf];
    ++out.left_over;
  }
  return out;
}

Result<Spread> reach_on_every_shelf(std::span<const Shelf> shelves, double target) {
  const InputCheck check = checked(shelves, target);
  if (check.failed()) return check.refusal();
  Filler filler(shelves);
  for (std::size_t i = 0; i < filler.size(); ++i)
    while (filler.at(i).per_month > 0.0 && !(filler.at(i).loss < target)) filler.add(i);
  Spread out;
  filler.finish(out);
  return out;
}

Result<Spread> reach_overall(std::span<const Shelf> shelves, double target) {
  const InputCheck check = checked(shelves, target);
  if (check.failed()) return check.refusal();
  Filler filler(shelves);
  CompensatedSum all;
  for (const Shelf& one : shelves) all.add(one.per_month);
  Queue queue = filler.queue([&](std::size_t i) { return filler.gain(i); });
  while (!queue.empty() && !(filler.missed_per_month() < target * all.value())) {
    const std::size_t shelf = queue.top().shelf;
    filler.add(shelf);
    queue.change_top(filler.gain(shelf));
  }
  Spread out;
  filler.finish(out);
  return out;
}

Result<double> missed_if_pooled(std::span<const Shelf> shelves, int garments) {
  const InputCheck check = checked(shelves, garments);
  if (check.failed()) return check.refusal();
  CompensatedSum load;
  CompensatedSum rate;
  for (const Shelf& one : shelves) {
    load.add(offered_load(one.per_month, one.turnaround_days));
    rate.add(one.per_month);
  }
  const auto loss = erlang_loss(garments, load.value());
  if (!loss) return tl::unexpected<Problems>(loss.error());
  return rate.value() * *loss;
}

}  // namespace stanch::planning

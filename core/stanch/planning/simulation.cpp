#include "stanch/planning/simulation.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/planning/erlang.hpp"

namespace stanch::planning {
namespace {

constexpr double days_per_year = 365.25;
constexpr unsigned subject_bits = 28;
constexpr std::uint32_t subject_mask = (1U << subject_bits) - 1;
// Each woman has a row of draws of her own, one for each thing that happens to her garment.
constexpr std::uint64_t draws_per_woman = 4;
enum Draw : std::uint8_t { out_time, clean_time, back_time };

void require_time(InputCheck& check, const std::string& field, double days) {
  if (!(days >= 0.0 && is_finite(days))) check.require(false, field, days, "it must be 0 days or more");
}

void require_share(InputCheck& check, const char* field, double share) {
  check.require(share >= 0.0 && share <= 1.0, field, share, "it must be a share from 0 to 1");
}

InputCheck checked(const SimulationSetup& setup) {
  InputCheck check;
  double garments = setup.hub ? setup.hub->garments : 0;
  double women = 0.0;
  for (std::size_t i = 0; i < setup.shelves.size(); ++i) {
    const std::string where = "shelves." + std::to_string(i) + ".";
    const SimulatedShelf& one = setup.shelves[i];
    if (!(one.per_month >= 0.0 && is_finite(one.per_month)))
      check.require(false, where + "per_month", one.per_month, "it must be 0 women a month or more");
    if (one.garments < 0) check.require(false, where + "garments", one.garments, "it must be 0 or more");
    require_time(check, where + "out_days", one.out_days);
    require_time(check, where + "clean_days", one.clean_days);
    require_time(check, where + "back_days", one.back_days);
    require_time(check, where + "trip_every_days", one.trip_every_days);
    garments += one.garments;
    women += one.per_month;
  }
  if (setup.hub) {
    check.require(setup.hub->garments >= 0, "hub.garments", setup.hub->garments, "it must be 0 or more");
    require_time(check, "hub.days", setup.hub->days);
  }
  check.require(garments <= most_garments, "garments", garments, "it must be no more than 10 million");
  check.require(setup.days > 0.0 && is_finite(setup.days), "days", setup.days, "it must be above 0");
  require_time(check, "warm_up_days", setup.warm_up_days);
  require_time(check, "resupply_days", setup.resupply_days);
  check.require(setup.horizon_days > 0.0 && is_finite(setup.horizon_days), "horizon_days", setup.horizon_days,
                "it must be above 0");
  check.require(setup.log_sd >= 0.0 && setup.log_sd <= 3.0, "log_sd", setup.log_sd, "it must be from 0 to 3");
  require_share(check, "pair_share", setup.pair_share);
  require_share(check, "lost_share", setup.lost_share);
  require_share(check, "failed_share", setup.failed_share);
  // Events are numbered in 32 bits; a woman makes five at most.
  check.require(5.0 * women / days_per_month * (setup.days + setup.warm_up_days) < 4e9, "days", setup.days,
                "so many women that their events cannot be counted; simulate fewer days");
  return check;
}

}  // namespace

Simulation::ShelfState::ShelfState(std::uint64_t seed, std::uint64_t shelf)
    : arrivals(seed, shelf, 1), pairs(seed, shelf, 2), times(seed, shelf, 3), fates(seed, shelf, 4) {}

Result<Simulation> Simulation::prepare(const SimulationSetup& setup) {
  const InputCheck check = checked(setup);
  if (check.failed()) return check.refusal();
  return Simulation(setup);
}

Simulation::Simulation(SimulationSetup setup)
    : setup_(std::move(setup)),
      counts_(setup_.shelves.size() * n_batches),
      drift_(setup_.seed, 0, 5),
      end_(setup_.warm_up_days + setup_.days) {
  double women = 0.0;
  for (std::size_t i = 0; i < setup_.shelves.size(); ++i) {
    const auto shelf = static_cast<std::uint32_t>(i);
    state_.emplace_back(setup_.seed, i);
    women += setup_.shelves[i].per_month;
    shares_.push_back(women);
    for (int n = 0; n < setup_.shelves[i].garments; ++n) {
      garments_.push_back({.owner = shelf, .where = shelf});
      ++in_place_[0];
      put_on_shelf(static_cast<std::uint32_t>(garments_.size() - 1), shelf);
    }
  }
  for (int n = 0; setup_.hub && n < setup_.hub->garments; ++n) {
    garments_.push_back({});
    ++in_place_[0];
    put_in_hub(static_cast<std::uint32_t>(garments_.size() - 1));
  }
  queue_.reserve(setup_.shelves.size() + garments_.size());
  for (std::size_t i = 0; i < setup_.shelves.size(); ++i) {
    const double rate = setup_.shelves[i].per_month / (1.0 + setup_.pair_share);
    if (rate > 0.0)
      schedule(state_[i].arrivals.exponential(0) / rate * days_per_month, Happening::shock,
               static_cast<std::uint32_t>(i));
  }
}

void Simulation::schedule(double days, Happening what, std::uint32_t subject) {
  queue_.schedule(now_ + days, static_cast<std::uint32_t>(what) << subject_bits | subject);
}

bool Simulation::step() {
  if (queue_.empty() || queue_.next().time > end_) return false;
  const Event event = queue_.next();
  now_ = event.time;
  ++n_events_;
  const std::uint32_t subject = event.what & subject_mask;
  const auto happening = static_cast<Happening>(event.what >> subject_bits);
  if (happening == Happening::shock) {
    shock(subject);  // puts the next woman in this one's place
  } else {
    queue_.drop_next();
    if (happening == Happening::removed) remove(subject);
    if (happening == Happening::cleaned) clean(subject);
    if (happening == Happening::arrived) put_on_shelf(subject, garments_[subject].where);
    if (happening == Happening::bought) {
      ++n_bought_;
      garments_[subject].uses = 0;
      if (setup_.hub)
        put_in_hub(subject);
      else
        put_on_shelf(subject, garments_[subject].owner);
    }
  }
  std::uint32_t seen = 0;
  for (const std::uint32_t n : in_place_) seen += n;
  STANCH_ASSERT(seen == garments_.size(), "every garment is in one place");
  return true;
}

SimulationOutcome Simulation::run() {
  while (step()) {
  }
  return outcome();
}

double Simulation::drawn(double mean, const ShelfState& from, std::uint64_t count) const {
  if (mean == 0.0 || setup_.law == TimeLaw::fixed) return mean;
  if (setup_.law == TimeLaw::exponential) return mean * from.times.exponential(count);
  return mean * elementary::exp(setup_.log_sd * from.times.normal(count) - 0.5 * setup_.log_sd * setup_.log_sd);
}

void Simulation::shock(std::uint32_t shelf) {
  ShelfState& state = state_[shelf];
  const double rate = setup_.shelves[shelf].per_month / (1.0 + setup_.pair_share);
  const std::uint64_t woman = state.women;
  queue_.replace_next(now_ + state.arrivals.exponential(woman + 1) / rate * days_per_month,
                      static_cast<std::uint32_t>(Happening::shock) << subject_bits | shelf);
  woman_comes(shelf);
  if (setup_.pair_share > 0.0 && state.pairs.uniform(woman) < setup_.pair_share) woman_comes(shelf);
}

void Simulation::woman_comes(std::uint32_t shelf) {
  ShelfState& state = state_[shelf];
  const std::uint64_t woman = state.women++;
  const bool found = state.ready > 0;
  if (now_ >= setup_.warm_up_days) {
    const double batch = (now_ - setup_.warm_up_days) / setup_.days * n_batches;
    Counts& counts = counts_[static_cast<std::size_t>(shelf) * n_batches +
                             std::min(static_cast<std::size_t>(batch), std::size_t{n_batches - 1})];
    ++counts.women;
    if (!found) ++counts.missed;
  }
  if (!found) return;
  const std::uint32_t index = take_from_shelf(shelf);
  SimulatedGarment& garment = garments_[index];
  ++garment.uses;
  if (setup_.lost_share > 0.0 && state.fates.uniform(2 * woman) < setup_.lost_share) {
    order(index);
    return;
  }
  move(garment, GarmentPlace::out);
  garment.where = shelf;
  garment.next = static_cast<std::uint32_t>(woman);
  schedule(drawn(setup_.shelves[shelf].out_days, state, woman * draws_per_woman + out_time), Happening::removed, index);
}

void Simulation::remove(std::uint32_t index) {
  SimulatedGarment& garment = garments_[index];
  const std::uint32_t shelf = garment.where;
  const double mean = setup_.hub ? setup_.hub->days : setup_.shelves[shelf].clean_days;
  move(garment, GarmentPlace::cleaning);
  schedule(drawn(mean, state_[shelf], garment.next * draws_per_woman + clean_time), Happening::cleaned, index);
  if (!setup_.hub) return;
  // The ambulance that brought her takes a clean one at once, or waits.
  if (in_hub_.empty()) {
    waiting_.push_back(shelf);
    return;
  }
  const std::uint32_t clean_one = in_hub_.back();
  in_hub_.pop_back();
  --hub_ready_;
  garments_[clean_one].next = garment.next;
  send(clean_one, shelf);
}

void Simulation::clean(std::uint32_t index) {
  SimulatedGarment& garment = garments_[index];
  const bool fails = setup_.failed_share > 0.0 &&
                     state_[garment.where].fates.uniform(2 * std::uint64_t{garment.next} + 1) < setup_.failed_share;
  if (fails || (setup_.last_use > 0 && garment.uses >= setup_.last_use)) {
    order(index);
    return;
  }
  if (setup_.hub)
    put_in_hub(index);
  else
    send(index, destination(garment));
}

void Simulation::order(std::uint32_t index) {
  move(garments_[index], GarmentPlace::on_order);
  schedule(setup_.resupply_days, Happening::bought, index);
}

void Simulation::put_in_hub(std::uint32_t index) {
  if (!waiting_.empty()) {
    const std::uint32_t shelf = waiting_.front();
    waiting_.pop_front();
    send(index, shelf);
    return;
  }
  move(garments_[index], GarmentPlace::hub);
  in_hub_.push_back(index);
  ++hub_ready_;
}

void Simulation::send(std::uint32_t index, std::uint32_t shelf) {
  SimulatedGarment& garment = garments_[index];
  const SimulatedShelf& to = setup_.shelves[shelf];
  double leaves_in = 0.0;
  if (to.trip_every_days > 0.0) leaves_in = std::ceil(now_ / to.trip_every_days) * to.trip_every_days - now_;
  move(garment, GarmentPlace::returning);
  const ShelfState& from = state_[garment.where];
  const double way = drawn(to.back_days, from, garment.next * draws_per_woman + back_time);
  garment.where = shelf;
  schedule(leaves_in + way, Happening::arrived, index);
}

std::uint32_t Simulation::destination(const SimulatedGarment& garment) {
  const auto n = static_cast<double>(state_.size());
  switch (setup_.rule) {
    case ReturnRule::home:
      return garment.owner;
    case ReturnRule::neediest:
      return neediest();
    case ReturnRule::equal_shares:
      return static_cast<std::uint32_t>(drift_.uniform(n_sent_++) * n);
    case ReturnRule::by_use:
      break;
  }
  const double at = drift_.uniform(n_sent_++) * shares_.back();
  return static_cast<std::uint32_t>(std::upper_bound(shares_.begin(), shares_.end(), at) - shares_.begin());
}

std::uint32_t Simulation::neediest() const {
  std::vector<int> ready(state_.size());
  for (std::size_t i = 0; i < state_.size(); ++i) ready[i] = state_[i].ready;
  for (const SimulatedGarment& one : garments_)
    if (one.place == GarmentPlace::returning) ++ready[one.where];
  std::size_t best = 0;
  double best_gain = -1.0;
  for (std::size_t i = 0; i < state_.size(); ++i) {
    const double mean = offered_load(setup_.shelves[i].per_month, setup_.horizon_days);
    double term = elementary::exp(-mean);
    double served = 1.0 - term;
    for (int k = 1; k <= ready[i]; ++k) served -= (term *= mean / k);
    const double gain = setup_.shelves[i].weight * served;
    if (gain <= best_gain) continue;
    best = i;
    best_gain = gain;
  }
  return static_cast<std::uint32_t>(best);
}

void Simulation::put_on_shelf(std::uint32_t index, std::uint32_t shelf) {
  ShelfState& state = state_[shelf];
  move(garments_[index], GarmentPlace::shelf);
  garments_[index].where = shelf;
  if (state.ready == 0)
    state.first = index;
  else
    garments_[state.last].next = index;
  state.last = index;
  ready_changes(state, +1);
}

std::uint32_t Simulation::take_from_shelf(std::uint32_t shelf) {
  ShelfState& state = state_[shelf];
  STANCH_ASSERT(state.ready > 0, "a garment is on the shelf");
  const std::uint32_t index = state.first;
  state.first = garments_[index].next;
  ready_changes(state, -1);
  return index;
}

void Simulation::move(SimulatedGarment& garment, GarmentPlace place) {
  --in_place_[static_cast<std::size_t>(garment.place)];
  ++in_place_[static_cast<std::size_t>(place)];
  garment.place = place;
}

void Simulation::ready_changes(ShelfState& shelf, int by) {
  const double since = now_ - std::max(shelf.changed, setup_.warm_up_days);
  if (since > 0.0) {
    shelf.ready_days += shelf.ready * since;
    if (shelf.ready == 0) shelf.empty_days += since;
  }
  shelf.changed = now_;
  shelf.ready += by;
}

SimulationOutcome Simulation::outcome() {
  constexpr double t_of_19 = 2.0930240544;  // 97.5 % point of Student's t with one less than n_batches
  static_assert(n_batches == 20);
  const double years = setup_.days / days_per_year;
  now_ = end_;
  SimulationOutcome out;
  out.n_events = n_events_;
  out.bought_per_year = static_cast<double>(n_bought_) / ((setup_.warm_up_days + setup_.days) / days_per_year);
  std::array<Counts, n_batches> total{};
  const auto judged = [&](const Counts* batches) {
    ShelfOutcome one;
    double women = 0.0;
    double missed = 0.0;
    for (int b = 0; b < n_batches; ++b) {
      women += batches[b].women;
      missed += batches[b].missed;
    }
    if (women == 0.0) return one;
    one.none_free = missed / women;
    double squares = 0.0;
    for (int b = 0; b < n_batches; ++b) {
      const double off = batches[b].missed - one.none_free * batches[b].women;
      squares += off * off;
    }
    const double half = t_of_19 * std::sqrt(squares * n_batches / (n_batches - 1)) / women;
    one.low = std::max(0.0, one.none_free - half);
    one.high = std::min(1.0, one.none_free + half);
    one.women_per_year = women / years;
    one.missed_per_year = missed / years;
    one.uses_per_year = (women - missed) / years;
    return one;
  };
  for (std::size_t i = 0; i < state_.size(); ++i) {
    const Counts* batches = &counts_[i * n_batches];
    ShelfOutcome one = judged(batches);
    ready_changes(state_[i], 0);
    one.mean_ready = state_[i].ready_days / setup_.days;
    one.empty_days_per_year = state_[i].empty_days / years;
    for (std::size_t b = 0; b < n_batches; ++b) {
      total[b].women += batches[b].women;
      total[b].missed += batches[b].missed;
    }
    out.all.mean_ready += one.mean_ready;
    out.all.empty_days_per_year += one.empty_days_per_year;
    out.shelves.push_back(one);
  }
  const double mean_ready = out.all.mean_ready;
  const double empty = out.all.empty_days_per_year;
  out.all = judged(total.data());
  out.all.mean_ready = mean_ready;
  out.all.empty_days_per_year = empty;
  return out;
}

}  // namespace stanch::planning

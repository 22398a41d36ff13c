// core/stanch/planning/simulation.hpp
//
// The garment pool played through, woman by woman and garment by garment: the independent check of the formulas, and
// the answer where their assumptions fail (women in clusters, garments sent to the neediest shelf, trips with slow
// cleaning, retirement).
//
//   shelf --a woman in shock--> out (on her) --removed--> cleaning --inspected--> on its way --> a shelf
//                                 \--never comes back--> bought anew       \--fails, worn out--> bought anew
//   with a hub: the ambulance takes a clean garment from the hub's shelf, or waits there for one
//
// Two runs with one seed meet the same women at the same moments, whatever the policy.
#pragma once

#include <array>
#include <cstdint>
#include <deque>
#include <optional>
#include <vector>

#include "stanch/base/keyed_random.hpp"
#include "stanch/base/result.hpp"
#include "stanch/planning/event_queue.hpp"

namespace stanch::planning {

/// How times vary around their mean.
enum class TimeLaw : std::uint8_t { exponential, fixed, lognormal };

/// Where a clean garment goes: to its home shelf; to a shelf by its share of women; to any shelf alike; or where it
/// serves most women before the next chance (next_shelf.hpp).
enum class ReturnRule : std::uint8_t { home, by_use, equal_shares, neediest };

struct SimulatedShelf {
  double per_month = 0.0;        ///< women in shock a month
  int garments = 0;              ///< owned, on the shelf at the start
  double out_days = 0.0;         ///< mean, from the shelf until removed (with a hub: until there)
  double clean_days = 0.0;       ///< mean, removed until clean and inspected; not used with a hub
  double back_days = 0.0;        ///< mean, on the way back
  double trip_every_days = 0.0;  ///< a way back begins only at multiples of this; 0: at once
  double weight = 1.0;           ///< of its women, for ReturnRule::neediest
};

struct Hub {
  int garments = 0;   ///< on its own shelf at the start
  double days = 0.0;  ///< mean, worn and cleaned there
};

struct SimulationSetup {
  std::vector<SimulatedShelf> shelves;
  std::optional<Hub> hub;
  double days = 0.0;          ///< counted
  double warm_up_days = 0.0;  ///< before, not counted
  std::uint64_t seed = 1;
  TimeLaw law = TimeLaw::exponential;
  double log_sd = 0.5;  ///< of lognormal times
  ReturnRule rule = ReturnRule::home;
  double horizon_days = 10.0;  ///< until the next chance, for ReturnRule::neediest
  double pair_share = 0.0;     ///< of women who bring a second one the same night; the rate stays what it is
  double lost_share = 0.0;     ///< of uses after which a garment never comes back
  double failed_share = 0.0;   ///< of inspections that fail
  int last_use = 0;            ///< retired at the inspection after so many uses; 0: never
  double resupply_days = 0.0;  ///< until a lost or retired garment is bought anew
};

enum class GarmentPlace : std::uint8_t { shelf, out, cleaning, returning, hub, on_order };
inline constexpr std::size_t n_places = 6;

struct SimulatedGarment {
  std::uint32_t owner = 0;
  std::uint32_t where = 0;  ///< shelf it is on or comes from, or goes to while returning
  std::uint32_t next = 0;   ///< behind it on that shelf
  int uses = 0;
  GarmentPlace place = GarmentPlace::shelf;
};

struct ShelfOutcome {
  double women_per_year = 0.0;
  double none_free = 0.0;  ///< share of women who found none
  double low = 0.0;        ///< 95 % interval by means of 20 batches
  double high = 0.0;
  double missed_per_year = 0.0;
  double mean_ready = 0.0;
  double empty_days_per_year = 0.0;
  double uses_per_year = 0.0;
};

struct SimulationOutcome {
  std::vector<ShelfOutcome> shelves;
  ShelfOutcome all;
  double bought_per_year = 0.0;
  std::uint64_t n_events = 0;
};

class Simulation {
 public:
  /// @return `ask.input_impossible` naming what cannot be simulated
  [[nodiscard]] static Result<Simulation> prepare(const SimulationSetup& setup);

  /// One event; false when the time is over. After every event no garment is lost from sight or in two places.
  bool step();
  /// All events that are left, then what came of it.
  [[nodiscard]] SimulationOutcome run();

  [[nodiscard]] double now() const { return now_; }
  [[nodiscard]] const std::vector<SimulatedGarment>& garments() const { return garments_; }
  [[nodiscard]] int ready_at(std::size_t shelf) const { return state_[shelf].ready; }
  [[nodiscard]] int ready_at_hub() const { return hub_ready_; }
  [[nodiscard]] std::size_t waiting_at_hub() const { return waiting_.size(); }

 private:
  static constexpr int n_batches = 20;
  enum class Happening : std::uint8_t { shock, removed, cleaned, arrived, bought };

  struct Counts {
    std::uint32_t women = 0;
    std::uint32_t missed = 0;
  };
  struct ShelfState {
    ShelfState(std::uint64_t seed, std::uint64_t shelf);
    KeyedRandom arrivals, pairs, times, fates;
    std::uint32_t first = 0;  ///< garments on the shelf, first in first out
    std::uint32_t last = 0;
    int ready = 0;
    std::uint64_t women = 0;
    double changed = 0.0;  ///< when `ready` last did
    double ready_days = 0.0;
    double empty_days = 0.0;
  };

  explicit Simulation(SimulationSetup setup);
  [[nodiscard]] double drawn(double mean, const ShelfState& from, std::uint64_t count) const;
  void shock(std::uint32_t shelf);
  void woman_comes(std::uint32_t shelf);
  void remove(std::uint32_t index);
  void clean(std::uint32_t index);
  void send(std::uint32_t index, std::uint32_t shelf);
  [[nodiscard]] std::uint32_t destination(const SimulatedGarment& garment);
  [[nodiscard]] std::uint32_t neediest() const;
  void order(std::uint32_t index);
  void put_on_shelf(std::uint32_t index, std::uint32_t shelf);
  void put_in_hub(std::uint32_t index);
  [[nodiscard]] std::uint32_t take_from_shelf(std::uint32_t shelf);
  void move(SimulatedGarment& garment, GarmentPlace place);
  void ready_changes(ShelfState& shelf, int by);
  void schedule(double days, Happening what, std::uint32_t subject);
  [[nodiscard]] SimulationOutcome outcome();

  SimulationSetup setup_;
  std::vector<ShelfState> state_;
  std::vector<SimulatedGarment> garments_;
  std::vector<Counts> counts_;  ///< [n_shelves][n_batches]
  std::vector<double> shares_;  ///< by_use: running sum of rates
  std::array<std::uint32_t, n_places> in_place_{};
  std::deque<std::uint32_t> waiting_;  ///< shelves whose ambulance waits at the hub
  std::vector<std::uint32_t> in_hub_;
  int hub_ready_ = 0;
  EventQueue queue_;
  KeyedRandom drift_;
  std::uint64_t n_sent_ = 0;
  std::uint64_t n_bought_ = 0;
  std::uint64_t n_events_ = 0;
  double now_ = 0.0;
  double end_ = 0.0;
};

}  // namespace stanch::planning

// Which women of the model are left by the readings: resample-move over parameters and noise paths, where each move
// replays the whole case. A plain particle filter was tried first and failed: states that carry history (loss, tone,
// bleed) are never refreshed, and its 90 % bands held the truth in 60 % (docs/physiology.md section 8).
// Source: Gilks and Berzuini 2001, Chopin 2002, Del Moral, Doucet and Jasra 2006, from memory.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "stanch/physiology/kernel.hpp"
#include "stanch/physiology/prior.hpp"
#include "stanch/physiology/readings.hpp"
#include "stanch/physiology/workers.hpp"

namespace stanch::physiology {

struct FilterSettings {
  std::size_t members = 2000;  ///< rounded up to whole blocks of 64; 1000 on a weak phone, 500 is the floor
  std::uint64_t seed = 1;
  int moves = 8;  ///< after each resampling
};

/// 64 members with all that the filter keeps of them.
struct FilterBlock {
  std::array<Row<double>, n_inferred> z;   ///< standard normals of the parameters
  Row<double> measured_bias, visual_bias;  ///< bd bv
  Traits<float> traits;
  States<float> states;
  std::vector<MinuteNoise<float>> noise;  ///< one a whole minute elapsed
  Row<double> log_likelihood;             ///< of all sets taken
};

/// How one reading looked before it was taken.
struct ReadingCheck {
  std::int64_t step = 0;
  Reading reading;
  double expected = 0;  ///< mean over the members
  double tail = 1;      ///< two-sided probability of a reading this far out
};

/// How well a set went in.
struct SetReport {
  std::int64_t step = 0;
  double log_evidence = 0;     ///< logZ
  double evidence_margin = 0;  ///< logZ less that of Student's t around the last values, over kinds read before
  double smallest_ess = 0;     ///< share of the members
  double accepted = 0;         ///< share of the moves
  double ancestors = 1;        ///< share of distinct members after the last resampling
  bool ancestors_few = false;  ///< below the floor although the moves were doubled
  int stages = 0;
  std::size_t dropped = 0;  ///< members that became non-finite
  std::vector<ReadingCheck> checks;
};

class Filter {
 public:
  Filter(const Physics<float>& physics, const Constants<double>& constants, const Prior& prior,
         const FilterSettings& settings, const Kernel& kernel = widest_kernel());

  /// Takes the readings of one time, which must be later than all before.
  /// @param signals  of steps 0 to set.step at least, as given from the record's start
  void take(std::span<const Signals<float>> signals, const ReadingSet& set, const Workers& workers);

  [[nodiscard]] std::size_t members() const { return blocks_.size() * block_size; }
  [[nodiscard]] std::int64_t step() const { return step_; }
  [[nodiscard]] const std::vector<SetReport>& reports() const { return reports_; }
  [[nodiscard]] const std::vector<FilterBlock>& blocks() const { return blocks_; }
  [[nodiscard]] const std::vector<double>& log_weights() const { return log_weights_; }
  [[nodiscard]] const Random& random() const { return random_; }
  [[nodiscard]] const Kernel& kernel() const { return *kernel_; }
  [[nodiscard]] const Physics<float>& physics() const { return physics_; }
  [[nodiscard]] const Constants<double>& constants() const { return constants_; }
  [[nodiscard]] const Prior& prior() const { return prior_; }

  /// Normalised weights, in member order.
  [[nodiscard]] std::vector<double> weights() const;
  /// Member numbers after one systematic resampling, none at all when the weights are equal.
  [[nodiscard]] std::vector<std::uint32_t> resampled() const;

  /// Works out traits and starting states of a block from its z: at rest, then five minutes in which she loses what she
  /// lost before the record.
  void restart(FilterBlock& block) const;

 private:
  struct Move;
  void advance(std::span<const Signals<float>> signals, std::int64_t to, const Workers& workers);
  double resample();  ///< share of distinct ancestors
  void move_all(std::span<const Signals<float>> signals, double phi, const Workers& workers, SetReport& report);
  std::size_t move_block(std::size_t index, std::span<const Signals<float>> signals, const Move& move);
  [[nodiscard]] double effective_share(const std::vector<double>& log_weights) const;
  void check_readings(const ReadingSet& set, SetReport& report) const;

  Physics<float> physics_;
  Constants<double> constants_;
  Prior prior_;
  FilterSettings settings_;
  const Kernel* kernel_;
  Random random_;
  std::vector<FilterBlock> blocks_;
  std::vector<double> log_weights_;
  std::vector<double> now_;       ///< log likelihood of the set being taken
  std::vector<ReadingSet> sets_;  ///< all taken, the one being taken last
  std::vector<SetReport> reports_;
  Signals<float> now_signals_;  ///< at the set being taken
  std::int64_t step_ = 0;
  std::uint32_t moves_made_ = 0;
  std::uint32_t resamplings_ = 0;
};

}  // namespace stanch::physiology

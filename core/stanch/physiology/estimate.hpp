// One case in the model's terms, and the filter that its readings led to. A pure function of the case: an entry older
// than the last reading rebuilds from the start; otherwise the filter is taken up where it stood, to the same bits.
#pragma once

#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

#include "stanch/physiology/filter.hpp"
#include "stanch/physiology/plan.hpp"
#include "stanch/physiology/prior.hpp"
#include "stanch/physiology/readings.hpp"

namespace stanch::physiology {

/// The model as the protocol has it.
struct Model {
  Constants<double> constants;
  Pharmacy pharmacy;
  Prior prior;
};

struct BodyCase {
  Prior prior;                   ///< of this woman
  Plan plan;                     ///< what was given and done
  std::vector<ReadingSet> sets;  ///< in order of time, one a step
  FilterSettings settings;
};

/// Why nothing is shown.
enum class Withheld : std::uint8_t {
  no,
  too_few_readings,    ///< fewer than two times with pulse and systolic pressure
  no_loss_entry,       ///< no loss entered, nor that there is none
  too_long,            ///< more than twelve hours of record
  model_does_not_fit,  ///< readings that the model can no longer explain
};
[[nodiscard]] std::string_view word(Withheld withheld);

/// The data minimum: two times with pulse and pressure, and one loss reading.
[[nodiscard]] Withheld enough(const BodyCase& body);
/// Whether the last sets say that the model no longer explains her: three reading times in a row with a reading whose
/// tail is below 0.01, or a set less likely by more than e^6 than a plain spread around the last values.
[[nodiscard]] Withheld fits(const Filter& filter);

/// A reading so far out (tail below 0.001) that it should be repeated: of the last set.
[[nodiscard]] std::vector<ReadingCheck> to_repeat(const Filter& filter);

/// The filter after every set of the case, from the start.
[[nodiscard]] Filter estimate(const Model& model, const BodyCase& body, const Workers& workers,
                              const Kernel& kernel = widest_kernel());

/// Keeps the filter between calls, so that one more reading costs one more reading.
class Estimator {
 public:
  explicit Estimator(Model model) : model_(std::move(model)) {}
  /// The same bits as estimate().
  const Filter& take(const BodyCase& body, const Workers& workers);
  /// Sets that the last call took up without computing them again.
  [[nodiscard]] std::size_t reused() const { return reused_; }

 private:
  struct Snapshot {
    Filter filter;
    std::size_t sets = 0;
  };
  [[nodiscard]] bool same_up_to(const BodyCase& body, const std::vector<Signals<float>>& signals,
                                std::size_t sets) const;
  Model model_;
  BodyCase last_;
  std::vector<Signals<float>> signals_;
  std::vector<Snapshot> snapshots_;  ///< of the last sets, oldest first
  std::size_t reused_ = 0;
};

}  // namespace stanch::physiology

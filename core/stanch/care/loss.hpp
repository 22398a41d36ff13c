// core/stanch/care/loss.hpp
//
// How much blood she has lost, from drape, scales, suction and eye. The total only grows: a reading that falls without
// the container having been emptied is an error to resolve, not blood that came back. Rates are in bleed_rate.hpp.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/verdict.hpp"
#include "stanch/care/view.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::care {

/// The total after one reading.
struct LossPoint {
  Moment at;
  double total_ml = 0;
  record::LossMethod method = record::LossMethod::drape;
  bool is_level = false;  ///< read off a container, so that its error does not add up from reading to reading
  double step_ml = 0;     ///< smallest step that could be read
};

/// A reading that could not be taken as it stands.
struct LossProblem {
  enum class What : std::uint8_t {
    non_monotone,      ///< below the reading before: the higher one is kept  [SEM-6]
    below_other_fluid  ///< less than the fluid to be taken off: counted as none  [BL-12]
  };
  What what = What::non_monotone;
  Moment at;
  Id entry;
  double read_ml = 0;  ///< net of other fluid; of the container it was read off, or of the entry
  double kept_ml = 0;  ///< what counts instead
};

[[nodiscard]] std::string_view word(LossProblem::What what);

struct MeasuredLoss {
  std::optional<double> total_ml;        ///< absent: nothing was measured or estimated
  std::array<double, 4> by_method_ml{};  ///< in the order of record::LossMethod
  double other_fluid_ml = 0;             ///< amniotic fluid, irrigation and urine taken off
  std::vector<LossPoint> points;         ///< one a reading, oldest first; totals never fall
  std::vector<LossProblem> problems;

  [[nodiscard]] bool measured() const { return total_ml.has_value(); }
  [[nodiscard]] double of(record::LossMethod method) const { return by_method_ml[static_cast<std::size_t>(method)]; }
  /// Total at that moment, readings at it included; 0 before the first. Logarithmic.
  [[nodiscard]] double total_at(Moment moment) const;
  /// Total just before that moment.
  [[nodiscard]] double total_before(Moment moment) const;
  /// Lost after that moment (readings at it are not counted in).
  [[nodiscard]] double loss_since(Moment moment) const { return total_ml.value_or(0) - total_at(moment); }
  /// More was guessed by eye than measured. [BL-19]
  [[nodiscard]] bool mostly_estimated() const;
};

/// Follows every reading in order.
///   level_ml  reading of the container now open for that method; a reading with `baseline` is fluid that was there
///             before and is taken off  [BL-14]
///   emptied   the reading counts and a new container starts
///   amount_ml, or wet_g - dry_g over the density: added  [BL-10] [BL-11] [BL-12]
///   other_ml  taken off: from a level, as the part of the container that is not blood (the newest figure of each kind
///             of fluid, never less than before); else from the amount  [BL-15]
/// Source: conventions of measuring (common practice, no source); 1 g = 1 mL: capillary lactate cohort, Mexico.
/// Linear in the number of readings.
[[nodiscard]] MeasuredLoss measured_loss(const View& view);

void advise_loss(const MeasuredLoss& loss, AdviceBuilder& out);

/// May this reading be recorded? One that contradicts others (a level that falls, or lies above a later one) needs a
/// stated reason, unless it strikes the one it contradicts.  [SEM-6] [BL-12]
/// @param proposed  an entry of kind `loss`
[[nodiscard]] Verdict may_record_loss(const View& view, const MeasuredLoss& loss, const record::Entry& proposed);

/// What the true loss may be when part was estimated by eye: measured + estimate x 1.5 to measured + estimate x 3.
/// Source: Williams Obstetrics, 26th ed., 2022; Mishra et al.  [BL-19]
struct LikelyLoss {
  double low_ml = 0;
  double high_ml = 0;
};
[[nodiscard]] LikelyLoss likely_loss(const MeasuredLoss& loss, const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const MeasuredLoss& loss, const View& view);

}  // namespace stanch::care

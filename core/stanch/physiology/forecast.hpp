// Where she may be going: the members left by the readings, run on with fresh noise under a plan; and what would differ
// under another plan, member by member.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "stanch/physiology/estimate.hpp"
#include "stanch/physiology/filter.hpp"

namespace stanch::physiology {

/// What is told of the members.
enum class Quantity : std::uint8_t {
  pulse,
  systolic,
  shock_index,
  haemoglobin,
  deficit,
  loss,
  bleed,
  fibrinogen,
  lactate
};
inline constexpr std::array quantity_words{std::string_view("pulse"),           std::string_view("sbp"),
                                           std::string_view("shock_index"),     std::string_view("hb_gl"),
                                           std::string_view("deficit_percent"), std::string_view("loss_ml"),
                                           std::string_view("bleed_ml_min"),    std::string_view("fibrinogen_gl"),
                                           std::string_view("lactate")};
inline constexpr std::size_t n_quantities = quantity_words.size();

/// Medians and bands: 5, 25, 50, 75 and 95 percent (type 7, ties by member order).
inline constexpr std::array band_levels{0.05, 0.25, 0.50, 0.75, 0.95};
using Band = std::array<double, band_levels.size()>;

/// Type 7 quantiles of values, which are sorted here.
[[nodiscard]] Band band_of(std::vector<double> values);

/// When she counts as critical; the protocol's values.
struct CriticalLimits {
  double shock_index = 1.7;  ///< at or above
  double systolic = 80;      ///< below, mmHg
};

struct ForecastQuestion {
  std::int64_t now = 0;  ///< step from which is forecast; not before the last readings
  int minutes = 60;      ///< horizon after now
  int every = 5;         ///< minutes between points of the curve
  CriticalLimits limits;
  Plan plan;                                  ///< the whole plan, past and to come
  std::vector<Plan> what_if;                  ///< other plans, alike up to now
  bool keep_ensemble = false;                 ///< give every member's values too, for scoring
  std::optional<double> arrival_min;          ///< minutes until she arrives, stated
  std::optional<double> arrival_spread = {};  ///< sd of its logarithm
};

struct CurvePoint {
  double minute = 0;                       ///< after now; negative: before
  std::array<Band, n_quantities> bands{};  ///< of the true value
  Band next_pulse{};                       ///< of the next reading: with the error of reading
  Band next_systolic{};
};

/// Time until shock index or systolic pressure is critical, on whole minutes after now.
struct Threshold {
  double reached = 0;                            ///< probability of reaching it by the horizon
  std::optional<std::array<double, 3>> minutes;  ///< 10, 50, 90 percent, among those that reach it
  std::optional<double> clear_on_arrival;        ///< probability of none before arrival
  /// Share that has reached it by each whole minute, from 0: what any transfer time is answered from.
  std::vector<double> by_minute;
};

/// Another plan less the plan, pair by pair at the horizon's points.
struct Difference {
  std::vector<CurvePoint> points;  ///< bands of the paired differences
  Threshold threshold;             ///< under the other plan
};

struct Forecast {
  std::size_t members = 0;
  std::array<Band, n_quantities> now{};
  Band deficit_ml{};
  Band bleed_ten_minutes{};       ///< mean bleed of the ten minutes before now, mL/min
  std::vector<CurvePoint> curve;  ///< from the record's start or `past` on
  Threshold threshold;
  std::vector<Difference> what_if;
  /// [point of the curve][quantity][member], when asked for.
  std::vector<std::array<std::vector<float>, n_quantities>> ensemble;
};

/// Runs the members of the filter to the horizon. Deterministic: same filter and question, same bits.
[[nodiscard]] Forecast foresee(const Filter& filter, const Pharmacy& pharmacy, const ForecastQuestion& question,
                               const Workers& workers);

}  // namespace stanch::physiology

// Judges the estimate on many made-up women, whose truth is known: drawn from the model's own prior, or of another
// structure. One case: readings until 45 min, estimate there, forecasts compared at 0, 15, 30 and 60 min after.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "stanch/physiology/forecast.hpp"

namespace stanch::tests {

enum class Source { own_model, other_structure };

inline constexpr std::array horizons{0, 15, 30, 60};
/// Of what both kinds of truth know: pulse, systolic, shock index, haemoglobin, deficit, loss.
inline constexpr std::size_t n_judged = 6;
inline constexpr std::array judged_words{"pulse", "sbp", "shock_index", "hb_gl", "deficit_percent", "loss_ml"};

struct StudyScore {
  std::size_t cases = 0;
  std::size_t events = 0;  ///< shock index or pressure critical within the hour
  std::array<std::array<double, n_judged>, horizons.size()> in_90{}, in_50{}, error{}, crps{}, last_value{}, rival{};
  /// Counts of the truth between the quantiles 5, 25, 50, 75, 95: six bins.
  std::array<std::array<std::array<double, 6>, n_judged>, horizons.size()> ranks{};
  double brier = 0, brier_base = 0;
};

struct StudySettings {
  Source source = Source::own_model;
  std::size_t cases = 40;
  std::size_t members = 1000;
  std::uint64_t seed = 1;
  int moves = 8;
};

[[nodiscard]] StudyScore study(const StudySettings& settings, const physiology::Workers& workers);

/// Chi-square of the ranks against the levels; 20.5 is p = 0.001 at five degrees of freedom.
[[nodiscard]] double chi_square(const std::array<double, 6>& ranks);

}  // namespace stanch::tests

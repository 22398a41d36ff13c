// How often would a rule that re-closes after an opening alarm, given how noisy readings are and how far the pressure
// has really changed? Used to choose between rules and to show how strong a sign is; it decides nothing at the bedside.
// All figures hold for independent normal reading errors. For the pulse, where a rise is the danger, negate changes.
#pragma once

#include <cstdint>

#include "stanch/base/result.hpp"

namespace stanch::care {

/// The rules compared. "last": the one reading before opening is the baseline; "median3": the median of the last three.
/// R numbers are for tables.
enum class OpeningRule : std::uint8_t {
  last_one,             ///< R1: one reading after opening is lower by `fall` or more
  median3_one,          ///< R2: the same against the median of three
  last_both_of_two,     ///< R3: two readings after opening are both lower by `fall` or more
  median3_both_of_two,  ///< R4: the same against the median of three
  median3_mean_of_two,  ///< R5: a fall above `grey_to` at once; within grey_from..grey_to a repeat, and their mean
                        ///< counts
  median3_repeat        ///< R7: `fall` or more at once; from grey_from to `fall` a repeat, which alone counts
};

/// Limits of the rule in mmHg, from the local protocol.
struct OpeningRuleLimits {
  double fall = 0.0;
  double grey_from = 0.0;  ///< a smaller fall is taken for noise; at most `fall`
  double grey_to = 0.0;    ///< at least `fall`
};

/// The noise of one reading and what really happened.
struct OpeningChange {
  double reading_sd = 0.0;   ///< mmHg, above 0
  double true_change = 0.0;  ///< mmHg, negative for a fall
};

/// Probability that the rule alarms, by integrals exact to 1e-9 or better.
/// @return `ask.input_impossible` for an SD that is not above 0, a number that is not finite, or limits out of order.
/// Source: order statistics of a normal sample; for a change of exactly -fall the answers 1/2 (R1, R2), 1/3 (R3) and
/// 3/10 (R4) are exact whatever the noise.
[[nodiscard]] Result<double> alarm_probability(OpeningRule rule, const OpeningRuleLimits& limits,
                                               const OpeningChange& change);

/// Probability that at least one of `n_checks` separate readings after opening is lower than the median of three before
/// by `fall` or more: what checking again gains when the change lasts.
/// @param n_checks  1 to 100
[[nodiscard]] Result<double> alarm_probability_of_any(int n_checks, double fall, const OpeningChange& change);

/// Probability that R1 alarms when opening was allowed only because that same baseline reading was above `pass_above`:
/// such a baseline is too high on average, so that alarms are more frequent than alarm_probability says.
/// @param true_level  real pressure before opening, mmHg
[[nodiscard]] Result<double> alarm_probability_after_passing(double pass_above, double true_level, double fall,
                                                             const OpeningChange& change);

/// Probability of at least one alarm over `n_openings` independent openings when two signs are watched at each.
[[nodiscard]] double probability_of_any_alarm(double first_sign, double second_sign, int n_openings);

/// Variance of the baseline of `n` readings with SD 1: one reading 1, mean of two 1/2, median of three 1 - sqrt(3)/pi.
/// @return `ask.input_impossible` unless n is 1, 2 or 3.
[[nodiscard]] Result<double> baseline_variance(int n);

/// What was seen: the mean of `n_after` readings less the baseline of `n_before` (1 to 3).
struct SeenChange {
  double change = 0.0;      ///< mmHg, negative for a fall
  double reading_sd = 0.0;  ///< mmHg
  int n_before = 0;
  int n_after = 0;
};

/// Standard error of the change seen, and the probability that the real fall is `fall` or more.
struct FallStrength {
  double standard_error = 0.0;
  double probability = 0.0;
};

/// Phi((-fall - change) / SE), SE = SD sqrt(baseline_variance + 1/n_after): every real change held equally likely
/// beforehand.
[[nodiscard]] Result<FallStrength> fall_strength(const SeenChange& seen, double fall);

}  // namespace stanch::care

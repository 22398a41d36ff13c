// Everything is computed in units of the reading SD. Given the baseline z (its error in SDs), one reading after opening
// is lower by `limit` or more with probability Phi(z - (limit + change) / SD); the rules combine such probabilities and
// are then averaged over z.
#include "stanch/care/opening_alarm_odds.hpp"

#include <algorithm>
#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/base/quadrature.hpp"

namespace stanch::care {
namespace {

using elementary::normal_cdf;
using elementary::normal_density;

constexpr double reach = 9.0;  // SDs; beyond lies less than 1e-18
constexpr int n_panels = 18;   // one an SD wide or so

// Density of the median of three standard normal values.
double median3_density(double z) {
  const double below = normal_cdf(z);
  return 6.0 * normal_density(z) * below * normal_cdf(-z);
}

template <class Density, class Alarm>
double averaged(Density density, Alarm alarm) {
  return integrate([&](double z) { return density(z) * alarm(z); }, -reach, reach, n_panels);
}

// The limits in SDs, counted from where the real change puts the readings.
struct Offsets {
  double fall;
  double grey_from;
  double grey_to;
};

// R5, given the baseline z. A first reading e falls into the grey zone for z - grey_to <= e <= z - grey_from; the mean
// of e and a repeat is low enough when the repeat is at most 2 (z - fall) - e.
double mean_of_two_alarm(double z, const Offsets& offsets) {
  const double low = std::max(z - offsets.grey_to, -reach);
  const double high = std::min(z - offsets.grey_from, reach);
  const double at_once = normal_cdf(z - offsets.grey_to);
  if (high <= low) return at_once;
  const double target = 2.0 * (z - offsets.fall);
  const auto repeat = [target](double e) { return normal_density(e) * normal_cdf(target - e); };
  return at_once + integrate(repeat, low, high, static_cast<int>(high - low) + 1);
}

// R7, given the baseline z.
double repeat_alarm(double z, const Offsets& offsets) {
  const double at_once = normal_cdf(z - offsets.fall);
  const double grey = normal_cdf(z - offsets.grey_from) - at_once;
  return at_once + grey * at_once;
}

double square(double x) { return x * x; }

void require_change(InputCheck& check, const OpeningChange& change) {
  check.require(change.reading_sd > 0.0 && is_finite(change.reading_sd), "reading_sd", change.reading_sd,
                "it must be above 0 mmHg");
  check.require_finite("true_change", change.true_change);
}

}  // namespace

Result<double> alarm_probability(OpeningRule rule, const OpeningRuleLimits& limits, const OpeningChange& change) {
  InputCheck check;
  require_change(check, change);
  check.require_finite("fall", limits.fall);
  check.require(limits.grey_from <= limits.fall, "grey_from", limits.grey_from, "it must not be above the fall limit");
  check.require(limits.grey_to >= limits.fall, "grey_to", limits.grey_to, "it must not be below the fall limit");
  if (check.failed()) return check.refusal();

  const auto offset = [&change](double limit) { return (limit + change.true_change) / change.reading_sd; };
  const Offsets offsets{offset(limits.fall), offset(limits.grey_from), offset(limits.grey_to)};
  const auto one = [&offsets](double z) { return normal_cdf(z - offsets.fall); };
  switch (rule) {
    case OpeningRule::last_one:
      return normal_cdf(-offsets.fall / std::sqrt(2.0));
    case OpeningRule::median3_one:
      return averaged(median3_density, one);
    case OpeningRule::last_both_of_two:
      return averaged(normal_density, [&](double z) { return square(one(z)); });
    case OpeningRule::median3_both_of_two:
      return averaged(median3_density, [&](double z) { return square(one(z)); });
    case OpeningRule::median3_mean_of_two:
      return averaged(median3_density, [&](double z) { return mean_of_two_alarm(z, offsets); });
    case OpeningRule::median3_repeat:
      return averaged(median3_density, [&](double z) { return repeat_alarm(z, offsets); });
  }
  STANCH_ASSERT(false, "every rule is listed above");
  return 0.0;
}

Result<double> alarm_probability_of_any(int n_checks, double fall, const OpeningChange& change) {
  InputCheck check;
  require_change(check, change);
  check.require_finite("fall", fall);
  check.require(n_checks >= 1 && n_checks <= 100, "checks", n_checks, "it must be 1 to 100");
  if (check.failed()) return check.refusal();
  const double offset = (fall + change.true_change) / change.reading_sd;
  const auto any = [offset, n_checks](double z) {
    double none = 1.0;
    for (int i = 0; i < n_checks; ++i) none *= normal_cdf(offset - z);
    return 1.0 - none;
  };
  return averaged(median3_density, any);
}

Result<double> alarm_probability_after_passing(double pass_above, double true_level, double fall,
                                               const OpeningChange& change) {
  InputCheck check;
  require_change(check, change);
  check.require_finite("pass_above", pass_above);
  check.require_finite("true_level", true_level);
  check.require_finite("fall", fall);
  if (check.failed()) return check.refusal();
  const double start = (pass_above - true_level) / change.reading_sd;
  const double passes = normal_cdf(-start);
  check.require(start < 0.5 * reach, "true_level", true_level, "a reading above pass_above must not be a rarity");
  if (check.failed()) return check.refusal();
  const double offset = (fall + change.true_change) / change.reading_sd;
  const auto both = [offset](double z) { return normal_density(z) * normal_cdf(z - offset); };
  return integrate(both, std::max(start, -reach), reach, n_panels) / passes;
}

double probability_of_any_alarm(double first_sign, double second_sign, int n_openings) {
  const double quiet = (1.0 - first_sign) * (1.0 - second_sign);
  double all_quiet = 1.0;
  for (int i = 0; i < n_openings; ++i) all_quiet *= quiet;
  return 1.0 - all_quiet;
}

Result<double> baseline_variance(int n) {
  constexpr double pi = 3.14159265358979323846;
  InputCheck check;
  check.require(n >= 1 && n <= 3, "readings_before", n, "it must be 1, 2 or 3");
  if (check.failed()) return check.refusal();
  if (n == 3) return 1.0 - std::sqrt(3.0) / pi;
  return n == 2 ? 0.5 : 1.0;
}

Result<FallStrength> fall_strength(const SeenChange& seen, double fall) {
  InputCheck check;
  require_change(check, {seen.reading_sd, seen.change});
  check.require_finite("fall", fall);
  check.require(seen.n_after >= 1, "readings_after", seen.n_after, "it must be 1 or more");
  if (check.failed()) return check.refusal();
  const Result<double> variance = baseline_variance(seen.n_before);
  if (!variance) return refuse(variance.error());
  const double standard_error = seen.reading_sd * std::sqrt(*variance + 1.0 / seen.n_after);
  return FallStrength{standard_error, normal_cdf((-fall - seen.change) / standard_error)};
}

}  // namespace stanch::care

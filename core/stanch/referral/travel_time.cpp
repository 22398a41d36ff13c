#include "stanch/referral/travel_time.hpp"

#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"

namespace stanch::referral {
namespace {

constexpr double words_known_to = 0.3;  // standard deviation of the log of a told median (design assumption)
constexpr std::size_t trips_for_spread = 5;

}  // namespace

double within(const TravelTime& time, double minutes) {
  if (!(minutes > 0.0)) return 0.0;
  if (!is_finite(minutes)) return 1.0;
  if (time.sigma == 0.0) return minutes >= time.median_min ? 1.0 : 0.0;
  return elementary::normal_cdf(elementary::log(minutes / time.median_min) / time.sigma);
}

Result<TravelTime> from_words(double median_min, double nine_in_ten_min) {
  InputCheck check;
  check.require(median_min > 0.0 && is_finite(median_min), "median_min", median_min, "it must be above 0 min");
  check.require(nine_in_ten_min > median_min && is_finite(nine_in_ten_min), "nine_in_ten_min", nine_in_ten_min,
                "it must be above the usual time");
  if (check.failed()) return check.refusal();
  return TravelTime{median_min, elementary::log(nine_in_ten_min / median_min) / elementary::normal_quantile(0.9)};
}

Result<TravelTime> from_trips(const TravelTime& words, std::span<const double> trips_min) {
  InputCheck check;
  check.require(words.median_min > 0.0 && is_finite(words.median_min), "words", words.median_min,
                "it must be above 0 min");
  check.require(words.sigma > 0.0 && is_finite(words.sigma), "words", words.sigma, "its spread must be above 0");
  for (const double trip : trips_min)
    if (!(trip > 0.0 && is_finite(trip))) check.require(false, "trips_min", trip, "it must be above 0 min");
  if (check.failed()) return check.refusal();
  if (trips_min.empty()) return words;
  const auto n = static_cast<double>(trips_min.size());
  double mean = 0.0;
  for (const double trip : trips_min) mean += elementary::log(trip) / n;
  double sigma = words.sigma;
  if (trips_min.size() >= trips_for_spread) {
    double squares = 0.0;
    for (const double trip : trips_min) {
      const double off = elementary::log(trip) - mean;
      squares += off * off;
    }
    if (squares > 0.0) sigma = std::sqrt(squares / (n - 1.0));
  }
  const double of_words = 1.0 / (words_known_to * words_known_to);
  const double of_trips = n / (sigma * sigma);
  const double log_median = (of_words * elementary::log(words.median_min) + of_trips * mean) / (of_words + of_trips);
  return TravelTime{elementary::exp(log_median), sigma};
}

TravelTime sum_in_short(const TravelTime& a, const TravelTime& b) {
  const auto mean = [](const TravelTime& t) { return t.median_min * elementary::exp(0.5 * t.sigma * t.sigma); };
  const auto variance = [&](const TravelTime& t) { return mean(t) * mean(t) * elementary::expm1(t.sigma * t.sigma); };
  const double both = mean(a) + mean(b);
  const double sigma_squared = elementary::log1p((variance(a) + variance(b)) / (both * both));
  return {both * elementary::exp(-0.5 * sigma_squared), std::sqrt(sigma_squared)};
}

}  // namespace stanch::referral

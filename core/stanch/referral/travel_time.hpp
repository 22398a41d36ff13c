// core/stanch/referral/travel_time.hpp
//
// How long a journey takes, as crews know it: "usually 40 minutes, 9 times in 10 under an hour". A lognormal time: it
// is skewed to the late side.
//
// Source: Budge, Ingolfsson and Zerom 2010 (from memory); Westgate et al., European Journal of Operational Research
// 2016 (abstract read).
#pragma once

#include <span>

#include "stanch/base/result.hpp"

namespace stanch::referral {

struct TravelTime {
  double median_min = 0.0;
  double sigma = 0.0;  ///< standard deviation of its logarithm
};

/// Probability that it takes at most `minutes`: 0 for none or less, 1 for ever.
[[nodiscard]] double within(const TravelTime& time, double minutes);

/// From words: the usual time and the one that 9 in 10 stay under.
/// @return `ask.input_impossible` unless 0 < median < nine_in_ten
[[nodiscard]] Result<TravelTime> from_words(double median_min, double nine_in_ten_min);

/// From logged trips over what crews say: the median is drawn from `words` towards the trips by how many there are (the
/// words count as known to 0.3 in the logarithm). Fewer than 5 trips keep the spread of the words.
[[nodiscard]] Result<TravelTime> from_trips(const TravelTime& words, std::span<const double> trips_min);

/// One lognormal time with the mean and variance of the sum of two (Fenton 1960, from memory): good to 0.004 in the
/// middle and not in the tails.
[[nodiscard]] TravelTime sum_in_short(const TravelTime& a, const TravelTime& b);

}  // namespace stanch::referral

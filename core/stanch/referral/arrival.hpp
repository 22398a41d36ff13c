// core/stanch/referral/arrival.hpp
//
// If she leaves for this place: what is the chance that she is there, or in care there, before she is critical? Takes
// the time to critical as it is forecast elsewhere (weighted possibilities), and the journey as crews know it. Advises
// where, never whether; without a forecast the journey and the place still rank.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "stanch/base/result.hpp"
#include "stanch/referral/travel_time.hpp"

namespace stanch::referral {

inline constexpr double never = std::numeric_limits<double>::infinity();

/// One possibility of the forecast.
struct Possibility {
  double weight = 0.0;          ///< above 0; all together add up to 1
  double critical_min = never;  ///< minutes from now; `never` when not within the forecast
};
using Forecast = std::span<const Possibility>;

/// The way to care at one place.
struct Journey {
  double prepare_min = 0.0;  ///< until she leaves
  TravelTime travel;
  TravelTime door_to_care;
  double capable = 1.0;  ///< probability that the place can do now what she needs
};

/// A place on the way where blood is put in.
struct StopOver {
  double prepare_min = 0.0;
  TravelTime first_leg;
  double stop_min = 0.0;
  double has_blood = 0.0;               ///< probability that the units are there
  std::vector<double> blood_gains_min;  ///< [n_possibilities] minutes by which the units put critical off
  TravelTime second_leg;
  TravelTime door_to_care;
};

/// Chance of arriving before critical.
/// @return `ask.input_impossible` for weights that do not add up to 1 or times that cannot be
[[nodiscard]] Result<double> arrives_in_time(Forecast forecast, double prepare_min, const TravelTime& travel);

/// Chance of care, at a place that can give it, before critical and within `within_min` (above 0, up to a week).
[[nodiscard]] Result<double> care_in_time(Forecast forecast, const Journey& journey, double within_min);

/// The same with a stop for blood on the way, on the same possibilities, so that the two compare fairly.
[[nodiscard]] Result<double> care_with_stop(Forecast forecast, const StopOver& way, double within_min);

/// Chance of arriving in time when critical is lognormal too and she leaves at once.
[[nodiscard]] double arrives_before(const TravelTime& travel, const TravelTime& critical);

/// The forecast with the garment on from `applied_min`: what is left until critical takes 1 / (1 - cut) as long. `cut`,
/// the share by which the loss rate falls, is uncertain (measured mostly before and after): ask with its spread.
[[nodiscard]] Result<std::vector<Possibility>> with_garment(Forecast forecast, double applied_min, double cut);

/// How many equally likely possibilities the weighted ones are worth: 1 / sum of squares.
[[nodiscard]] double effective_number(Forecast forecast);

/// What was known of a capability some hours ago, drawn towards the place's usual share as it ages.
/// @param fades_hours  theta of the exponential
[[nodiscard]] double capability_now(double usually, double last_known, double age_hours, double fades_hours);

}  // namespace stanch::referral

// core/stanch/referral/ranking.hpp
//
// Where to send her: every place of the district in the order of its chance of care in time, ties called ties, and who
// is worth ringing first. It never says that she should not be sent, hides no place, and works without a forecast.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/referral/arrival.hpp"
#include "stanch/referral/places.hpp"

namespace stanch::referral {

/// A garment that goes on and is not in the forecast yet.
struct Wrapping {
  double at_min = 0.0;   ///< from now
  double cut_low = 0.0;  ///< the share by which it cuts the loss rate lies evenly between these: 0 to below 1
  double cut_high = 0.0;
};

struct Question {
  std::vector<Possibility> forecast;  ///< empty: no forecast, only journey and place rank
  double within_min = 0.0;            ///< care is to reach her within this, from now; above 0, up to a week
  std::optional<Wrapping> garment;
  std::optional<BloodGroup> group;  ///< hers
  bool o_pos_in_emergency = false;  ///< the local rule for an unknown group
  int units = 2;                    ///< of red cells wanted
};

/// A share with its 90 % band over what is not known exactly of journeys, places and the garment.
struct Banded {
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct PlaceChance {
  std::size_t place = 0;       ///< in the table
  Banded care;                 ///< of care before critical and within the time asked
  double arrives = 0.0;        ///< of arriving before critical
  double care_if_later = 0.0;  ///< the same when she leaves ten minutes later
  double best = 0.0;           ///< share of draws in which no place has more
  double capable = 0.0;
  double call_gains = 0.0;  ///< what knowing its capability now would add to the best chance
  std::optional<int> fitting_units;
  std::optional<double> blood_there;  ///< chance that the units wanted are still there
};

struct Ranking {
  std::vector<PlaceChance> places;  ///< the most chance first; those tied for the first by travel time
  std::size_t tied = 1;             ///< how many lead together; 1: the first leads clearly
  std::vector<std::size_t>
      call_first;  ///< places of `places` by what a call gains; those that gain nothing are left out
  bool has_forecast = false;
  double effective_number = 0.0;  ///< of possibilities in the forecast; 0 without
};

/// The first leads clearly when it has this much more chance, and is best in this share of the draws; else it is a tie.
inline constexpr double clear_lead = 0.05;
inline constexpr double clear_share = 0.8;
inline constexpr std::size_t n_draws = 200;
inline constexpr double later_min = 10.0;

/// @return `ask.input_impossible` for a forecast, time or number that cannot be
[[nodiscard]] Result<Ranking> rank(const std::vector<Place>& places, const Question& question);

/// docs/formats/where.md
[[nodiscard]] Json to_json(const Ranking& ranking, const PlaceTable& table, const Question& question);

}  // namespace stanch::referral

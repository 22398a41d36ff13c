// core/stanch/referral/places.hpp
//
// The district's table of where a woman can be sent: one place a row, what is known of it and how old that is.
// docs/formats/where.md lists the columns. A row named "default" fills the empty cells of all others.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/table.hpp"
#include "stanch/referral/blood_stock.hpp"
#include "stanch/referral/travel_time.hpp"

namespace stanch::referral {

struct Place {
  std::string name;
  std::size_t line = 0;
  std::string phone;
  std::string directions;    ///< in words, as crews tell them
  double prepare_min = 0.0;  ///< until she leaves
  TravelTime travel;
  TravelTime door_to_care;
  double usually = 0.0;               ///< share of days on which it can give what she needs
  std::optional<bool> can_now;        ///< as last heard
  double heard_hours = 0.0;           ///< hours since that was heard
  double fades_hours = 0.0;           ///< theta with which such news ages
  std::optional<double> call_in_min;  ///< what is missing comes by call within; not told: it does not come
  std::optional<UnitsByGroup> blood;
  double blood_heard_hours = 0.0;
  double blood_fades_hours = 0.0;
  /// Chance that it can give what she needs now.
  [[nodiscard]] double capable() const;
};

struct PlaceTable {
  std::vector<Place> places;
  std::vector<std::string> unknown_columns;  ///< read past, and to be said
};

/// @return problems: those of parse_table; `record.value_out_of_range` for a figure out of its range, no name or a name
///         twice, no usual travel time, care time or share, a nine-in-ten time that is not above the usual one, or
///         blood that cannot be read.
[[nodiscard]] Result<PlaceTable> read_places(std::string_view csv);

/// "O- 2, A+ 4"; nothing when it is no such list.
[[nodiscard]] std::optional<UnitsByGroup> units_in(std::string_view text);

}  // namespace stanch::referral

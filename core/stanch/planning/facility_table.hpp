// core/stanch/planning/facility_table.hpp
//
// The planner's table: one facility a row, what is known of it and nothing more. docs/formats/need.md lists the
// columns. A row named "default" fills the empty cells of all others.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/table.hpp"

namespace stanch::planning {

/// As told; an absent figure was not told.
struct Facility {
  std::string name;
  std::size_t line = 0;
  std::optional<int> have;
  std::optional<double> women_per_year;  ///< in shock, who would be wrapped
  std::optional<double> births_per_year;
  std::optional<double> women_per_100_births;
  std::optional<double> women_seen;  ///< in months_seen: the facility's own record
  std::optional<double> months_seen;
  std::optional<double> days_out;  ///< from the shelf until taken off and bagged
  std::optional<double> days_out_low;
  std::optional<double> days_out_high;
  std::optional<double> days_clean;       ///< until clean, dry and inspected
  std::optional<double> days_back;        ///< on the way back
  std::optional<double> trip_every_days;  ///< the way back begins only so often
  std::optional<double> lost_percent;     ///< of uses: never came back
  std::optional<double> resupply_days;    ///< until a lost one is replaced
  std::optional<double> unusable_percent;
  std::optional<double> season_percent;  ///< the busiest time above the mean
  std::optional<double> weight;
  std::optional<int> at_least;
};

struct FacilityTable {
  std::vector<Facility> facilities;          ///< empty cells filled from the default row
  std::vector<std::string> unknown_columns;  ///< read past, and to be said
};

/// @return problems: those of parse_table; `record.value_out_of_range` for a figure out of its range, no name or a name
/// twice, a low
///         above a high, women seen without months or the reverse, or losses without the days until replaced.
[[nodiscard]] Result<FacilityTable> read_facilities(std::string_view csv);
[[nodiscard]] Result<FacilityTable> read_facilities(const Table& table);

}  // namespace stanch::planning

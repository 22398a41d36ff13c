// core/stanch/planning/need.hpp
//
// The planner's questions about a district: how many garments does each shelf need, with what range; who misses one
// now; where would the same garments do most; and what does one more save? Each shelf by the model that its way home
// asks for, averaged over what is not known of its rate.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/planning/facility_table.hpp"

namespace stanch::planning {

struct NeedOptions {
  double target = 0.05;         ///< share of women who may find none: need is the first number below it
  std::optional<int> garments;  ///< to spread over the district; else what all facilities have
};

/// Where the rate of women comes from, the best first.
enum class RateFrom : std::uint8_t { record, told, births };
[[nodiscard]] std::string_view word(RateFrom from);

/// comes_home: each by itself, Erlang's loss. trips: a trip every so often, exactly. trips_by_mean: cleaning takes
/// longer than from trip to trip; Erlang's loss with the mean wait, a little too hopeful.
enum class LossModel : std::uint8_t { comes_home, trips, trips_by_mean };
[[nodiscard]] std::string_view word(LossModel model);

/// A figure with its range; low and high are the figure itself where no range is known.
struct Ranged {
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
};

struct FacilityNeed {
  std::string name;
  std::size_t line = 0;
  std::string left_out;  ///< why it could not be counted: no_rate, no_days, too_many; empty when it was
  RateFrom rate_from = RateFrom::told;
  LossModel model = LossModel::comes_home;
  Ranged women_per_year;             ///< range: 9 in 10 by its own record
  Ranged days_away;                  ///< mean, from leaving the shelf until ready on it, losses included
  std::vector<double> none_free;     ///< [n + 1] share of women who find none with 0, 1 ... n garments
  std::optional<int> have;           ///< not told: none
  int need = 0;                      ///< fewest garments below the target
  int need_low = 0;                  ///< with the low end of rate and days
  int need_high = 0;                 ///< with the high end
  int best = 0;                      ///< its part of the district's garments, spread for fewest women missed
  double missed_per_year = 0.0;      ///< with what it has
  double one_more_per_year = 0.0;    ///< women saved from finding none by one more than it has
  std::vector<std::string> assumed;  ///< figures that were not told and taken as 0, by column
};

/// One garment more for the district and what it saves.
struct NextGarment {
  std::size_t facility = 0;  ///< index
  int makes = 0;             ///< garments there then
  double saves_per_year = 0.0;
};

struct Need {
  NeedOptions options;
  std::vector<FacilityNeed> facilities;
  int garments = 0;  ///< that are spread
  int have = 0;
  int need = 0;
  int need_low = 0;
  int need_high = 0;
  double women_per_year = 0.0;
  double missed_per_year = 0.0;            ///< as they lie now
  double missed_if_spread = 0.0;           ///< the same garments where they do most
  double missed_if_needed = 0.0;           ///< with each facility's need
  std::vector<NextGarment> next;           ///< in the order to buy, until every facility has its need
  std::vector<double> missed_by_garments;  ///< [n + 1] women a year who find none, n garments spread where they do most
  std::vector<std::string> unknown_columns;
};

/// @return `ask.input_impossible` for a target outside (0, 1] or a negative number of garments. Facilities of which too
///         little is known are left out, each saying why.
[[nodiscard]] Result<Need> need_of(const FacilityTable& table, const NeedOptions& options);

/// docs/formats/need.md has the fields.
[[nodiscard]] Json to_json(const Need& need);

}  // namespace stanch::planning

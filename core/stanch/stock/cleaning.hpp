// A garment that came off a woman: is the soak long enough, has cleaning begun in time, how many uses are left, and is
// it fit to be stored? Limits are the local protocol's.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "stanch/base/moment.hpp"

namespace stanch::stock {

/// From the local protocol. Which comparator goes with each is fixed and said beside it.
struct CleaningLimits {
  Duration soak_short;                  ///< too short below
  Duration soak_timer;                  ///< the timer runs out at this
  Duration soak_long;                   ///< long for the fabric above
  Duration start_within;                ///< overdue above
  int uses_notice = 0;                  ///< this or more
  int uses_most = 0;                    ///< passed above; 0 sets no last use
  double tear_cm = 0.0;                 ///< a tear fails above
  std::vector<std::string> inspection;  ///< points that all must be good
};

/// How a soak stands. `long_for_fabric`: it does no good for killing germs and harms the rubber.
enum class Soak : std::uint8_t { too_short, enough, long_for_fabric };

/// @param soaked  0 or above
/// Source: common practice, no source; which minutes, is the protocol's.  [CL-2]
[[nodiscard]] Soak judge_soak(Duration soaked, const CleaningLimits& limits);

/// True when the timer has run out, so that the garment may be lifted out.  [CL-2]
[[nodiscard]] bool is_soak_timer_over(Duration soaked, const CleaningLimits& limits);

/// True when cleaning has not begun and should have.
/// @param since_removal  from taking the garment off until cleaning began, or until now  [CL-6]
[[nodiscard]] bool is_cleaning_overdue(Duration since_removal, const CleaningLimits& limits);

/// What the count of uses asks for. `last_use_passed` only where the ward has set a last use.
enum class Uses : std::uint8_t { fine, look_closely, last_use_passed };

/// @param uses  times worn, this one included  [CL-7]
[[nodiscard]] Uses judge_uses(int uses, const CleaningLimits& limits);

/// Whether each point of the inspection was found good; a point that was not looked at is absent.
struct InspectionPoint {
  std::string point;
  bool good = false;
};

enum class Fitness : std::uint8_t { fit, quarantine, not_inspected };

struct Inspection {
  Fitness fitness = Fitness::not_inspected;
  std::vector<std::string> failed;
  std::vector<std::string> missing;  ///< points of the protocol that nobody looked at
};

/// One failed point sends the garment to quarantine, whatever else is missing; fit needs every point good.
/// @param tear_cm  length of the longest tear; when given it decides the point `no_tear`  [CL-8]
[[nodiscard]] Inspection judge_inspection(const std::vector<InspectionPoint>& points, std::optional<double> tear_cm,
                                          const CleaningLimits& limits);

}  // namespace stanch::stock

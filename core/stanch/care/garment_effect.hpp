// core/stanch/care/garment_effect.hpp
//
// What the garment does, by published figures: how much blood it may move, for training and what-if only, and what a
// published finding works out to when its own figures are divided.
#pragma once

#include <optional>

#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// Blood moved towards the heart.
struct MovedBlood {
  double ml = 0;
  bool capped = false;  ///< the share of her volume, not the amount by weight, decided
};

/// Weight times an amount per kg, at most a share of her volume. Both above 0.
/// Source: measured in dogs (4.3 mL/kg) and in eleven men (under 5 percent of volume), with a pneumatic device; the
/// larger share that is taught was not measured.  [GP-8]
[[nodiscard]] MovedBlood moved_blood(double weight_kg, double blood_volume_ml, const protocol::Protocol& protocol);

/// Does an interval of a ratio leave 1 out?
[[nodiscard]] constexpr bool excludes_one(double low, double high) { return low > 1.0 || high < 1.0; }

}  // namespace stanch::care

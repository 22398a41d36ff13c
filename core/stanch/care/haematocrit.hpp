// core/stanch/care/haematocrit.hpp
//
// What haematocrit tells about a loss, afterwards: while she bleeds it has not fallen yet, so it never rules bleeding
// out. And how much could be lost before it reaches a limit, if volume were kept normal: not a target.
#pragma once

#include <optional>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/care/blood_volume.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

/// volume x (start - now) / start. Source: Stafford et al. 2008, with their formula for the volume.  [HCT-1]
/// @return `ask.input_impossible` unless volume and haematocrits are above 0; no fall is no loss
[[nodiscard]] Result<double> loss_by_haematocrit(double volume_ml, double start_percent, double now_percent);

/// A set volume for each so many points of fall. Source: Williams Obstetrics, 26th ed., 2022.  [HCT-2]
[[nodiscard]] double loss_by_points(double start_percent, double now_percent, const protocol::Protocol& protocol);

struct AllowableLoss {
  double mean_ml = 0;       ///< volume x fall / mean of both. Source: Gross 1983.  [ABL-1]
  double logarithm_ml = 0;  ///< volume x ln(start / end). Source: Bourke and Smith 1974.  [ABL-2]
  double crude_ml = 0;      ///< volume x fall / start. Source: teaching, from memory.  [ABL-3]
  double first_ml = 0;      ///< the one that loss.allowable_method names
};

/// @return `ask.input_impossible` unless volume and end are above 0 and the start is above the end
[[nodiscard]] Result<AllowableLoss> allowable_loss(double volume_ml, double start_percent, double end_percent,
                                                   const protocol::Protocol& protocol);

/// The first and the newest haematocrit of the record.
struct Haematocrit {
  std::optional<double> start_percent;
  std::optional<double> now_percent;    ///< absent with one result only
  std::optional<double> by_formula_ml;  ///< needs her height and weight
  std::optional<double> by_points_ml;
};

[[nodiscard]] Haematocrit haematocrit(const View& view, const BloodVolume& volume);

[[nodiscard]] Json to_json(const Haematocrit& haematocrit);

}  // namespace stanch::care

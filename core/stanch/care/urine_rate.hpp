// core/stanch/care/urine_rate.hpp
//
// Urine by the hour, interval by interval: from one reading to the next, or from the moment the bladder was emptied.
#pragma once

#include <optional>
#include <vector>

#include "stanch/care/view.hpp"

namespace stanch::care {

struct UrineInterval {
  Moment from;
  Moment to;
  double ml = 0;
  [[nodiscard]] double ml_per_h() const { return ml / (to - from).in_hours(); }
};

/// Every interval of known length, oldest first. An amount counts since the reading before it, a level since the level
/// before it; a level that fell is a new bag. A first reading counts only when a catheter went in or the bladder was
/// emptied before it. Linear.
[[nodiscard]] std::vector<UrineInterval> urine_intervals(const View& view);

/// For how long, up to the newest reading, each interval was below a limit. Nothing when there is no interval.
[[nodiscard]] std::optional<Duration> urine_low_for(const std::vector<UrineInterval>& intervals,
                                                    const protocol::Protocol& protocol, protocol::Key limit);

}  // namespace stanch::care

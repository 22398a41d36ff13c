// core/stanch/care/bleed_rate.hpp
//
// How fast she is losing blood, over the record: a plain rate between the last readings, and the firm answer whether it
// is certainly below or above a limit in spite of coarse marks. How a rate is judged is in loss_rate.hpp.
#pragma once

#include <optional>

#include "stanch/base/json.hpp"
#include "stanch/care/loss.hpp"
#include "stanch/care/loss_rate.hpp"

namespace stanch::care {

/// (V2 - V1) / (t2 - t1), newest reading against the newest at least loss.rate_apart before it.  [BL-16]
struct LossRate {
  double ml_per_h = 0;
  Moment from;
  Moment to;
  std::optional<double> minutes_to_severe;  ///< from `to`, at this rate; absent when it is reached or nothing is lost
};

/// Absent without two readings far enough apart. Source: arithmetic; apart by 5 min: common practice, no source.
[[nodiscard]] std::optional<LossRate> loss_rate(const MeasuredLoss& loss, const protocol::Protocol& protocol);

/// Is she bleeding less than a limit?
struct BleedRate {
  RateJudgement judgement = RateJudgement::cannot_tell;
  std::optional<RateInterval> rate;  ///< every rate the marks allow over the window; absent without two readings
  std::optional<Moment> from;        ///< the readings it was taken between
  std::optional<Moment> to;
  std::optional<Moment> earliest;  ///< cannot_tell: when a reading could show it, if nothing more is lost
  bool reading_due = false;        ///< cannot_tell: no reading, or the newest is too old for the window
};

/// The stretch of time asked about, and the rate that must not be reached in it (unwrap.bleeding_limit).
struct RateQuestion {
  Moment since;
  Moment until;
  double limit_ml_per_h = 0;
};

/// Judges the bleeding of a stretch of time.
///   certainly_above  the last readings, or any stretch of the window up to the newest reading, show the limit or more
///   certainly_below  not that, the readings cover the window without a gap longer than series.gap at either end, and
///                    even the highest rate the marks allow is below the limit. What was lost since the last reading
///                    before the window counts as lost in it: a quiet time before must not thin it out.
///   cannot_tell      otherwise
/// Linear in the readings of the window. Source: interval arithmetic, derived.  [RATE-1] [RATE-2]
[[nodiscard]] BleedRate bleed_rate(const MeasuredLoss& loss, const RateQuestion& question,
                                   const protocol::Protocol& protocol);

[[nodiscard]] Json to_json(const LossRate& rate);

}  // namespace stanch::care

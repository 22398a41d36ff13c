// core/stanch/record/acceptance.hpp
//
// Whether the time of a well-formed entry can be believed, asked by every host before it stores one. Only a time in the
// future is refused; an old time and a wrong clock are asked about and warned of, because the person may be right.
#pragma once

#include <optional>

#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"
#include "stanch/record/case.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::record {

/// The limits of believable times; hosts fill them from the local protocol (care/time_limits.hpp).
struct TimeLimits {
  Duration future;            ///< refused when more than this ahead
  Duration before_opened;     ///< asked about when more than this before the case was opened
  Duration clock_difference;  ///< warned of when a clock differs by more than this, either way
};

struct Acceptance {
  Problems refused;            ///< not to be stored; empty when the entry may be stored
  bool ask_again = false;      ///< long before the case was opened: ask the person whether the time is right
  bool clock_warning = false;  ///< the writing device's clock is wrong: show it
};

/// When the case was opened: the earliest `opened` entry in effect, or nothing.
[[nodiscard]] std::optional<Moment> opened_at(const Case& entries);

/// Judges the times of one entry, corrected by its measured skew.
/// @param now    reference time of the host
/// @param opened when the case was opened; nothing while it is not known, and then nothing is asked
/// Problems: time_in_future naming `at` or `written`.
/// **Source**: common practice, no source. [PL-5] [CLOCK-1]
[[nodiscard]] Acceptance accept_times(const Entry& entry, Moment now, std::optional<Moment> opened,
                                      const TimeLimits& limits);

}  // namespace stanch::record

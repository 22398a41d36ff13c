// cli/clock.hpp
//
// Moments as people read them: clock times of the ward's own offset from UTC.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "stanch/base/moment.hpp"

namespace stanch::cli {

class Clock {
 public:
  /// "+05:30", "-03:00" or "" for UTC; nothing when it cannot be read.
  [[nodiscard]] static std::optional<Clock> from_offset(std::string_view offset);

  /// "08:20", and with the day when it is not the day of `anchor`: "7 May 08:20".
  [[nodiscard]] std::string text(Moment moment, Moment anchor) const;
  /// "6 May 2031 08:20 UTC" or "... +05:30".
  [[nodiscard]] std::string full_text(Moment moment) const;

  /// RFC 3339, or a clock time on the day of `anchor` by this offset.
  [[nodiscard]] std::optional<Moment> parse(std::string_view text, Moment anchor) const;

 private:
  Duration offset_;
  std::string name_ = "UTC";
};

/// "2 h 08 min", "45 min", "20 s".
[[nodiscard]] std::string duration_text(Duration duration);

}  // namespace stanch::cli

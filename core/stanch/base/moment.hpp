// core/stanch/base/moment.hpp
//
// Points in time and lengths of time. The core never reads a clock: every Moment comes in from a host or an entry.
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace stanch {

/// A length of time in whole milliseconds; may be negative.
class Duration {
 public:
  constexpr Duration() = default;
  static constexpr Duration milliseconds(std::int64_t ms) { return Duration(ms); }
  static constexpr Duration seconds(std::int64_t s) { return Duration(s * 1000); }
  /// Whole or fractional minutes, rounded to the nearest millisecond.
  static constexpr Duration minutes(double min) {
    return Duration(static_cast<std::int64_t>(min * 60000.0 + (min < 0 ? -0.5 : 0.5)));
  }
  static constexpr Duration hours(double h) { return minutes(h * 60.0); }

  [[nodiscard]] constexpr std::int64_t ms() const { return ms_; }
  [[nodiscard]] constexpr double in_minutes() const { return static_cast<double>(ms_) / 60000.0; }
  [[nodiscard]] constexpr double in_hours() const { return static_cast<double>(ms_) / 3600000.0; }

  friend constexpr auto operator<=>(Duration, Duration) = default;
  friend constexpr Duration operator+(Duration a, Duration b) { return Duration(a.ms_ + b.ms_); }
  friend constexpr Duration operator-(Duration a, Duration b) { return Duration(a.ms_ - b.ms_); }
  friend constexpr Duration operator-(Duration a) { return Duration(-a.ms_); }
  friend constexpr Duration operator*(Duration a, double k) { return minutes(a.in_minutes() * k); }

 private:
  explicit constexpr Duration(std::int64_t ms) : ms_(ms) {}
  std::int64_t ms_ = 0;
};

/// A point in time: milliseconds since 1970-01-01T00:00:00Z, years 1970 to 9999. Two Moments cannot be added.
class Moment {
 public:
  constexpr Moment() = default;
  static constexpr Moment at_ms(std::int64_t ms) { return Moment(ms); }

  [[nodiscard]] constexpr std::int64_t ms() const { return ms_; }

  friend constexpr auto operator<=>(Moment, Moment) = default;
  friend constexpr Duration operator-(Moment a, Moment b) { return Duration::milliseconds(a.ms_ - b.ms_); }
  friend constexpr Moment operator+(Moment a, Duration d) { return Moment(a.ms_ + d.ms()); }
  friend constexpr Moment operator-(Moment a, Duration d) { return Moment(a.ms_ - d.ms()); }

 private:
  explicit constexpr Moment(std::int64_t ms) : ms_(ms) {}
  std::int64_t ms_ = 0;
};

/// Reads RFC 3339, e.g. 2031-05-06T07:08:09Z or 2031-05-06T12:38:09.250+05:30. Fractions beyond milliseconds are
/// refused, as are leap seconds and calendar days that do not exist.
[[nodiscard]] std::optional<Moment> parse_moment(std::string_view text);

/// RFC 3339 in UTC with "Z"; milliseconds only when they are not zero.
[[nodiscard]] std::string to_text(Moment moment);

}  // namespace stanch

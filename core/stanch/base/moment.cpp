#include "stanch/base/moment.hpp"

#include <array>
#include <cstddef>

namespace stanch {
namespace {

constexpr std::int64_t ms_per_day = 86'400'000;

constexpr bool is_leap(std::int64_t y) { return (y % 4 == 0 && y % 100 != 0) || y % 400 == 0; }

constexpr int days_in_month(std::int64_t y, int m) {
  constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return m == 2 && is_leap(y) ? 29 : days[static_cast<std::size_t>(m - 1)];
}

// Days since 1970-01-01 of a proleptic Gregorian date: years of 400 repeat, months counted from March so that the leap
// day comes last.
constexpr std::int64_t days_from_civil(std::int64_t y, int m, int d) {
  const std::int64_t year = m <= 2 ? y - 1 : y;
  const std::int64_t era = year / 400;
  const std::int64_t year_of_era = year - era * 400;
  const std::int64_t day_of_year = (153 * (m > 2 ? m - 3 : m + 9) + 2) / 5 + d - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719468;
}

struct CivilDate {
  std::int64_t year;
  int month;
  int day;
};

constexpr CivilDate civil_from_days(std::int64_t days) {
  const std::int64_t shifted = days + 719468;
  const std::int64_t era = shifted / 146097;
  const std::int64_t doe = shifted - era * 146097;
  const std::int64_t yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
  const std::int64_t doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
  const std::int64_t mp = (5 * doy + 2) / 153;
  const int month = static_cast<int>(mp < 10 ? mp + 3 : mp - 9);
  return {yoe + era * 400 + (month <= 2 ? 1 : 0), month, static_cast<int>(doy - (153 * mp + 2) / 5 + 1)};
}

// Reads a fixed shape left to right; once something does not fit, everything after fails.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : rest_(text) {}

  int digits(std::size_t n) {
    if (rest_.size() < n) return fail();
    int value = 0;
    for (std::size_t i = 0; i < n; ++i) {
      if (rest_[i] < '0' || rest_[i] > '9') return fail();
      value = value * 10 + (rest_[i] - '0');
    }
    rest_.remove_prefix(n);
    return value;
  }

  void expect(char upper, char lower) {
    if (!take(upper) && !take(lower)) fail();
  }

  bool take(char c) {
    if (rest_.empty() || rest_.front() != c) return false;
    rest_.remove_prefix(1);
    return true;
  }

  int fraction_ms() {
    int value = 0;
    int seen = 0;
    for (; !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9'; ++seen) {
      if (seen >= 3) {
        if (rest_.front() != '0') return fail();
      } else {
        value = value * 10 + (rest_.front() - '0');
      }
      rest_.remove_prefix(1);
    }
    if (seen == 0) return fail();
    for (; seen < 3; ++seen) value *= 10;
    return value;
  }

  [[nodiscard]] bool whole() const { return ok_ && rest_.empty(); }

 private:
  int fail() {
    ok_ = false;
    return 0;
  }
  std::string_view rest_;
  bool ok_ = true;
};

void append_padded(std::string& out, std::int64_t value, std::size_t width) {
  const std::string digits = std::to_string(value);
  out.append(width > digits.size() ? width - digits.size() : 0, '0');
  out += digits;
}

}  // namespace

std::optional<Moment> parse_moment(std::string_view text) {
  Scanner in(text);
  const int year = in.digits(4);
  in.expect('-', '-');
  const int month = in.digits(2);
  in.expect('-', '-');
  const int day = in.digits(2);
  in.expect('T', 't');
  const int hour = in.digits(2);
  in.expect(':', ':');
  const int minute = in.digits(2);
  in.expect(':', ':');
  const int second = in.digits(2);
  const int ms = in.take('.') ? in.fraction_ms() : 0;
  int offset_min = 0;
  if (!in.take('Z') && !in.take('z')) {
    const int sign = in.take('-') ? -1 : 1;
    if (sign > 0) in.expect('+', '+');
    const int offset_hour = in.digits(2);
    in.expect(':', ':');
    const int offset_minute = in.digits(2);
    if (offset_hour > 23 || offset_minute > 59) return std::nullopt;
    offset_min = sign * (offset_hour * 60 + offset_minute);
  }
  if (!in.whole()) return std::nullopt;
  if (year < 1970 || month < 1 || month > 12 || day < 1 || day > days_in_month(year, month)) return std::nullopt;
  if (hour > 23 || minute > 59 || second > 59) return std::nullopt;
  const std::int64_t seconds = (hour * 60LL + minute - offset_min) * 60LL + second;
  return Moment::at_ms(days_from_civil(year, month, day) * ms_per_day + seconds * 1000 + ms);
}

std::string to_text(Moment moment) {
  std::int64_t days = moment.ms() / ms_per_day;
  std::int64_t rest = moment.ms() % ms_per_day;
  if (rest < 0) {
    rest += ms_per_day;
    --days;
  }
  const CivilDate date = civil_from_days(days);
  std::string out;
  append_padded(out, date.year, 4);
  out += '-';
  append_padded(out, date.month, 2);
  out += '-';
  append_padded(out, date.day, 2);
  out += 'T';
  append_padded(out, rest / 3'600'000, 2);
  out += ':';
  append_padded(out, rest / 60'000 % 60, 2);
  out += ':';
  append_padded(out, rest / 1000 % 60, 2);
  if (rest % 1000 != 0) {
    out += '.';
    append_padded(out, rest % 1000, 3);
  }
  out += 'Z';
  return out;
}

}  // namespace stanch

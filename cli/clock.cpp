#include "cli/clock.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cstdlib>

namespace stanch::cli {
namespace {

constexpr std::array months{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

struct Shown {
  std::string date;  // "2031-05-06"
  std::string time;  // "08:20" or "08:20:30"
};

Shown split(Moment local) {
  const std::string text = to_text(local);
  const bool whole_minute = text.substr(17, 2) == "00";
  return {text.substr(0, 10), text.substr(11, whole_minute ? 5 : 8)};
}

std::size_t number_at(const std::string& date, std::size_t from) {
  std::size_t value = 0;
  std::from_chars(date.data() + from, date.data() + from + 2, value);
  return value;
}

std::string day_text(const std::string& date) {
  return fmt::format("{} {}", number_at(date, 8), months[number_at(date, 5) - 1]);
}

}  // namespace

std::optional<Clock> Clock::from_offset(std::string_view offset) {
  Clock out;
  if (offset.empty() || offset == "UTC" || offset == "Z") return out;
  // An offset is read by way of a whole moment, so that its rules are the record's.
  const auto at = parse_moment("2031-05-06T12:00:00" + std::string(offset));
  if (!at) return std::nullopt;
  out.offset_ = *parse_moment("2031-05-06T12:00:00Z") - *at;
  out.name_ = offset;
  return out;
}

std::string Clock::text(Moment moment, Moment anchor) const {
  const Shown shown = split(moment + offset_);
  if (shown.date == split(anchor + offset_).date) return shown.time;
  return day_text(shown.date) + " " + shown.time;
}

std::string Clock::full_text(Moment moment) const {
  const Shown shown = split(moment + offset_);
  return fmt::format("{} {} {} {}", day_text(shown.date), shown.date.substr(0, 4), shown.time, name_);
}

std::optional<Moment> Clock::parse(std::string_view text, Moment anchor) const {
  if (const auto moment = parse_moment(text)) return moment;
  const std::string seconds = text.size() == 5 ? ":00" : "";
  const auto local = parse_moment(split(anchor + offset_).date + "T" + std::string(text) + seconds + "Z");
  return local ? std::optional(*local - offset_) : std::nullopt;
}

std::string duration_text(Duration duration) {
  const std::int64_t seconds = std::abs(duration.ms()) / 1000;
  const std::string sign = duration.ms() < 0 ? "-" : "";
  if (seconds < 60) return fmt::format("{}{} s", sign, seconds);
  if (seconds < 3600) return fmt::format("{}{} min", sign, seconds / 60);
  return fmt::format("{}{} h {:02} min", sign, seconds / 3600, seconds / 60 % 60);
}

}  // namespace stanch::cli

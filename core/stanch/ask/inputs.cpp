#include "stanch/ask/inputs.hpp"

#include <algorithm>

#include "stanch/base/number.hpp"

namespace stanch::ask {
namespace {

std::vector<std::string> split(std::string_view text, char by) {
  std::vector<std::string> out;
  while (true) {
    const auto end = text.find(by);
    out.emplace_back(text.substr(0, end));
    if (end == std::string_view::npos) return out;
    text.remove_prefix(end + 1);
  }
}

// The value of up to four digits, or -1.
int digits(std::string_view text) {
  if (text.empty() || text.size() > 4) return -1;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return -1;
    value = value * 10 + (c - '0');
  }
  return value;
}

}  // namespace

std::optional<Moment> parse_clock(std::string_view text) {
  if (const auto moment = parse_moment(text)) return moment;
  // Any fixed day would do: text cases tell time of day only.
  static const Moment day = *parse_moment("2031-05-06T00:00:00Z");
  const auto parts = split(text, ':');
  if (parts.size() < 2 || parts.size() > 3) return std::nullopt;
  const int hour = digits(parts[0]);
  const int minute = parts[1].size() == 2 ? digits(parts[1]) : -1;
  int second = 0;
  if (parts.size() == 3) second = parts[2].size() == 2 ? digits(parts[2]) : -1;
  if (hour < 0 || minute < 0 || minute > 59 || second < 0 || second > 59) return std::nullopt;
  return day + Duration::seconds((hour * 60LL + minute) * 60 + second);
}

std::optional<std::string> Inputs::raw(std::string_view key) const {
  const auto it = given_.find(key);
  return it == given_.end() ? std::nullopt : std::optional(it->second);
}

void Inputs::unreadable(std::string_view key, std::string allowed) {
  problems_.push_back(
      {ProblemCode::input_impossible, std::string(key), raw(key).value_or(""), "it must be " + std::move(allowed), 0});
}

void Inputs::impossible(std::string_view key, std::string why) {
  problems_.push_back(
      {ProblemCode::input_impossible, std::string(key), raw(key).value_or("absent"), std::move(why), 0});
}

std::optional<double> Inputs::number(std::string_view key) {
  const auto text = raw(key);
  if (!text) return std::nullopt;
  const auto value = parse_number(*text);
  if (!value) unreadable(key, "a number");
  return value;
}

std::optional<int> Inputs::whole(std::string_view key) {
  const auto text = raw(key);
  if (!text) return std::nullopt;
  const auto value = parse_number(*text);
  if (!value || !is_whole(*value) || *value < -1e9 || *value > 1e9) {
    unreadable(key, "a whole number");
    return std::nullopt;
  }
  return static_cast<int>(*value);
}

std::optional<bool> Inputs::flag(std::string_view key) {
  const auto text = raw(key);
  if (!text) return std::nullopt;
  if (*text == "true" || *text == "yes") return true;
  if (*text == "false" || *text == "no") return false;
  unreadable(key, "true or false");
  return std::nullopt;
}

std::optional<std::string> Inputs::text(std::string_view key) const { return raw(key); }

std::optional<std::string> Inputs::word(std::string_view key, std::initializer_list<std::string_view> allowed) {
  auto text = raw(key);
  if (!text || std::find(allowed.begin(), allowed.end(), *text) != allowed.end()) return text;
  std::string list = "one of";
  for (const std::string_view w : allowed) list += " " + std::string(w);
  unreadable(key, list);
  return std::nullopt;
}

std::optional<Moment> Inputs::moment(std::string_view key) {
  const auto text = raw(key);
  if (!text) return std::nullopt;
  const auto value = parse_clock(*text);
  if (!value) unreadable(key, "a time like 10:20");
  return value;
}

std::optional<std::vector<double>> Inputs::numbers(std::string_view key) {
  const auto text = raw(key);
  if (!text) return std::nullopt;
  std::vector<double> out;
  for (const std::string& part : split(*text, ',')) {
    const auto value = parse_number(part);
    if (!value) {
      unreadable(key, "numbers with commas between");
      return std::nullopt;
    }
    out.push_back(*value);
  }
  return out;
}

std::optional<std::vector<std::string>> Inputs::words(std::string_view key) const {
  const auto text = raw(key);
  if (!text) return std::nullopt;
  if (text->empty()) return std::vector<std::string>{};
  return split(*text, ',');
}

}  // namespace stanch::ask

#include "stanch/slip/strings.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/slip/base64url.hpp"
#include "stanch/slip/words.hpp"

namespace stanch::slip {
namespace {

constexpr std::size_t id_bytes = 16;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool has_meaning(char c) { return is_digit(c) || c == '@' || c == '#' || c == '='; }

/// A number without a sign or zeros in front, so that each text has one short form.
std::optional<std::size_t> number_in(std::string_view digits, std::size_t below) {
  std::size_t value = 0;
  const auto [end, fault] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (fault != std::errc() || end != digits.data() + digits.size() || value >= below) return std::nullopt;
  if (std::to_string(value) != digits) return std::nullopt;
  return value;
}

std::optional<Id> id_in(std::string_view base64url) {
  const auto bytes = from_base64url(base64url);
  if (!bytes || bytes->size() != id_bytes) return std::nullopt;
  std::array<std::uint8_t, id_bytes> raw{};
  std::transform(bytes->begin(), bytes->end(), raw.begin(), [](char c) { return static_cast<std::uint8_t>(c); });
  return parse_id(to_text(Id(raw)));
}

}  // namespace

Strings::Strings(std::vector<Id> ids) : ids_(std::move(ids)) {
  for (std::size_t i = 0; i < ids_.size(); ++i) number_.emplace(ids_[i], i);
}

std::string Strings::short_text(std::string_view text) const {
  if (const auto word = number_of_word(text)) return std::to_string(*word);
  const auto id = parse_id(text);
  if (id && to_text(*id) == text) {
    const auto known = number_.find(*id);
    if (known != number_.end()) return "@" + std::to_string(known->second);
    const auto bytes = id->bytes();
    return "#" + to_base64url(std::string(bytes.begin(), bytes.end()));
  }
  if (!text.empty() && has_meaning(text.front())) return "=" + std::string(text);
  return std::string(text);
}

std::optional<std::string> Strings::long_text(std::string_view text) const {
  if (text.empty() || !has_meaning(text.front())) return std::string(text);
  const std::string_view rest = text.substr(1);
  if (text.front() == '=') return std::string(rest);
  if (text.front() == '@') {
    const auto number = number_in(rest, ids_.size());
    return number ? std::optional(to_text(ids_[*number])) : std::nullopt;
  }
  if (text.front() == '#') {
    const auto id = id_in(rest);
    return id ? std::optional(to_text(*id)) : std::nullopt;
  }
  const auto number = number_in(text, n_words);
  return number ? std::optional(std::string(word_numbered(*number))) : std::nullopt;
}

Json Strings::short_value(const Json& value) const {
  if (value.is_string()) return short_text(value.get_ref<const std::string&>());
  if (value.is_array()) {
    Json out = Json::array();
    for (const Json& item : value) out.push_back(short_value(item));
    return out;
  }
  if (value.is_object()) {
    Json out = Json::object();
    for (auto it = value.begin(); it != value.end(); ++it) out[short_text(it.key())] = short_value(it.value());
    return out;
  }
  return value;
}

std::optional<Json> Strings::long_value(const Json& value) const {
  if (value.is_string()) {
    auto text = long_text(value.get_ref<const std::string&>());
    return text ? std::optional<Json>(std::move(*text)) : std::nullopt;
  }
  if (!value.is_structured()) return value;
  Json out = value.is_array() ? Json::array() : Json::object();
  for (auto it = value.begin(); it != value.end(); ++it) {
    auto item = long_value(it.value());
    if (!item) return std::nullopt;
    if (value.is_array()) {
      out.push_back(std::move(*item));
      continue;
    }
    const auto name = long_text(it.key());
    if (!name || out.contains(*name)) return std::nullopt;  // two short names of one long one
    out[*name] = std::move(*item);
  }
  return out;
}

}  // namespace stanch::slip

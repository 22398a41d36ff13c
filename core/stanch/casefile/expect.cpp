#include "stanch/casefile/expect.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/base/number.hpp"

namespace stanch::casefile {
namespace {

std::string text_or_empty(const Json& item, const char* field) {
  const auto it = item.find(field);
  return it != item.end() && it->is_string() ? it->get<std::string>() : std::string();
}

// A list item answers to its id or act, alone or with :about; a text answers to itself.
bool is_named(const Json& item, std::string_view name) {
  if (item.is_string()) return item.get_ref<const std::string&>() == name;
  if (item.is_number()) return parse_number(name) == item.get<double>();
  if (!item.is_object()) return false;
  for (const char* field : {"id", "act"}) {
    const std::string id = text_or_empty(item, field);
    if (id.empty()) continue;
    if (id == name || id + ":" + text_or_empty(item, "about") == name) return true;
  }
  return false;
}

std::string name_of(const Json& item) {
  if (!item.is_object()) return canonical_text(item);
  std::string id = text_or_empty(item, "id");
  if (id.empty()) id = text_or_empty(item, "act");
  const std::string about = text_or_empty(item, "about");
  return about.empty() ? id : id + ":" + about;
}

std::string found_text(const Json* found) {
  if (found == nullptr) return "nothing";
  if (found->is_string()) return found->get<std::string>();
  if (!found->is_array()) return canonical_text(*found);
  std::string out = "[";
  for (const Json& item : *found) out += (out.size() > 1 ? ", " : "") + name_of(item);
  return out + "]";
}

const Json* step_into(const Json& at, std::string_view step) {
  if (at.is_object()) {
    const auto it = at.find(step);
    return it == at.end() ? nullptr : &*it;
  }
  if (!at.is_array()) return nullptr;
  for (const Json& item : at)
    if (is_named(item, step)) return &item;
  const auto index = parse_number(step);
  return index && *index >= 0 && *index < static_cast<double>(at.size()) ? &at[static_cast<std::size_t>(*index)]
                                                                         : nullptr;
}

const Json* find(const Json& answer, std::string_view path) {
  const Json* at = &answer;
  while (at != nullptr && !path.empty()) {
    const auto dot = path.find('.');
    at = step_into(*at, path.substr(0, dot));
    path.remove_prefix(dot == std::string_view::npos ? path.size() : dot + 1);
  }
  return at;
}

bool same_number(const Expectation& expected, double found) {
  const auto value = parse_number(expected.value);
  return value && std::fabs(*value - found) <= expected.tolerance.value_or(0.0);
}

bool same_text(const std::string& expected, const std::string& found) {
  if (expected == found) return true;
  const auto wanted = ask::parse_clock(expected);
  const auto there = parse_moment(found);
  return wanted && there && *wanted == *there;
}

bool equals(const Expectation& expected, const Json& found) {
  if (found.is_number()) return same_number(expected, found.get<double>());
  if (found.is_string()) return same_text(expected.value, found.get_ref<const std::string&>());
  if (found.is_array()) return found_text(&found) == expected.value || (found.empty() && expected.value == "none");
  return canonical_text(found) == expected.value;
}

bool includes(const std::string& name, const Json& found) {
  if (!found.is_array()) return false;
  for (const Json& item : found)
    if (is_named(item, name)) return true;
  return false;
}

}  // namespace

std::optional<std::string> difference(const Expectation& expected, const Json& answer) {
  const Json* found = find(answer, expected.path);
  switch (expected.relation) {
    case Relation::absent:
      if (found == nullptr || found->is_null()) return std::nullopt;
      return "expected no " + expected.path + ", found " + found_text(found);
    case Relation::includes:
      if (found != nullptr && includes(expected.value, *found)) return std::nullopt;
      return "expected " + expected.path + " to include " + expected.value + ", found " + found_text(found);
    case Relation::lacks:
      if (found == nullptr || !includes(expected.value, *found)) return std::nullopt;
      return "expected " + expected.path + " without " + expected.value + ", found " + found_text(found);
    case Relation::equals:
      break;
  }
  if (found != nullptr && equals(expected, *found)) return std::nullopt;
  std::string wanted = expected.value;
  if (expected.tolerance) wanted += " +- " + number_text(*expected.tolerance);
  return "expected " + expected.path + " = " + wanted + ", found " + found_text(found);
}

}  // namespace stanch::casefile

#include "cli/entry_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string_view>

#include "cli/clock.hpp"
#include "cli/figures.hpp"
#include "cli/messages.hpp"
#include "stanch/record/fields.hpp"

namespace stanch::cli {
namespace {

std::string value_text(const Json& value, std::string_view unit) {
  if (value.is_number()) return figure(value.get<double>(), unit);
  if (value.is_string()) return name_of(value.get<std::string>());
  if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
  if (value.is_null()) return "none";
  if (value.is_object() && value.contains("ml"))
    return fmt::format("{} mL over {} min", figure(value["ml"].get<double>()), figure(value["over_min"].get<double>()));
  std::string out;
  for (const Json& item : value) out += (out.empty() ? "" : ", ") + value_text(item, "");
  return out.empty() ? "none" : out;
}

// Words that name the thing itself are said without their field's name: "drug oxytocin, dose 10 international units".
bool is_subject(std::string_view field) {
  constexpr std::array<std::string_view, 9> subjects{"drug",  "fluid",  "product", "what",  "who",
                                                     "where", "action", "method",  "advice"};
  return std::find(subjects.begin(), subjects.end(), field) != subjects.end();
}

std::string unit_of(const record::Entry& entry, const record::Field& field) {
  if (field.name == "dose") return entry.whole->value("unit", "");
  return field.unit == "people" || field.unit == "pH" ? "" : std::string(field.unit);
}

}  // namespace

std::string entry_text(const record::Entry& entry) {
  std::string out = message("kind", entry.kind_word);
  bool first = true;
  for (const record::Field& field : record::fields_of(entry.kind)) {
    const auto value = entry.whole->find(field.name);
    if (value == entry.whole->end() || (entry.kind == record::Kind::drug && field.name == "unit")) continue;
    out += first ? ": " : ", ";
    first = false;
    if (!is_subject(field.name)) out += message("field", field.name) + " ";
    out += value_text(*value, unit_of(entry, field));
  }
  if (entry.strikes) out += first ? ": voids an earlier entry" : ", in place of an earlier entry";
  if (!entry.second.empty()) out += ", second person " + entry.second;
  const Duration delay = entry.written - entry.at;
  if (delay > Duration::minutes(2)) out += " (written " + duration_text(delay) + " later)";
  return out;
}

}  // namespace stanch::cli

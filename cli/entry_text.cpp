#include "cli/entry_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <string_view>

#include "cli/figures.hpp"
#include "cli/messages.hpp"
#include "stanch/record/fields.hpp"

namespace stanch::cli {
namespace {

using record::Entry;
using record::Field;
using record::FieldType;

// What goes without saying.
bool is_usual(const Entry& entry, std::string_view field, const Json& value) {
  if (value.is_boolean()) return value.get<bool>() == (field == "done");
  if (!value.is_string()) return false;
  constexpr std::array<std::string_view, 4> usual{"treatment", "given", "manual", "both"};
  const auto& word = value.get_ref<const std::string&>();
  return std::find(usual.begin(), usual.end(), word) != usual.end() && entry.kind != record::Kind::finding;
}

std::string unit_of(const Entry& entry, const Field& field) {
  return field.name == "dose" ? entry.whole->value("unit", "") : std::string(field.unit);
}

std::string words_of(const Entry& entry, const Json& list) {
  std::string out;
  for (const Json& word : list) {
    if (!out.empty()) out += ", ";
    out += name_in(entry.kind_word, word.get<std::string>());
  }
  return out.empty() ? message("name", "none") : out;
}

std::string value_text(const Entry& entry, const Field& field, const Json& value, const Clock& clock) {
  if (value.is_number()) return figure(value.get<double>(), unit_of(entry, field));
  if (value.is_null()) return message("name", "no_clot");
  if (value.is_array())
    return field.type == FieldType::id_list ? figure(static_cast<double>(value.size())) : words_of(entry, value);
  if (!value.is_string()) return {};
  const std::string text = value.get<std::string>();
  if (field.type == FieldType::moment) {
    const auto moment = parse_moment(text);
    return moment ? clock.text(*moment, entry.happened()) : text;
  }
  constexpr std::array<std::string_view, 4> as_written{"label", "garment_id", "blood_group", "group"};
  const bool free = std::find(as_written.begin(), as_written.end(), field.name) != as_written.end();
  return free && text != "unknown" ? text : name_in(entry.kind_word, text);
}

std::string field_text(const Entry& entry, const Field& field, const Json& value, const Clock& clock) {
  if (field.type == FieldType::infusion)
    return message("field", field.name,
                   {{"ml", figure(value["ml"].get<double>())}, {"over_min", figure(value["over_min"].get<double>())}});
  return message(
      "field", field.name,
      {{"value", value_text(entry, field, value, clock)},
       {"number", value.is_number() ? figure(value.get<double>()) : value_text(entry, field, value, clock)}});
}

// A systolic with its diastolic is one figure to people.
std::string pressure_text(const Json& whole) {
  return message("field", "bp",
                 {{"sbp", figure(whole["sbp"].get<double>())}, {"dbp", figure(whole["dbp"].get<double>())}});
}

// What the rest is said of: "womb soft", "drape at 320 mL", "closed ankle panels".
bool is_subject(const Entry& entry, std::string_view field) {
  constexpr std::array<std::string_view, 6> subjects{"drug", "fluid", "product", "who", "method", "action"};
  if (field == "what") return entry.kind != record::Kind::surgery;
  return std::find(subjects.begin(), subjects.end(), field) != subjects.end();
}

std::string fields_text(const Entry& entry, const Clock& clock) {
  const Json& whole = *entry.whole;
  const bool pair =
      entry.kind == record::Kind::vitals && whole.contains("dbp") && whole.contains("sbp") && whole["sbp"].is_number();
  std::string out;
  const char* separator = "";
  for (const Field& field : record::fields_of(entry.kind)) {
    const auto value = whole.find(field.name);
    if (value == whole.end() || is_usual(entry, field.name, *value)) continue;
    if (entry.kind == record::Kind::drug && field.name == "unit") continue;
    if (pair && field.name == "dbp") continue;
    out += separator;
    out += pair && field.name == "sbp" ? pressure_text(whole) : field_text(entry, field, *value, clock);
    separator = is_subject(entry, field.name) ? " " : ", ";
  }
  return out;
}

}  // namespace

std::string entry_text(const Entry& entry, const Clock& clock) {
  std::string out = message("kind", entry.kind_word);
  const std::string fields = fields_text(entry, clock);
  if (!fields.empty()) out += ": " + fields;
  if (entry.strikes) out += fields.empty() ? ": voids an earlier entry" : ", in place of an earlier entry";
  if (!entry.second.empty()) out += ", second person " + entry.second;
  const Duration delay = entry.written - entry.at;
  if (delay > Duration::minutes(2)) out += " (written " + duration_text(delay) + " later)";
  return out;
}

}  // namespace stanch::cli

#include "stanch/casefile/given_line.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "stanch/ask/inputs.hpp"
#include "stanch/base/id.hpp"
#include "stanch/base/number.hpp"
#include "stanch/casefile/line_words.hpp"
#include "stanch/record/fields.hpp"

namespace stanch::casefile {
namespace {

using record::Field;
using record::FieldType;

tl::unexpected<Problems> not_understood(std::string found, std::string expected) {
  return refuse(Problem{ProblemCode::case_syntax, "", std::move(found), std::move(expected), 0});
}

Json list_of(std::string_view text) {
  Json out = Json::array();
  while (!text.empty()) {
    const auto comma = text.find(',');
    out.push_back(std::string(text.substr(0, comma)));
    text.remove_prefix(comma == std::string_view::npos ? text.size() : comma + 1);
  }
  return out;
}

// "500ml/10min" of an infusion.
Json infusion_of(std::string_view text) {
  const auto ml = text.find("ml/");
  const auto min = text.find("min");
  if (ml == std::string_view::npos || min == std::string_view::npos || min < ml + 3) return std::string(text);
  const auto volume = parse_number(text.substr(0, ml));
  const auto time = parse_number(text.substr(ml + 3, min - ml - 3));
  if (!volume || !time) return std::string(text);
  return Json{{"ml", *volume}, {"over_min", *time}};
}

Json number_or_text(const std::string& text) {
  const auto number = parse_number(text);
  return number ? Json(*number) : Json(text);
}

// The JSON value a field's text means; text that does not fit stays text, and the record's reader refuses it by name.
Json value_of(const Field& field, const std::string& text) {
  switch (field.type) {
    case FieldType::integer:
    case FieldType::number:
    case FieldType::integer_or_word:
    case FieldType::text_or_number:
      return number_or_text(text);
    case FieldType::number_or_null:
      return text == "null" || text == "none" ? Json() : number_or_text(text);
    case FieldType::flag:
      if (text == "true" || text == "yes") return true;
      if (text == "false" || text == "no") return false;
      return text;
    case FieldType::text_list:
    case FieldType::id_list:
      return text == "none" ? Json::array() : list_of(text);
    case FieldType::moment: {
      const auto moment = ask::parse_clock(text);
      return moment ? Json(to_text(*moment)) : Json(text);
    }
    case FieldType::infusion:
      return infusion_of(text);
    case FieldType::text:
    case FieldType::word:
      return text;
  }
  return text;
}

// "bp=84/50", the way pressures are said.
bool take_pressure(const std::string& text, Json& entry) {
  const auto slash = text.find('/');
  if (slash == std::string::npos) return false;
  entry["sbp"] = number_or_text(text.substr(0, slash));
  entry["dbp"] = number_or_text(text.substr(slash + 1));
  return true;
}

}  // namespace

Result<Json> GivenLines::read(const std::vector<std::string>& words, std::string& label) const {
  const auto at = words.empty() ? std::nullopt : ask::parse_clock(words[0]);
  if (!at) return not_understood(words.empty() ? "" : words[0], "a clock time like 10:05");
  std::size_t next = 1;
  if (next < words.size() && words[next].starts_with('#')) label = words[next++];
  if (next >= words.size()) return not_understood(words[0], "a kind of entry after the time");
  const std::string& kind_word = words[next++];
  const auto kind = record::from_word<record::Kind>(kind_word);
  const auto fields = kind ? record::fields_of(*kind) : std::span<const Field>{};

  Json entry{
      {"kind", kind_word}, {"at", to_text(*at)}, {"written", to_text(*at)}, {"by", "demo"}, {"from", "case-text"}};
  for (; next < words.size(); ++next) {
    auto [key, value] = key_and_value(words[next]);
    if (key.empty()) return not_understood(words[next], "field=value");
    const auto field =
        std::find_if(fields.begin(), fields.end(), [&key = key](const Field& f) { return f.name == key; });
    if (key == "strikes") {
      const auto target = ids_.find(value);
      if (target == ids_.end()) return not_understood(words[next], "the #label of an earlier line");
      entry[key] = target->second;
    } else if (key == "written") {
      const auto written = ask::parse_clock(value);
      if (!written) return not_understood(words[next], "a clock time like 10:05");
      entry[key] = to_text(*written);
    } else if (key == "skew_ms") {
      entry[key] = number_or_text(value);
    } else if (key == "bp" && kind == record::Kind::vitals) {
      if (!take_pressure(value, entry)) return not_understood(words[next], "bp=systolic/diastolic");
    } else if (field != fields.end()) {
      entry[key] = value_of(*field, value);
    } else if (kind && key != "by" && key != "second" && key != "from" && key != "note") {
      return not_understood(words[next], "a field of " + kind_word);
    } else {
      entry[key] = value;
    }
  }
  return entry;
}

Result<Json> GivenLines::entry(const std::vector<std::string>& words) {
  std::string label;
  auto made = read(words, label);
  if (!made) return made;
  const std::string id = to_text(make_id(*parse_moment((*made)["written"].get<std::string>()), 0, ++count_));
  (*made)["id"] = id;
  (*made)["case"] = to_text(make_id(*ask::parse_clock("00:00"), 0, 0));
  if (!label.empty()) ids_[label] = id;
  return made;
}

Result<Json> GivenLines::proposed(const std::vector<std::string>& words) const {
  GivenLines copy = *this;
  return copy.entry(words);
}

}  // namespace stanch::casefile

// core/stanch/protocol/ward.cpp
//
// A ward's own file over the shipped default: signed, known ids, within range; refused whole otherwise. Lists change
// only where the row limits their items.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/base/moment.hpp"
#include "stanch/base/number.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::protocol {
namespace {

std::string text_at(const Json& json, const char* table, const char* field) {
  if (!json.contains(table) || !json[table].is_object() || !json[table].contains(field) ||
      !json[table][field].is_string())
    return {};
  return json[table][field].get<std::string>();
}

Approval read_approval(const Json& ward, Problems& problems) {
  const auto need = [&](const char* field, const char* allowed) {
    std::string text = text_at(ward, "approved", field);
    if (text.empty()) problems.push_back({ProblemCode::protocol_unsigned, field, "", allowed, 0});
    return text;
  };
  Approval out{need("by", "the name of who approved it"), need("role", "the role of who approved it"),
               need("on", "the day of approval, YYYY-MM-DD")};
  if (!out.on.empty() && !parse_moment(out.on + "T00:00:00Z"))
    problems.push_back({ProblemCode::protocol_malformed, "approved.on", out.on, "a day, YYYY-MM-DD", 0});
  return out;
}

std::string choices_text(const Value& value) {
  std::string out;
  for (const std::string& choice : value.choices) out += (out.empty() ? "" : ", ") + choice;
  return out;
}

void set_number(Value& value, const Json& amount, Problems& problems) {
  const std::string allowed = number_text(value.low) + " to " + number_text(value.high) + " " + value.unit;
  if (!amount.is_number() || amount.get<double>() < value.low || amount.get<double>() > value.high)
    problems.push_back({ProblemCode::protocol_out_of_range, value.id, canonical_text(amount), allowed, 0});
  else
    value.number = amount.get<double>();
}

void set_word(Value& value, const Json& amount, Problems& problems) {
  const std::string text = amount.is_string() ? amount.get<std::string>() : canonical_text(amount);
  if (std::find(value.choices.begin(), value.choices.end(), text) == value.choices.end())
    problems.push_back({ProblemCode::protocol_out_of_range, value.id, text, "one of " + choices_text(value), 0});
  else
    value.word = text;
}

void set_comparator(Value& value, const Json& text, Problems& problems) {
  std::string allowed;
  for (const Comparator c : value.comparators_allowed) {
    if (text.is_string() && sign(c) == text.get_ref<const std::string&>()) {
      value.comparator = c;
      return;
    }
    allowed += (allowed.empty() ? "" : " or ") + std::string(sign(c));
  }
  if (allowed.empty()) allowed = "only " + std::string(sign(value.comparator));
  problems.push_back({ProblemCode::protocol_comparator, value.id, canonical_text(text), allowed, 0});
}

bool item_allowed(const Value& value, const Json& item) {
  if (value.has_range) return item.is_number() && item.get<double>() >= value.low && item.get<double>() <= value.high;
  return item.is_string() &&
         std::find(value.choices.begin(), value.choices.end(), item.get<std::string>()) != value.choices.end();
}

/// A list whose items are all allowed and none of them twice.
bool list_allowed(const Value& value, const Json& items) {
  if (!items.is_array() || items.empty()) return false;
  for (auto it = items.begin(); it != items.end(); ++it)
    if (!item_allowed(value, *it) || std::find(items.begin(), it, *it) != it) return false;
  return true;
}

std::string list_limits_text(const Value& value) {
  if (value.has_range)
    return "a list of numbers from " + number_text(value.low) + " to " + number_text(value.high) + ", each once";
  return value.choices.empty() ? "no other list" : "a list of " + choices_text(value) + ", each once";
}

void set_list(Value& value, const Json& items, Problems& problems) {
  if (!list_allowed(value, items)) {
    problems.push_back(
        {ProblemCode::protocol_out_of_range, value.id, canonical_text(items), list_limits_text(value), 0});
    return;
  }
  if (value.has_range)
    value.list = items.get<std::vector<double>>();
  else
    value.words = items.get<std::vector<std::string>>();
}

void set_value(Value& value, const Json& change, Problems& problems) {
  const Json amount = change.is_object() ? change.value("value", Json()) : change;
  if (!(change.is_object() && amount.is_null())) {
    if (value.is_list())
      set_list(value, amount, problems);
    else
      value.is_word ? set_word(value, amount, problems) : set_number(value, amount, problems);
  }
  if (change.is_object() && change.contains("compare")) set_comparator(value, change["compare"], problems);
}

}  // namespace

Result<Protocol> Protocol::with_ward_file(const Json& ward) const {
  if (!ward.is_object())
    return refuse(Problem{ProblemCode::protocol_malformed, "ward file", std::string(ward.type_name()), "tables", 0});
  Problems problems;
  Protocol out = *this;
  out.approval_ = read_approval(ward, problems);
  out.name_ = text_at(ward, "protocol", "name");
  out.version_ = text_at(ward, "protocol", "version");
  if (out.name_.empty()) problems.push_back({ProblemCode::protocol_malformed, "protocol.name", "missing", "a name", 0});
  if (out.version_.empty())
    problems.push_back({ProblemCode::protocol_malformed, "protocol.version", "missing", "a version", 0});
  const std::string based_on = text_at(ward, "protocol", "based_on");
  if (!based_on.empty() && based_on != version_)
    problems.push_back(
        {ProblemCode::protocol_malformed, "protocol.based_on", based_on, version_ + ", the version in use", 0});
  const Json changes = ward.value("values", Json::object());
  if (!changes.is_object())
    return refuse(Problem{ProblemCode::protocol_malformed, "values", canonical_text(changes), "a table", 0});
  for (auto it = changes.begin(); it != changes.end(); ++it) {
    const auto key = find(it.key());
    if (!key) {
      problems.push_back({ProblemCode::protocol_unknown_value, it.key(), "", "", 0});
      continue;
    }
    set_value(out.values_[static_cast<std::size_t>(*key)], it.value(), problems);
    out.changed_.push_back(*key);
  }
  for (auto it = ward.begin(); it != ward.end(); ++it)
    if (it.key() != "protocol" && it.key() != "approved" && it.key() != "values")
      problems.push_back({ProblemCode::protocol_malformed, it.key(), "unknown", "protocol, approved or values", 0});
  if (!problems.empty()) return refuse(std::move(problems));
  out.seal();
  return out;
}

}  // namespace stanch::protocol

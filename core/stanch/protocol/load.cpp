// core/stanch/protocol/load.cpp
//
// Reads protocol rows and checks them: a value without source or status, or a default outside its own range, is
// refused.
#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "stanch/base/number.hpp"
#include "stanch/base/sha256.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::protocol {
namespace {

std::string text_or(const Json& json, const char* field, const char* otherwise) {
  const auto it = json.find(field);
  return it != json.end() && it->is_string() ? it->get<std::string>() : std::string(otherwise);
}

/// Reads one row's fields, naming the row in every problem.
class Row {
 public:
  Row(const Json& json, std::string name, Problems& problems)
      : json_(json), name_(std::move(name)), problems_(problems) {}

  std::string text(const char* field) {
    std::string value = optional_text(field);
    if (value.empty()) problem(field, "missing", "text");
    return value;
  }
  std::string optional_text(const char* field) {
    const auto it = json_.find(field);
    return it != json_.end() && it->is_string() ? it->get<std::string>() : std::string();
  }
  std::optional<double> optional_number(const char* field) {
    const auto it = json_.find(field);
    return it != json_.end() && it->is_number() ? std::optional(it->get<double>()) : std::nullopt;
  }
  bool flag(const char* field) {
    const auto it = json_.find(field);
    return it != json_.end() && it->is_boolean() && it->get<bool>();
  }
  std::vector<std::string> texts(const char* field) {
    std::vector<std::string> out;
    if (const auto it = json_.find(field); it != json_.end() && it->is_array())
      for (const Json& item : *it)
        if (item.is_string()) out.push_back(item.get<std::string>());
    return out;
  }
  template <class E, std::size_t N>
  E choice(const char* field, const std::array<E, N>& all) {
    const std::string text_value = optional_text(field);
    for (const E e : all)
      if (word(e) == text_value) return e;
    problem(field, text_value.empty() ? "missing" : text_value, "one of its words");
    return all.front();
  }
  Status status() {
    using enum Status;
    return choice("status", std::array{read, read_secondary, memory, practice, derived});
  }
  void problem(const char* field, std::string value, std::string allowed) {
    problems_.push_back(
        {ProblemCode::protocol_malformed, name_ + "." + field, std::move(value), std::move(allowed), 0});
  }
  [[nodiscard]] const Json& json() const { return json_; }

 private:
  const Json& json_;
  std::string name_;
  Problems& problems_;
};

std::optional<Comparator> comparator_of(std::string_view text) {
  using enum Comparator;
  for (const Comparator c : {none, less, at_most, more, at_least})
    if (sign(c) == text) return c;
  return std::nullopt;
}

void read_range(Row& row, Value& value) {
  const auto it = row.json().find("range");
  if (it == row.json().end() || !it->is_array() || it->size() != 2 || !(*it)[0].is_number() || !(*it)[1].is_number()) {
    row.problem("range", "missing", "two numbers, lowest and highest");
    return;
  }
  value.low = (*it)[0].get<double>();
  value.high = (*it)[1].get<double>();
  value.has_range = true;
}

// A list with limits for its items may be changed by a ward; one without is fixed.
void read_list_limits(Row& row, Value& value) {
  value.choices = row.texts("choices");
  if (row.json().contains("range")) read_range(row, value);
  for (const double number : value.list)
    if (value.has_range && (number < value.low || number > value.high))
      row.problem("value", number_text(number), number_text(value.low) + " to " + number_text(value.high));
  for (const std::string& item : value.words)
    if (!value.choices.empty() && std::find(value.choices.begin(), value.choices.end(), item) == value.choices.end())
      row.problem("value", item, "one of its choices");
}

void read_amount(Row& row, Value& value) {
  const Json amount = row.json().contains("value") ? row.json()["value"] : Json();
  if (amount.is_number()) {
    value.number = amount.get<double>();
    read_range(row, value);
    if (value.number < value.low || value.number > value.high)
      row.problem("value", number_text(value.number), number_text(value.low) + " to " + number_text(value.high));
  } else if (amount.is_string()) {
    value.is_word = true;
    value.word = amount.get<std::string>();
    value.choices = row.texts("choices");
    if (std::find(value.choices.begin(), value.choices.end(), value.word) == value.choices.end())
      row.problem("value", value.word, "one of its choices");
  } else if (amount.is_array()) {
    for (const Json& item : amount) {
      if (item.is_number()) value.list.push_back(item.get<double>());
      if (item.is_string()) value.words.push_back(item.get<std::string>());
    }
    if (amount.empty() || (value.list.size() != amount.size() && value.words.size() != amount.size()))
      row.problem("value", canonical_text(amount), "a list of numbers or a list of words");
    read_list_limits(row, value);
  } else {
    row.problem("value", "missing", "a number, a word or a list of numbers");
  }
}

Value read_value(const Json& json, Problems& problems) {
  Row row(json, text_or(json, "id", "value"), problems);
  Value value;
  value.id = row.text("id");
  value.unit = row.text("unit");
  value.statement = row.text("statement");
  value.source = row.text("source");
  value.status = row.status();
  value.rules = row.texts("rules");
  value.variants = row.texts("variants");
  read_amount(row, value);
  const auto comparator = comparator_of(row.optional_text("compare"));
  if (!comparator) row.problem("compare", row.optional_text("compare"), "<, <=, > or >=");
  value.comparator = comparator.value_or(Comparator::none);
  for (const std::string& allowed : row.texts("compare_allowed"))
    if (const auto c = comparator_of(allowed)) value.comparators_allowed.push_back(*c);
  return value;
}

Rule read_rule(const Json& json, Problems& problems) {
  Row row(json, text_or(json, "id", "rule"), problems);
  return {row.text("id"),    row.text("title"),  row.text("statement"),
          row.text("group"), row.text("source"), row.status()};
}

Source read_source(const Json& json, Problems& problems) {
  Row row(json, text_or(json, "code", "source"), problems);
  return {row.text("code"), row.text("title"), row.status()};
}

Regimen read_regimen(const Json& json, Problems& problems) {
  Row row(json, "regimen " + text_or(json, "id", ""), problems);
  Regimen out;
  out.id = row.text("id");
  out.use = row.text("use");
  out.style = row.optional_text("style");
  out.dose = row.optional_number("dose").value_or(0);
  out.dose_high = row.optional_number("dose_high");
  out.unit = row.optional_text("unit");
  out.route = row.optional_text("route");
  out.form = row.optional_text("form");
  out.over_min = row.optional_number("over_min");
  out.in_ml = row.optional_number("in_ml");
  out.in_ml_high = row.optional_number("in_ml_high");
  out.drops_per_min = row.optional_number("drops_per_min");
  out.is_default = row.flag("default");
  out.follows = row.optional_text("follows");
  out.when = row.optional_text("when");
  out.source = row.text("source");
  out.status = row.status();
  return out;
}

Exclusion read_exclusion(const Json& json, Problems& problems) {
  Row row(json, "exclusion " + text_or(json, "when", ""), problems);
  using enum Stop;
  return {row.text("when"), row.text("why"),
          row.choice("level", std::array{note, warn, override_with_reason, senior, absolute}), row.text("source"),
          row.status()};
}

template <class Read>
auto read_list(const Json& json, const char* name, Problems& problems, Read read) {
  std::vector<decltype(read(json, problems))> out;
  if (const auto it = json.find(name); it != json.end() && it->is_array())
    for (const Json& item : *it)
      if (item.is_object()) out.push_back(read(item, problems));
  return out;
}

Drug read_drug(const Json& json, Problems& problems) {
  Row row(json, text_or(json, "id", "drug"), problems);
  Drug out;
  out.id = row.text("id");
  out.name = row.text("name");
  out.family = row.optional_text("family");
  out.purpose = row.text("purpose");
  out.unit = row.optional_text("unit");
  out.routes = row.texts("routes");
  out.only_iv = row.flag("only_iv");
  out.second_check = row.flag("second_check");
  out.storage = row.optional_text("storage");
  out.onset = row.optional_text("onset");
  out.statement = row.optional_text("statement");
  out.contains = read_list(json, "contains", problems, [](const Json& item, Problems& all) {
    Row part(item, "contains " + text_or(item, "drug", ""), all);
    return Part{part.text("drug"), part.optional_number("per_unit").value_or(0), part.text("unit")};
  });
  out.regimens = read_list(json, "regimen", problems, read_regimen);
  out.exclusions = read_list(json, "exclusion", problems, read_exclusion);
  out.never_routes = read_list(json, "never_routes", problems, [](const Json& item, Problems& all) {
    Row never(item, "never_routes " + text_or(item, "route", ""), all);
    return NeverRoute{never.text("route"), never.text("why"), never.text("source"), never.status()};
  });
  return out;
}

}  // namespace

Result<Protocol> Protocol::from_json(const Json& json) {
  Problems problems;
  Protocol out;
  if (!json.is_object())
    return refuse(Problem{ProblemCode::protocol_malformed, "protocol", std::string(json.type_name()), "tables", 0});
  const Json head = json.contains("protocol") ? json["protocol"] : Json::object();
  Row row(head, "protocol", problems);
  out.name_ = row.text("name");
  out.version_ = row.text("version");
  out.values_ = read_list(json, "value", problems, read_value);
  out.rules_ = read_list(json, "rule", problems, read_rule);
  out.sources_ = read_list(json, "source", problems, read_source);
  out.drugs_ = read_list(json, "drug", problems, read_drug);
  if (out.values_.size() != key_ids.size())
    problems.push_back({ProblemCode::protocol_malformed, "value", std::to_string(out.values_.size()) + " rows",
                        std::to_string(key_ids.size()) + " rows, as compiled in", 0});
  if (!problems.empty()) return refuse(std::move(problems));
  for (Drug& drug : out.drugs_) {
    drug.interval_min = out.find("drug." + drug.id + ".interval_min");
    drug.interval_later_min = out.find("drug." + drug.id + ".interval_later_min");
    drug.ceiling_doses = out.find("drug." + drug.id + ".ceiling_doses");
    drug.ceiling_total = out.find("drug." + drug.id + ".ceiling_total");
    drug.ceiling_counts = out.find("drug." + drug.id + ".ceiling_counts");
    drug.ceiling_window = out.find("drug." + drug.id + ".ceiling_window");
    drug.bolus_max = out.find("drug." + drug.id + ".bolus_max");
  }
  out.tables_ = std::make_shared<const Json>(json);
  out.seal();
  return out;
}

// The hash covers what a ward can change and what judges by it: the embedded rows, and the values in force.
void Protocol::seal() {
  Json in_force = Json::object();
  for (const Value& v : values_) {
    Json amount = v.is_word          ? Json(v.word)
                  : !v.words.empty() ? Json(v.words)
                  : !v.list.empty()  ? Json(v.list)
                                     : Json(v.number);
    in_force[v.id] = Json::array({std::move(amount), sign(v.comparator)});
  }
  hash_ = sha256_hex(canonical_text(Json{{"rows", sha256_hex(canonical_text(*tables_))},
                                         {"name", name_},
                                         {"version", version_},
                                         {"values", std::move(in_force)}}));
}

const Protocol& Protocol::shipped() {
  static const Protocol protocol = [] {
    const auto json = parse_json(default_protocol_json());
    STANCH_ASSERT(json.has_value(), "the embedded protocol is JSON");
    auto loaded = from_json(*json);
    STANCH_ASSERT(loaded.has_value(), "the embedded protocol is whole");
    return std::move(*loaded);
  }();
  return protocol;
}

}  // namespace stanch::protocol

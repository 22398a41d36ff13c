#include "stanch/record/entry.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <tuple>
#include <utility>

#include "stanch/base/number.hpp"
#include "stanch/record/fields.hpp"
#include "stanch/record/payload_reader.hpp"

namespace stanch::record {
namespace {

constexpr std::size_t max_note_characters = 2000;
constexpr std::size_t max_name_characters = 200;
constexpr std::string_view id_allowed = "a version 7 UUID";
constexpr std::string_view moment_allowed = "a time like 2031-05-06T07:08:09Z";

/// Reads the fields that every entry has, noting problems as it goes.
class CommonReader {
 public:
  CommonReader(const Json& object, Problems& problems) : object_(object), problems_(problems) {}

  Id id(const char* name) {
    const std::string text = text_of(name, id_allowed, 36);
    const auto value = parse_id(text);
    if (!value && !text.empty())
      problems_.push_back({ProblemCode::id_malformed, name, text, std::string(id_allowed), 0});
    return value.value_or(Id{});
  }

  Moment moment(const char* name) {
    const std::string text = text_of(name, moment_allowed, 40);
    const auto value = parse_moment(text);
    if (!value && !text.empty())
      problems_.push_back({ProblemCode::time_malformed, name, text, std::string(moment_allowed), 0});
    return value.value_or(Moment{});
  }

  /// The text of a required field; empty after noting a problem.
  std::string text_of(const char* name, std::string_view allowed, std::size_t max_characters) {
    const auto it = object_.find(name);
    if (it == object_.end()) {
      problems_.push_back({ProblemCode::field_missing, name, "", std::string(allowed), 0});
      return {};
    }
    if (!it->is_string() || it->get_ref<const std::string&>().empty()) {
      problems_.push_back({ProblemCode::field_unexpected_type, name, canonical_text(*it), std::string(allowed), 0});
      return {};
    }
    const std::string& text = it->get_ref<const std::string&>();
    if (characters(text) > max_characters) {
      problems_.push_back({ProblemCode::value_out_of_range, name, std::to_string(characters(text)) + " characters",
                           "at most " + std::to_string(max_characters) + " characters", 0});
      return {};
    }
    return text;
  }

  std::string optional_text(const char* name, std::size_t max_characters) {
    const auto it = object_.find(name);
    if (it == object_.end() || (it->is_string() && it->get_ref<const std::string&>().empty())) return {};
    return text_of(name, "text", max_characters);
  }

  std::optional<Id> optional_id(const char* name) {
    if (!object_.contains(name)) return std::nullopt;
    return id(name);
  }

  Duration skew() {
    const auto it = object_.find("skew_ms");
    if (it == object_.end()) return {};
    constexpr double one_year_ms = 366.0 * 86'400'000.0;
    if (!it->is_number() || !is_whole(it->get<double>()) || std::abs(it->get<double>()) > one_year_ms) {
      problems_.push_back({ProblemCode::field_unexpected_type, "skew_ms", canonical_text(*it),
                           "a whole number of milliseconds, at most a year", 0});
      return {};
    }
    return Duration::milliseconds(static_cast<std::int64_t>(it->get<double>()));
  }

 private:
  const Json& object_;
  Problems& problems_;
};

}  // namespace

bool folds_before(const Entry& a, const Entry& b) {
  const auto key = [](const Entry& e) { return std::make_tuple(e.happened(), e.recorded(), e.id); };
  return key(a) < key(b);
}

Result<Entry> parse_entry(std::string_view json_text) {
  auto object = parse_json(json_text);
  if (!object) return tl::unexpected<Problems>(object.error());
  return parse_entry(std::move(*object));
}

Result<Entry> parse_entry(Json object) {
  if (!object.is_object())
    return refuse(Problem{ProblemCode::not_an_object, "", std::string(object.type_name()), "", 0});
  Problems problems;
  CommonReader read(object, problems);
  Entry entry;
  entry.id = read.id("id");
  entry.case_id = read.id("case");
  entry.at = read.moment("at");
  entry.written = read.moment("written");
  entry.by = read.text_of("by", "a staff name or unclaimed", max_name_characters);
  entry.second = read.optional_text("second", max_name_characters);
  entry.from = read.text_of("from", "a device id", max_name_characters);
  entry.kind_word = read.text_of("kind", "a kind of entry", max_name_characters);
  entry.strikes = read.optional_id("strikes");
  entry.note = read.optional_text("note", max_note_characters);
  entry.skew = read.skew();
  entry.kind = from_word<Kind>(entry.kind_word).value_or(Kind::not_understood);
  entry.payload = read_payload(entry.kind, object, problems);
  if (entry.strikes && entry.strikes == entry.id)
    problems.push_back(
        {ProblemCode::fields_conflict, "strikes", to_text(entry.id), "an entry cannot strike itself", 0});
  if (entry.kind == Kind::strike && !object.contains("strikes"))
    problems.push_back({ProblemCode::field_missing, "strikes", "", std::string(id_allowed), 0});
  if (!problems.empty()) return refuse(std::move(problems));
  entry.whole = std::make_shared<const Json>(std::move(object));
  return entry;
}

std::string write_entry(const Entry& entry) { return canonical_text(*entry.whole); }

std::string canonical_bytes(const Entry& entry) {
  if (!entry.whole->contains("skew_ms")) return canonical_text(*entry.whole);
  Json content = *entry.whole;
  content.erase("skew_ms");
  return canonical_text(content);
}

}  // namespace stanch::record

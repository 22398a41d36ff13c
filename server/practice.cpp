#include "server/practice.hpp"

#include <algorithm>
#include <charconv>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

#include "stanch/base/id.hpp"
#include "stanch/base/json.hpp"
#include "stanch/base/sha256.hpp"

namespace stanch::embedded {
std::string_view demo_practice();
std::string_view demo_atony_answers();
}  // namespace stanch::embedded

namespace stanch::server {
namespace {

struct Scene {
  std::string_view name;
  std::string_view ndjson;
  std::string_view until;  ///< the source's entries after this moment are left out
  Duration ago;            ///< how long before the start the last entry is
  std::string_view label;
  std::string_view garment;
};

std::vector<Scene> scenes() {
  return {
      {"closed", embedded::demo_atony_answers(), "2031-05-06T23:59:59Z", Duration::hours(4), "Bed 2, K.T.", ""},
      {"stable", embedded::demo_practice(), "2031-05-06T11:02:00Z", Duration::minutes(1), "Bed 1, N.O.", "SV-03"},
      {"live", embedded::demo_practice(), "2031-05-06T08:36:00Z", Duration{}, "Bed 4, A.S.", "SV-07"},
  };
}

std::uint64_t number_of(const std::string& hex_digits) {
  std::uint64_t value = 0;
  std::from_chars(hex_digits.data(), hex_digits.data() + hex_digits.size(), value, 16);
  return value;
}

/// Ids must differ from start to start, or two practice wards would share entries, and be the same for the same start.
std::string new_id(const Scene& scene, Moment start, const std::string& old_id, Moment at) {
  const std::string hash = sha256_hex("practice\n" + std::string(scene.name) + "\n" + to_text(start) + "\n" + old_id);
  return to_text(make_id(at, number_of(hash.substr(0, 16)), number_of(hash.substr(16, 16))));
}

std::vector<Json> entries_of(const Scene& scene) {
  const Moment until = parse_moment(scene.until).value_or(Moment{});
  std::vector<Json> out;
  std::string_view rest = scene.ndjson;
  while (!rest.empty()) {
    const auto end = rest.find('\n');
    auto object = parse_json(rest.substr(0, end));
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
    if (!object) continue;  // an empty last line
    const auto at = parse_moment(object->value("at", std::string()));
    if (at && *at <= until) out.push_back(std::move(*object));
  }
  return out;
}

void place(std::string& out, const Scene& scene, Moment start) {
  std::vector<Json> entries = entries_of(scene);
  Moment last;
  for (const Json& entry : entries) last = std::max(last, parse_moment(entry["at"].get<std::string>()).value_or(last));
  const Duration shift = start - scene.ago - last;

  std::map<std::string, std::string> ids;
  for (const Json& entry : entries) {
    const Moment at = parse_moment(entry["at"].get<std::string>()).value_or(last) + shift;
    const auto old_id = entry["id"].get<std::string>();
    ids[old_id] = new_id(scene, start, old_id, at);
    ids.try_emplace(entry["case"].get<std::string>(), new_id(scene, start, "case", at));
  }
  for (Json& entry : entries) {
    for (Json& value : entry) {
      if (!value.is_string()) continue;
      const auto text = value.get<std::string>();
      if (const auto moment = parse_moment(text)) value = to_text(*moment + shift);
      if (const auto id = ids.find(text); id != ids.end()) value = id->second;
    }
    if (entry.contains("label")) entry["label"] = scene.label;
    if (entry.contains("garment_id")) entry["garment_id"] = scene.garment;
    entry["from"] = "practice";
    out += canonical_text(entry) + "\n";
  }
}

}  // namespace

std::string practice_entries(Moment start) {
  std::string out;
  for (const Scene& scene : scenes()) place(out, scene, start);
  return out;
}

}  // namespace stanch::server

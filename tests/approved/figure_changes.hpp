// tests/approved/figure_changes.hpp
//
// A JSON replay (`stanch replay --json`) as lines for people: at each moment when something was entered, the known
// figures that changed since the entry before, a line a subject. Items of a list are named by their id or act. The
// reasons are left to the replay in words.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "stanch/base/json.hpp"
#include "stanch/base/moment.hpp"

namespace stanch::approved {

using Figures = std::map<std::string, std::string>;

inline std::string item_name(const Json& item, std::size_t i) {
  std::string name;
  for (const char* key : {"id", "act", "about", "segment"}) {
    if (item.is_object() && item.contains(key) && item[key].is_string())
      name += (name.empty() ? "" : ":") + item[key].get<std::string>();
  }
  return name.empty() ? std::to_string(i + 1) : name;
}

/// "06:40:00" of a time, as the practice cases last less than a day; any other value as it is.
inline std::string short_text(const Json& value) {
  const std::string text = value.is_string() ? value.get<std::string>() : canonical_text(value);
  return parse_moment(text) ? text.substr(11, text.size() - 12) : text;
}

inline void collect(const Json& value, const std::string& path, Figures& out) {
  if (value.is_object()) {
    for (const auto& [key, part] : value.items()) {
      // Minutes that pass by themselves follow from the times beside them.
      const bool a_clock = key.starts_with("minutes_since") || key == "past_due_min" || key == "as_of";
      if (key != "reasons" && key != "id" && !a_clock) collect(part, path.empty() ? key : path + "." + key, out);
    }
  } else if (value.is_array()) {
    for (std::size_t i = 0; i < value.size(); ++i)
      collect(value[i], (path.empty() ? "" : path + ".") + item_name(value[i], i), out);
  } else {
    out[path] = short_text(value);
  }
}

/// What of one subject changed: " pulse.value 92, sbp.value 116".
inline std::string changes_of(const Figures& before, const Figures& now) {
  std::string out;
  const auto add = [&](const std::string& path, const std::string& value) {
    out += (out.empty() ? " " : ", ") + path + (path.empty() ? "" : " ") + value;
  };
  for (const auto& [path, value] : now)
    if (const auto was = before.find(path); was == before.end() || was->second != value) add(path, value);
  for (const auto& [path, value] : before)
    if (!now.contains(path)) add(path, "gone");
  return out;
}

inline std::string figure_changes(const std::string& json_replay) {
  std::istringstream lines(json_replay);
  std::string out;
  std::map<std::string, Figures> before;
  for (std::string line; std::getline(lines, line);) {
    const Json moment = Json::parse(line);
    if (moment["entries"].empty()) continue;
    const Json& advice = moment["advice"];
    std::map<std::string, Figures> now;
    for (const auto& [subject, figures] : advice["known"].items()) collect(figures, "", now[subject]);
    for (const char* part : {"due", "guards", "watch", "notices", "unknown"}) collect(advice[part], "", now[part]);
    if (advice.contains("next_change")) now["next_change"][""] = short_text(advice["next_change"]);
    for (const auto& [subject, figures] : before) now[subject];
    out += short_text(advice["now"]) + "\n";
    for (const auto& [subject, figures] : now)
      if (const std::string changes = changes_of(before[subject], figures); !changes.empty())
        out += "  " + subject + ":" + changes + "\n";
    before = std::move(now);
  }
  return out;
}

}  // namespace stanch::approved

#include "cli/ward_toml.hpp"

#include <toml++/toml.h>

#include <sstream>

namespace stanch::cli {
namespace {

void note_lines(const toml::table& table, const std::string& prefix, WardToml& out) {
  for (auto&& [key, node] : table) {
    const std::string name = prefix + std::string(key.str());
    const auto line = static_cast<std::size_t>(key.source().begin.line);
    out.lines.emplace(name, line);
    out.lines.emplace(std::string(key.str()), line);
    // A value id has dots of its own, which TOML reads as tables unless quoted: both ways of writing are understood.
    if (const auto* inner = node.as_table()) note_lines(*inner, name == "values" ? "" : name + ".", out);
  }
}

// { unwrap = { pulse_ceiling = 95 } } -> { "unwrap.pulse_ceiling": 95 }; a table that says value or compare is a
// change.
void flatten(const nlohmann::json& table, const std::string& prefix, nlohmann::json& out) {
  for (const auto& [key, value] : table.items()) {
    const bool is_change = value.is_object() && (value.contains("value") || value.contains("compare"));
    if (value.is_object() && !is_change && !value.empty())
      flatten(value, prefix + key + ".", out);
    else
      out[prefix + key] = value;
  }
}

}  // namespace

Result<WardToml> read_ward_toml(std::string_view text) {
  try {
    const toml::table table = toml::parse(text);
    std::ostringstream json;
    json << toml::json_formatter(table, toml::format_flags::none);
    auto parsed = parse_json(json.str());
    if (!parsed) return tl::unexpected<Problems>(parsed.error());
    WardToml out{std::move(*parsed), {}};
    note_lines(table, "", out);
    if (out.json.contains("values") && out.json["values"].is_object()) {
      nlohmann::json values = nlohmann::json::object();
      flatten(out.json["values"], "", values);
      out.json["values"] = std::move(values);
    }
    return out;
  } catch (const toml::parse_error& error) {
    return refuse(Problem{ProblemCode::protocol_malformed, "text", std::string(error.description()), "TOML",
                          static_cast<std::size_t>(error.source().begin.line)});
  }
}

Result<protocol::Protocol> with_lines(Result<protocol::Protocol> result, const WardToml& ward) {
  if (result) return result;
  for (Problem& problem : result.error())
    if (const auto line = ward.lines.find(problem.field); line != ward.lines.end()) problem.line = line->second;
  return result;
}

}  // namespace stanch::cli

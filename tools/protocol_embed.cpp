// tools/protocol_embed.cpp
//
// Build tool: reads protocol/default/*.toml and writes what the core is compiled with: keys.hpp (one enumerator a
// value, in the order read) and default_protocol.cpp (the whole protocol as one JSON text). Exits 1 with file, line and
// reason when a file is not TOML or an id is given twice. What the rows must hold is checked by the core's loader.
#include <toml++/toml.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

std::string as_json(const toml::node& node) {
  std::ostringstream out;
  if (const auto* table = node.as_table()) {
    out << toml::json_formatter(*table, toml::format_flags::none);
  } else if (const auto* array = node.as_array()) {
    out << toml::json_formatter(*array, toml::format_flags::none);
  }
  return out.str();
}

std::string key_name(std::string id) {
  std::replace(id.begin(), id.end(), '.', '_');
  return id;
}

int fail(const std::string& what) {
  std::cerr << "protocol: " << what << '\n';
  return 1;
}

void write_if_changed(const std::filesystem::path& path, const std::string& text) {
  std::ifstream old(path, std::ios::binary);
  std::ostringstream was;
  was << old.rdbuf();
  if (old && was.str() == text) return;
  std::ofstream(path, std::ios::binary) << text;
}

std::string keys_header(const std::vector<std::string>& ids) {
  std::string out =
      "// Generated from protocol/default/*.toml by tools/protocol_embed.cpp; do not edit.\n#pragma once\n\n"
      "#include <array>\n#include <cstdint>\n#include <string_view>\n\nnamespace stanch::protocol {\n\n"
      "/// Every value of the protocol.\nenum class Key : std::uint16_t {\n";
  for (const auto& id : ids) out += "  " + key_name(id) + ",\n";
  out += "};\n\n/// The value keys by themselves: key::unwrap_pulse_ceiling.\nnamespace key {\nusing enum Key;\n}\n\n";
  out += "inline constexpr std::array<std::string_view, " + std::to_string(ids.size()) + "> key_ids{\n";
  for (const auto& id : ids) out += "    \"" + id + "\",\n";
  out += "};\n\n}  // namespace stanch::protocol\n";
  return out;
}

// The text is cut into pieces because compilers limit the length of one string literal.
std::string json_source(const std::string& json) {
  std::string out =
      "// Generated from protocol/default/*.toml by tools/protocol_embed.cpp; do not edit.\n"
      "#include \"stanch/protocol/protocol.hpp\"\n\nnamespace stanch::protocol {\n\n"
      "std::string_view default_protocol_json() {\n  static constexpr char text[] = {";
  for (std::size_t i = 0; i < json.size(); ++i) {
    out += (i % 32 == 0 ? "\n      " : " ") + std::to_string(static_cast<int>(static_cast<signed char>(json[i]))) + ",";
  }
  out += "};\n  return {text, sizeof(text)};\n}\n\n}  // namespace stanch::protocol\n";
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return fail("usage: protocol_embed OUT_FOLDER FILE.toml ...");
  const std::filesystem::path out_folder = argv[1];
  std::vector<std::string> files(argv + 2, argv + argc);
  std::sort(files.begin(), files.end());

  toml::table whole;
  std::vector<std::string> ids;
  std::set<std::string> seen;
  for (const auto& file : files) {
    toml::table table;
    try {
      table = toml::parse_file(file);
    } catch (const toml::parse_error& error) {
      std::ostringstream where;
      where << file << ':' << error.source().begin.line << ": " << error.description();
      return fail(where.str());
    }
    for (auto&& [name, node] : table) {
      if (const auto* rows = node.as_array()) {
        if (!whole.contains(name)) whole.insert(name, toml::array{});
        auto* all = whole[name].as_array();
        for (const auto& row : *rows) {
          if (name == "value") {
            const auto id = row.as_table() ? (*row.as_table())["id"].value<std::string>() : std::nullopt;
            if (!id) return fail(file + ": a [[value]] has no id");
            if (!seen.insert(key_name(*id)).second) return fail(file + ": value " + *id + " is given twice");
            ids.push_back(*id);
          }
          all->push_back(row);
        }
      } else if (whole.contains(name)) {
        return fail(file + ": table " + std::string(name.str()) + " is given twice");
      } else {
        whole.insert(name, node);
      }
    }
  }
  std::filesystem::create_directories(out_folder);
  write_if_changed(out_folder / "keys.hpp", keys_header(ids));
  write_if_changed(out_folder / "default_protocol.cpp", json_source(as_json(whole)));
  return 0;
}

// cli/ward_toml.hpp
//
// A ward's protocol file as written by people: TOML, turned into the JSON that the core checks, remembering on which
// line each value stands.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::cli {

struct WardToml {
  nlohmann::json json;
  std::map<std::string, std::size_t> lines;  ///< by the name a problem uses for the field
};

/// @return problems: protocol.malformed with the line where the TOML breaks.
[[nodiscard]] Result<WardToml> read_ward_toml(std::string_view text);

/// The same result, its problems with the lines of the file.
[[nodiscard]] Result<protocol::Protocol> with_lines(Result<protocol::Protocol> result, const WardToml& ward);

}  // namespace stanch::cli

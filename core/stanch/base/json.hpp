// core/stanch/base/json.hpp
//
// JSON in and out. Reading refuses duplicate keys (two readers could disagree on which counts); writing is always the
// canonical form of RFC 8785, so that equal values are equal bytes on every host.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

#include "stanch/base/result.hpp"

namespace stanch {

using Json = nlohmann::json;

/// Parses one JSON text.
/// @return problems: text.json_syntax with the byte offset, text.duplicate_key naming the key, text.not_utf8.
[[nodiscard]] Result<Json> parse_json(std::string_view text);

/// Canonical bytes: no white space, keys sorted by UTF-16 code units, ECMAScript numbers. Source: RFC 8785.
[[nodiscard]] std::string canonical_text(const Json& value);

}  // namespace stanch

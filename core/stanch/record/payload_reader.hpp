// core/stanch/record/payload_reader.hpp
//
// Reads the payload of an entry by the field table, then checks what fields say together.
#pragma once

#include <cstddef>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/record/payload.hpp"

namespace stanch::record {

/// Number of Unicode characters in valid UTF-8.
[[nodiscard]] std::size_t characters(std::string_view utf8);

/// The payload of an entry object. Every problem found is appended to `problems`; the payload is meaningful only when
/// none was.
[[nodiscard]] Payload read_payload(Kind kind, const Json& object, Problems& problems);

}  // namespace stanch::record

// core/stanch/slip/base45.hpp
//
// Base45 (RFC 9285): bytes as the 45 characters that a QR symbol's alphanumeric mode holds in 5.5 bits each.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stanch::slip {

[[nodiscard]] std::string to_base45(std::string_view bytes);

/// Nothing for a character outside the 45 (lower-case letters are outside), a triple above 65535, a pair above 255 or a
/// length that no bytes give.
[[nodiscard]] std::optional<std::string> from_base45(std::string_view text);

}  // namespace stanch::slip

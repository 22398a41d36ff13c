// core/stanch/slip/hash_text.hpp
//
// The two hashes in a slip: 128 bits of SHA-256, 32 hexadecimal digits for people and programs, base64url in the slip.
// They are compared, not trusted: what can't be forged is the signature.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace stanch::slip {

inline constexpr std::size_t hash_digits = 32;

/// The bytes that lower-case hexadecimal digits say; nothing for other characters or an odd number.
[[nodiscard]] std::optional<std::string> bytes_of_hex(std::string_view digits);
[[nodiscard]] std::string hex_of(std::string_view bytes);

/// base64url of a hash of 32 digits; empty for an empty hash.
[[nodiscard]] std::string short_hash(std::string_view digits);
/// The digits again; nothing when it isn't 16 bytes.
[[nodiscard]] std::optional<std::string> long_hash(std::string_view base64url);

}  // namespace stanch::slip

#include "stanch/slip/hash_text.hpp"

#include <algorithm>

#include "stanch/slip/base64url.hpp"

namespace stanch::slip {
namespace {

constexpr std::string_view hex = "0123456789abcdef";

}  // namespace

std::optional<std::string> bytes_of_hex(std::string_view digits) {
  if (digits.size() % 2 != 0) return std::nullopt;
  std::string out;
  for (std::size_t i = 0; i < digits.size(); i += 2) {
    const auto high = hex.find(digits[i]);
    const auto low = hex.find(digits[i + 1]);
    if (high == std::string_view::npos || low == std::string_view::npos) return std::nullopt;
    out += static_cast<char>(high * 16 + low);
  }
  return out;
}

std::string hex_of(std::string_view bytes) {
  std::string out;
  for (const char c : bytes) {
    out += hex[static_cast<unsigned char>(c) >> 4U];
    out += hex[static_cast<unsigned char>(c) & 15U];
  }
  return out;
}

std::string short_hash(std::string_view digits) { return to_base64url(bytes_of_hex(digits).value_or("")); }

std::optional<std::string> long_hash(std::string_view base64url) {
  if (base64url.empty()) return std::string();
  const auto bytes = from_base64url(base64url);
  if (!bytes || bytes->size() * 2 != hash_digits) return std::nullopt;
  return hex_of(*bytes);
}

}  // namespace stanch::slip

#include "stanch/slip/base64url.hpp"

#include <cstddef>
#include <cstdint>

namespace stanch::slip {
std::string to_base64url(std::string_view bytes) {
  std::string out;
  std::uint32_t held = 0;
  unsigned bits = 0;
  for (const char c : bytes) {
    held = held << 8U | static_cast<unsigned char>(c);
    for (bits += 8; bits >= 6;) {
      bits -= 6;
      out += base64url_digits[held >> bits & 63U];
    }
  }
  if (bits > 0) out += base64url_digits[held << (6 - bits) & 63U];
  return out;
}

std::optional<std::string> from_base64url(std::string_view text) {
  if (text.size() % 4 == 1) return std::nullopt;
  std::string out;
  std::uint32_t held = 0;
  unsigned bits = 0;
  for (const char c : text) {
    const std::size_t digit = base64url_digits.find(c);
    if (digit == std::string_view::npos) return std::nullopt;
    held = held << 6U | static_cast<std::uint32_t>(digit);
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    out += static_cast<char>(held >> bits & 0xFFU);
  }
  if ((held & ((1U << bits) - 1U)) != 0) return std::nullopt;
  return out;
}

}  // namespace stanch::slip

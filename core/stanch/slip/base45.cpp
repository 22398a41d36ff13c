#include "stanch/slip/base45.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace stanch::slip {
namespace {

constexpr std::string_view alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

}  // namespace

// Least significant character first, RFC 9285 section 4.
std::string to_base45(std::string_view bytes) {
  std::string out;
  for (std::size_t i = 0; i < bytes.size(); i += 2) {
    const bool is_pair = i + 1 < bytes.size();
    std::uint32_t value = static_cast<unsigned char>(bytes[i]);
    if (is_pair) value = value << 8U | static_cast<unsigned char>(bytes[i + 1]);
    for (int k = is_pair ? 3 : 2; k > 0; --k, value /= 45) out += alphabet[value % 45];
  }
  return out;
}

std::optional<std::string> from_base45(std::string_view text) {
  if (text.size() % 3 == 1) return std::nullopt;
  constexpr std::array<std::uint32_t, 3> weight{1, 45, 45 * 45};
  std::string out;
  for (; !text.empty(); text.remove_prefix(text.size() < 3 ? text.size() : 3)) {
    const std::size_t n = text.size() < 3 ? 2 : 3;
    std::uint32_t value = 0;
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t digit = alphabet.find(text[k]);
      if (digit == std::string_view::npos) return std::nullopt;
      value += static_cast<std::uint32_t>(digit) * weight[k];
    }
    if (value > (n == 3 ? 0xFFFFU : 0xFFU)) return std::nullopt;
    if (n == 3) out += static_cast<char>(value >> 8U);
    out += static_cast<char>(value & 0xFFU);
  }
  return out;
}

}  // namespace stanch::slip

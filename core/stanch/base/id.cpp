#include "stanch/base/id.hpp"

#include <cstddef>

namespace stanch {
namespace {

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

bool dash_before(std::size_t byte) { return byte == 4 || byte == 6 || byte == 8 || byte == 10; }

}  // namespace

std::optional<Id> parse_id(std::string_view text) {
  if (text.size() != 36) return std::nullopt;
  std::array<std::uint8_t, 16> bytes{};
  std::size_t at = 0;
  for (std::size_t i = 0; i < 16; ++i) {
    if (dash_before(i) && text[at++] != '-') return std::nullopt;
    const int high = hex_value(text[at++]);
    const int low = hex_value(text[at++]);
    if (high < 0 || low < 0) return std::nullopt;
    bytes[i] = static_cast<std::uint8_t>(high * 16 + low);
  }
  if (bytes[6] >> 4 != 7 || bytes[8] >> 6 != 2) return std::nullopt;
  return Id(bytes);
}

std::string to_text(const Id& id) {
  constexpr std::string_view hex = "0123456789abcdef";
  const auto bytes = id.bytes();
  std::string out;
  out.reserve(36);
  for (std::size_t i = 0; i < 16; ++i) {
    if (dash_before(i)) out += '-';
    out += hex[bytes[i] >> 4];
    out += hex[bytes[i] & 15];
  }
  return out;
}

Id make_id(Moment at, std::uint64_t random_a, std::uint64_t random_b) {
  std::array<std::uint8_t, 16> b{};
  const auto ms = static_cast<std::uint64_t>(at.ms());
  for (std::size_t i = 0; i < 6; ++i) b[i] = static_cast<std::uint8_t>(ms >> (40 - 8 * i));
  b[6] = static_cast<std::uint8_t>(0x70 | (random_a >> 8 & 0x0F));
  b[7] = static_cast<std::uint8_t>(random_a);
  for (std::size_t i = 0; i < 8; ++i) b[8 + i] = static_cast<std::uint8_t>(random_b >> (56 - 8 * i));
  b[8] = static_cast<std::uint8_t>(0x80 | (b[8] & 0x3F));
  return Id(b);
}

}  // namespace stanch

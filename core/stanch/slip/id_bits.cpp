#include "stanch/slip/id_bits.hpp"

#include <array>
#include <cstddef>

namespace stanch::slip {
namespace {

constexpr std::size_t chance_bits = 74;
constexpr std::size_t time_bytes = 6;

/// The bits of an id that are chance: all after the time but the version (48 to 51) and the variant (64 and 65).
constexpr std::array<std::size_t, chance_bits> places = [] {
  std::array<std::size_t, chance_bits> all{};
  std::size_t n = 0;
  for (std::size_t bit = 52; bit < 128; ++bit)
    if (bit != 64 && bit != 65) all[n++] = bit;
  return all;
}();

template <class Bytes>
bool bit_at(const Bytes& bytes, std::size_t bit) {
  return (static_cast<unsigned char>(bytes[bit / 8]) >> (7 - bit % 8) & 1U) != 0;
}

template <class Bytes>
void set_bit(Bytes& bytes, std::size_t bit) {
  using Byte = Bytes::value_type;
  bytes[bit / 8] = static_cast<Byte>(static_cast<unsigned char>(bytes[bit / 8]) | 0x80U >> bit % 8);
}

}  // namespace

std::int64_t ms_of(const Id& id) {
  std::int64_t ms = 0;
  const auto bytes = id.bytes();
  for (std::size_t i = 0; i < time_bytes; ++i) ms = ms * 256 + bytes[i];
  return ms;
}

std::string chance_of(const std::vector<Id>& ids) {
  std::string out((ids.size() * chance_bits + 7) / 8, '\0');
  std::size_t at = 0;
  for (const Id& id : ids) {
    const auto bytes = id.bytes();
    for (const std::size_t place : places) {
      if (bit_at(bytes, place)) set_bit(out, at);
      ++at;
    }
  }
  return out;
}

std::optional<std::vector<Id>> ids_from(const std::vector<std::int64_t>& ms, std::string_view chance) {
  if (chance.size() != (ms.size() * chance_bits + 7) / 8) return std::nullopt;
  std::vector<Id> out;
  std::size_t at = 0;
  for (const std::int64_t time : ms) {
    if (time < 0 || time >> (8 * time_bytes) != 0) return std::nullopt;
    std::array<std::uint8_t, 16> bytes{};
    for (std::size_t i = 0; i < time_bytes; ++i)
      bytes[i] = static_cast<std::uint8_t>(time >> (8 * (time_bytes - 1 - i)) & 0xFF);
    bytes[6] = 0x70;
    bytes[8] = 0x80;
    for (const std::size_t place : places)
      if (bit_at(chance, at++)) set_bit(bytes, place);
    out.emplace_back(bytes);
  }
  for (; at < chance.size() * 8; ++at)
    if (bit_at(chance, at)) return std::nullopt;
  return out;
}

}  // namespace stanch::slip

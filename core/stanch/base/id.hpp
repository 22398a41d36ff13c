// core/stanch/base/id.hpp
//
// Identity of entries and cases: UUID version 7 (RFC 9562), compared as its 128 bits.
#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "stanch/base/moment.hpp"

namespace stanch {

class Id {
 public:
  constexpr Id() = default;
  explicit constexpr Id(const std::array<std::uint8_t, 16>& bytes) {
    for (std::size_t i = 0; i < 8; ++i) {
      high_ = high_ << 8U | bytes[i];
      low_ = low_ << 8U | bytes[8 + i];
    }
  }

  [[nodiscard]] constexpr std::array<std::uint8_t, 16> bytes() const {
    std::array<std::uint8_t, 16> out{};
    for (std::size_t i = 0; i < 8; ++i) {
      out[i] = static_cast<std::uint8_t>(high_ >> (56 - 8 * i));
      out[8 + i] = static_cast<std::uint8_t>(low_ >> (56 - 8 * i));
    }
    return out;
  }
  friend constexpr auto operator<=>(const Id&, const Id&) = default;

 private:
  // Two words and not bytes, because every entry's place is found by comparing ids.
  std::uint64_t high_ = 0;
  std::uint64_t low_ = 0;
};

/// Reads the 36-character form, either letter case; nothing unless it is version 7 of the RFC 9562 variant.
[[nodiscard]] std::optional<Id> parse_id(std::string_view text);

/// Lower-case 36-character form.
[[nodiscard]] std::string to_text(const Id& id);

/// A version 7 id from a moment and 74 random bits (the low bits of the two words); hosts bring the randomness.
[[nodiscard]] Id make_id(Moment at, std::uint64_t random_a, std::uint64_t random_b);

}  // namespace stanch

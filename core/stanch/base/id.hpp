// core/stanch/base/id.hpp
//
// Identity of entries and cases: UUID version 7 (RFC 9562), compared as its 128 bits.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "stanch/base/moment.hpp"

namespace stanch {

class Id {
 public:
  constexpr Id() = default;
  explicit constexpr Id(std::array<std::uint8_t, 16> bytes) : bytes_(bytes) {}

  [[nodiscard]] constexpr const std::array<std::uint8_t, 16>& bytes() const { return bytes_; }
  friend constexpr auto operator<=>(const Id&, const Id&) = default;

 private:
  std::array<std::uint8_t, 16> bytes_{};
};

/// Reads the 36-character form, either letter case; nothing unless it is version 7 of the RFC 9562 variant.
[[nodiscard]] std::optional<Id> parse_id(std::string_view text);

/// Lower-case 36-character form.
[[nodiscard]] std::string to_text(const Id& id);

/// A version 7 id from a moment and 74 random bits (the low bits of the two words); hosts bring the randomness.
[[nodiscard]] Id make_id(Moment at, std::uint64_t random_a, std::uint64_t random_b);

}  // namespace stanch

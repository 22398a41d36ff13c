// core/stanch/slip/prefix_code.hpp
//
// Prefix codes for DEFLATE's writer: the lengths that suit how often each symbol comes, and the codes that follow from
// the lengths. Ties go to the lower symbol, so that every host writes the same bytes.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace stanch::slip {

/// The length of each symbol's code, at most `longest` bits; 0 for a symbol that never comes. A lone symbol gets a
/// second one beside it, because some readers refuse a code that leaves bits without meaning.
[[nodiscard]] std::vector<std::uint8_t> code_lengths(std::span<const std::uint32_t> counts, unsigned longest);

/// The codes that have these lengths (RFC 1951 section 3.2.2), already turned round to be sent from their lowest bit.
[[nodiscard]] std::vector<std::uint16_t> codes_of(std::span<const std::uint8_t> lengths);

}  // namespace stanch::slip

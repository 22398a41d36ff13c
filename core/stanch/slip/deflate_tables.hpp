// core/stanch/slip/deflate_tables.hpp
//
// The constants of DEFLATE that its writer and its reader share. Source: RFC 1951 sections 3.2.5 to 3.2.7.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace stanch::slip {

inline constexpr std::size_t n_literals = 288;  ///< 256 bytes, the end of a block, lengths (two codes never used)
inline constexpr std::size_t n_distances = 30;
inline constexpr std::size_t n_length_codes = 19;
inline constexpr std::size_t end_of_block = 256;
inline constexpr std::size_t window = 32768;
inline constexpr std::size_t longest_match = 258;

inline constexpr std::array<std::uint16_t, 29> length_base{
    3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258};
inline constexpr std::array<std::uint8_t, 29> length_extra{0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2,
                                                           2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0};
inline constexpr std::array<std::uint16_t, n_distances> distance_base{
    1,   2,   3,   4,   5,   7,    9,    13,   17,   25,   33,   49,   65,    97,    129,
    193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577};
inline constexpr std::array<std::uint8_t, n_distances> distance_extra{
    0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13};

/// The order in which the lengths of the code of code lengths are sent.
inline constexpr std::array<std::uint8_t, n_length_codes> length_order{16, 17, 18, 0, 8,  7, 9,  6, 10, 5,
                                                                       11, 4,  12, 3, 13, 2, 14, 1, 15};

/// The lengths of the fixed code of literals.
[[nodiscard]] constexpr std::array<std::uint8_t, n_literals> fixed_literal_lengths() {
  std::array<std::uint8_t, n_literals> out{};
  for (std::size_t i = 0; i < n_literals; ++i)
    out[i] = static_cast<std::uint8_t>(i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8);
  return out;
}

}  // namespace stanch::slip

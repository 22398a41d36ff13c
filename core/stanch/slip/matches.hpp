// core/stanch/slip/matches.hpp
//
// The first half of DEFLATE's writer: a text as bytes and references to what came before.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace stanch::slip {

/// One byte, or `length` bytes that stand `distance` bytes back.
struct Token {
  std::uint16_t length;    ///< 0: the byte in `distance`
  std::uint16_t distance;  ///< 1 to 32768, kept less one
};

[[nodiscard]] std::vector<Token> tokens_of(std::string_view bytes);

}  // namespace stanch::slip

// tools/mutate/operands.hpp
//
// How far the operands of an operator reach in the text, by precedence and brackets.
#pragma once

#include <cstddef>
#include <optional>

#include "tools/mutate/tokens.hpp"

namespace stanch::mutate {

/// An expression from byte `from` to before byte `to`.
struct Extent {
  std::size_t from = 0;
  std::size_t to = 0;
  int precedence = 0;  ///< the higher, the tighter it binds
};

/// Of the binary operator at token `i`, with both operands; nothing when it isn't one.
[[nodiscard]] std::optional<Extent> binary_extent(const Tokens& tokens, std::size_t i);

/// Of the unary operator at token `i`, with its operand.
[[nodiscard]] Extent unary_extent(const Tokens& tokens, std::size_t i);

}  // namespace stanch::mutate

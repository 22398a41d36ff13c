// core/stanch/slip/odd_text.hpp
//
// Texts that don't look like what they say: a name that turns the reading direction round, or that mixes letters of two
// scripts in one word. Nothing is changed or refused for it; the reader is warned.
#pragma once

#include <string_view>

namespace stanch::slip {

/// True for control characters, marks that change the direction of reading, and a word with letters of Latin beside
/// Greek or Cyrillic ones, which look alike.
[[nodiscard]] bool is_odd(std::string_view utf8);

}  // namespace stanch::slip

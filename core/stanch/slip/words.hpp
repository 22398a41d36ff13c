// core/stanch/slip/words.hpp
//
// The table of words of slips, version 1: a word that is in it travels as its number. Part of the format: docs/formats/
// slip.md prints it, and a test holds it as it was. New words of the record need not be here, they travel as they are.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace stanch::slip {

inline constexpr std::size_t n_words = 344;

[[nodiscard]] std::optional<std::size_t> number_of_word(std::string_view word);

/// The word with this number, which must be below n_words.
[[nodiscard]] std::string_view word_numbered(std::size_t number);

}  // namespace stanch::slip

// core/stanch/casefile/line_words.hpp
//
// Cuts a line of a text case into words; quotes keep spaces, # starts a comment only after white space at line start.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace stanch::casefile {

/// Words separated by spaces. A part in double quotes keeps its spaces and loses its quotes: note="all well".
[[nodiscard]] std::vector<std::string> line_words(std::string_view line);

/// Without leading and trailing white space.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// "key=value" cut at the first equals sign; an empty key when there is none.
[[nodiscard]] std::pair<std::string, std::string> key_and_value(std::string_view word);

}  // namespace stanch::casefile

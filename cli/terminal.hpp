// cli/terminal.hpp
//
// Emphasis on a terminal, plain text anywhere else. Only weight, no hues: the words carry the meaning.
#pragma once

#include <string>
#include <string_view>

namespace stanch::cli {

/// True when standard output is a terminal that wants emphasis (NO_COLOR is respected).
[[nodiscard]] bool is_emphasised();

[[nodiscard]] std::string strong(std::string_view text);
[[nodiscard]] std::string quiet(std::string_view text);

/// Breaks text at spaces so that no line is longer than `width` columns; following lines start with `indent` spaces.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t indent, std::size_t width = 100);

}  // namespace stanch::cli

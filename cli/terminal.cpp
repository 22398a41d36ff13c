#include "cli/terminal.hpp"

#include <unistd.h>

#include <cstdlib>

namespace stanch::cli {

bool is_emphasised() {
  static const bool yes = isatty(STDOUT_FILENO) != 0 && std::getenv("NO_COLOR") == nullptr;
  return yes;
}

std::string strong(std::string_view text) {
  return is_emphasised() ? "\x1b[1m" + std::string(text) + "\x1b[0m" : std::string(text);
}

std::string quiet(std::string_view text) {
  return is_emphasised() ? "\x1b[2m" + std::string(text) + "\x1b[0m" : std::string(text);
}

std::string wrapped(std::string_view text, std::size_t indent, std::size_t width) {
  std::string out;
  std::size_t column = indent;
  while (!text.empty()) {
    const auto end = text.find(' ');
    const auto word = text.substr(0, end);
    if (column > indent && column + 1 + word.size() > width) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > indent) {
      out += ' ';
      ++column;
    }
    out += word;
    column += word.size();
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return out;
}

}  // namespace stanch::cli

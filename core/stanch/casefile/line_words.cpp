#include "stanch/casefile/line_words.hpp"

namespace stanch::casefile {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view space = " \t\r";
  const auto first = text.find_first_not_of(space);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(space) - first + 1);
}

std::vector<std::string> line_words(std::string_view line) {
  std::vector<std::string> out;
  std::string word;
  bool quoted = false;
  bool any = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
      any = true;
    } else if (!quoted && (c == ' ' || c == '\t' || c == '\r')) {
      if (any) out.push_back(std::move(word));
      word.clear();
      any = false;
    } else {
      word += c;
      any = true;
    }
  }
  if (any) out.push_back(std::move(word));
  return out;
}

std::pair<std::string, std::string> key_and_value(std::string_view word) {
  const auto equals = word.find('=');
  if (equals == std::string_view::npos) return {};
  return {std::string(word.substr(0, equals)), std::string(word.substr(equals + 1))};
}

}  // namespace stanch::casefile

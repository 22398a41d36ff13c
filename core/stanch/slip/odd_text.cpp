#include "stanch/slip/odd_text.hpp"

#include <cstddef>
#include <cstdint>

namespace stanch::slip {
namespace {

/// Takes one character off the front of valid UTF-8.
std::uint32_t next_character(std::string_view& text) {
  const auto lead = static_cast<unsigned char>(text.front());
  const std::size_t n = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  std::uint32_t code = n == 1 ? lead : lead & (0xFFU >> (n + 1));
  for (std::size_t k = 1; k < n && k < text.size(); ++k)
    code = code << 6U | (static_cast<unsigned char>(text[k]) & 0x3FU);
  text.remove_prefix(n < text.size() ? n : text.size());
  return code;
}

bool within(std::uint32_t c, std::uint32_t low, std::uint32_t high) { return c >= low && c <= high; }

bool is_control(std::uint32_t c) { return (c < 0x20 && c != '\n' && c != '\t') || within(c, 0x7F, 0x9F); }

// Unicode Standard Annex 9, section 2: embeddings, overrides, isolates. The plain marks (200E, 200F) are common in
// honest right-to-left text.
bool turns_direction(std::uint32_t c) { return within(c, 0x202A, 0x202E) || within(c, 0x2066, 0x2069); }

bool is_latin(std::uint32_t c) {
  return within(c, 'A', 'Z') || within(c, 'a', 'z') || within(c, 0xC0, 0x24F) || within(c, 0x1E00, 0x1EFF);
}
bool is_lookalike(std::uint32_t c) { return within(c, 0x370, 0x3FF) || within(c, 0x400, 0x52F); }

}  // namespace

bool is_odd(std::string_view utf8) {
  bool latin = false;
  bool lookalike = false;
  while (!utf8.empty()) {
    const std::uint32_t c = next_character(utf8);
    if (is_control(c) || turns_direction(c)) return true;
    if (c == ' ' || c == '-' || c == '.') latin = lookalike = false;
    latin = latin || is_latin(c);
    lookalike = lookalike || is_lookalike(c);
    if (latin && lookalike) return true;
  }
  return false;
}

}  // namespace stanch::slip

// tools/mutate/sites.hpp
//
// Finds the places in a C++ source at which one small mistake can be planted: a comparator off by its equal case, a
// number one step off, a condition dropped, and/or swapped, a negation lost, plus and minus swapped.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace stanch::mutate {

/// One planted mistake: `original` at byte `offset` becomes `replacement`.
struct Site {
  enum class Kind { comparison, arithmetic, logic, negation, number, flag, condition };

  Kind kind;
  std::string file;
  std::size_t offset;
  std::string original;
  std::string replacement;
  std::size_t line;       ///< from 1
  std::string line_text;  ///< the unchanged line, without its indent
};

/// All sites of `source`, by offset. Comments, literals of text, preprocessor lines and static_asserts hold none.
[[nodiscard]] std::vector<Site> find_sites(const std::string& file, const std::string& source);

/// "a.cpp:12: '<' -> '<='   if (x < 0) return 0;"
[[nodiscard]] std::string describe(const Site& site);

/// The source with the mistake in it.
[[nodiscard]] std::string with_mistake(const std::string& source, const Site& site);

}  // namespace stanch::mutate

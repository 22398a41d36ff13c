// tools/mutate/weave.hpp
//
// Writes a source so that it holds all its mistakes at once, each chosen at run time by its number (planted.hpp). Lines
// stay where they are, so that what the compiler says of a line can be told from the sites on it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tools/mutate/sites.hpp"

namespace stanch::mutate {

/// One site with the number that chooses it.
struct Numbered {
  Site site;
  std::size_t number;  ///< from 1
};

/// Whether the site's mistake can be chosen at run time at all: what stands in the brackets of a template cannot, nor
/// can a condition that declares.
[[nodiscard]] bool weavable(const std::string& source, const Site& site);

/// The source with these mistakes in it, all weavable. With `thaw`, constants are computed at run time, so that a
/// mistake in them can be chosen too.
[[nodiscard]] std::string woven(const std::string& source, const std::vector<Numbered>& sites, bool thaw);

}  // namespace stanch::mutate

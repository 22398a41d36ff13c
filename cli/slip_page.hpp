// cli/slip_page.hpp
//
// A slip on paper: one page with the symbols, numbered, and the hand-over in words that needs no scanner.
#pragma once

#include <string>
#include <vector>

#include "stanch/slip/contents.hpp"
#include "stanch/slip/symbols.hpp"

namespace stanch::cli {

/// A whole HTML page, black on white, without anything fetched. `words` is the case in words as plain text.
[[nodiscard]] std::string slip_page(const slip::About& about, const std::vector<std::string>& symbols,
                                    slip::Correction correction, const std::string& words);

/// "12 of 300 entries are left out: 10 vitals, 2 call." or that nothing is.
[[nodiscard]] std::string left_out_text(const slip::About& about);

}  // namespace stanch::cli

// cli/entry_text.hpp
//
// One entry of the record in words.
#pragma once

#include <string>

#include "cli/clock.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::cli {

/// "signs: pulse 118, pressure 84/50", with the second person and how late it was written.
[[nodiscard]] std::string entry_text(const record::Entry& entry, const Clock& clock);

}  // namespace stanch::cli

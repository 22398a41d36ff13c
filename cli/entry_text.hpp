// cli/entry_text.hpp
//
// One entry of the record in words.
#pragma once

#include <string>

#include "stanch/record/entry.hpp"

namespace stanch::cli {

/// "vitals: pulse 118, sbp 84, dbp 50", with who wrote it and how late.
[[nodiscard]] std::string entry_text(const record::Entry& entry);

}  // namespace stanch::cli

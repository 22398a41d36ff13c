// cli/replay.hpp
//
// A case walked from its first entry to its last: every change of advice, as it would have been seen while it happened.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/clock.hpp"
#include "stanch/protocol/protocol.hpp"
#include "stanch/record/case.hpp"

namespace stanch::cli {

struct ReplayStyle {
  bool json = false;   ///< one JSON object a moment in place of text
  bool brief = false;  ///< text without the reasons
};

/// Up to the newest entry, or to `until`. There is at least one entry.
[[nodiscard]] std::string replay(std::vector<record::EntryPtr> entries, const protocol::Protocol& protocol,
                                 const Clock& clock, const ReplayStyle& style, std::optional<Moment> until);

}  // namespace stanch::cli

// cli/advice_change.hpp
//
// What is different between two answers, in words: for replaying a case. Ages and clocks that only run on are no
// change.
#pragma once

#include <string>
#include <vector>

#include "cli/clock.hpp"
#include "stanch/care/advise.hpp"

namespace stanch::cli {

/// One difference: the sign says come (+), gone (-) or moved (~).
struct AdviceChange {
  char sign;
  std::string part;  ///< "due", "not now", "watch", "not known", "note", "phase"
  std::string text;
  std::vector<care::Reason> reasons;
};

[[nodiscard]] std::vector<AdviceChange> changes_between(const care::Advice& before, const care::Advice& after,
                                                        const Clock& clock);

}  // namespace stanch::cli

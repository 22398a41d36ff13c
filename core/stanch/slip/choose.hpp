// core/stanch/slip/choose.hpp
//
// In which order entries are left out of a slip that has no room for all. docs/formats/slip.md prints the order. An
// entry travels whole or not at all: half of one would be in conflict with the whole.
#pragma once

#include <vector>

#include "stanch/record/case.hpp"

namespace stanch::slip {

/// Which reason an entry is left out for, in the order of leaving out. On the wire by number.
enum class Step : int {
  struck = 1,  ///< void already; the strikes themselves always travel
  advice = 2,  ///< what the screen said and what was declined
  monitor_vitals = 3,
  vitals = 4,      ///< but the landmarks, below
  told_again = 5,  ///< what says the same as the entry before and the one after; levels of a drape between others
  other = 6,       ///< vitals, urine, blood tests, findings, calls, acts, claims
  totals = 7       ///< losses, drugs, fluids, blood, garment, places: what sums and clocks are made of
};

struct Leaving {
  record::EntryPtr entry;
  Step step;
};

/// The entries that may be left out, first to go first; within a step the oldest first. Never among them: `opened`, and
/// whatever strikes another entry. Landmarks among the vitals (step 6, not 3 or 4): the first, the last before the
/// garment is placed, opened or taken off, the lowest systolic, the highest pulse, and the newest twelve.
[[nodiscard]] std::vector<Leaving> leaving_order(const record::Case& entries);

}  // namespace stanch::slip

// core/stanch/care/late_change.hpp
//
// A late entry judges everything again from when it happened. When that takes away the stable time on which a panel was
// opened, people must be told, and which entry it was.
#pragma once

#include <optional>

#include "stanch/care/stability.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

class AdviceBuilder;
struct Picture;

/// Stable by what was known when the first panel opened, not so by what is known now.
struct LateChange {
  Id entry;  ///< the late entry that turned it
  Moment happened;
  Moment recorded;
  Stability then;  ///< as it was known
  Stability now;
};

/// Looks only at signs written more than the clock allowance after they happened; nothing when there are none.
/// [CLOCK-2]
[[nodiscard]] std::optional<LateChange> late_change(const View& view, const Picture& picture);

void advise_late_change(const Picture& picture, const View& view, AdviceBuilder& out);

}  // namespace stanch::care

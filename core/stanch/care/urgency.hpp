// core/stanch/care/urgency.hpp
//
// Which of several women needs hands first: the order of a list of cases, worst first.
#pragma once

#include <compare>

#include "stanch/care/advice.hpp"

namespace stanch::care {

/// Compares member by member; the greater needs hands first.
struct Urgency {
  bool is_open = false;  ///< her case hasn't ended
  int high = 0;          ///< acts of high priority that are due, soon ones apart
  int late = 0;          ///< acts that are late or overdue, of any priority
  auto operator<=>(const Urgency&) const = default;
};

/// Common practice, no source: what is pressing counts before what is merely late.
[[nodiscard]] Urgency urgency_of(const Advice& advice);

}  // namespace stanch::care

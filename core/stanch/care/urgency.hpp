// core/stanch/care/urgency.hpp
//
// Which of several women needs hands first, told by what is due for each: a list of cases is shown in this order, the
// most urgent on top.
#pragma once

#include <compare>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"

namespace stanch::care {

/// Compared member by member, in this order; the greater needs hands first. Acts that are high by themselves stand
/// above those that became high for being long overdue, as they do within one case.
struct Urgency {
  bool open = true;  ///< neither recovered nor died
  int high = 0;      ///< acts of high priority by themselves
  int raised = 0;    ///< acts that are high because they are long overdue
  int late = 0;      ///< acts of any priority that are overdue or late

  friend auto operator<=>(const Urgency&, const Urgency&) = default;
};

[[nodiscard]] Urgency urgency_of(const Advice& advice);

/// [open (1 or 0), high, raised, late]
[[nodiscard]] Json to_json(const Urgency& urgency);

}  // namespace stanch::care

#include "stanch/care/urgency.hpp"

#include <algorithm>

#include "stanch/care/phase.hpp"

namespace stanch::care {

Urgency urgency_of(const Advice& advice) {
  const auto count = [&](auto fits) { return static_cast<int>(std::ranges::count_if(advice.due, fits)); };
  return {
      .is_open = advice.phase != word(Phase::ended),
      .high = count([](const Due& due) { return due.priority == Priority::high && due.standing != Standing::soon; }),
      .late = count([](const Due& due) { return due.standing <= Standing::overdue; })};
}

}  // namespace stanch::care

#include "stanch/care/urgency.hpp"

#include <gtest/gtest.h>

namespace stanch::care {
namespace {

Due act(Priority priority, Standing standing) {
  return {.id = "act",
          .about = {},
          .priority = priority,
          .standing = standing,
          .due_at = {},
          .late_at = {},
          .arguments = {},
          .reasons = {}};
}

Urgency of(std::string phase, std::vector<Due> due) {
  Advice advice;
  advice.phase = std::move(phase);
  advice.due = std::move(due);
  return urgency_of(advice);
}

TEST(Urgency, counts_what_is_pressing_and_what_is_late) {
  const Urgency urgency =
      of("active_bleed",
         {act(Priority::high, Standing::late), act(Priority::high, Standing::due), act(Priority::high, Standing::soon),
          act(Priority::low, Standing::overdue), act(Priority::medium, Standing::due)});
  EXPECT_EQ(urgency, (Urgency{.is_open = true, .high = 2, .late = 2}));
}

TEST(Urgency, the_worst_comes_first) {
  const Urgency pressing = of("active_bleed", {act(Priority::high, Standing::due)});
  const Urgency late =
      of("wrapped_stable", {act(Priority::medium, Standing::late), act(Priority::low, Standing::late)});
  const Urgency one_late = of("wrapped_stable", {act(Priority::medium, Standing::late)});
  const Urgency quiet = of("after_control", {});
  const Urgency over = of("ended", {act(Priority::high, Standing::late)});
  EXPECT_GT(pressing, late);
  EXPECT_GT(late, one_late);
  EXPECT_GT(one_late, quiet);
  EXPECT_GT(quiet, over) << "who has gone home waits, whatever was never written down";
}

}  // namespace
}  // namespace stanch::care

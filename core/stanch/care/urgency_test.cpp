#include "stanch/care/urgency.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::care {
namespace {

Due due(Priority priority, Standing standing, bool raised = false) {
  Due out;
  out.id = "act";
  out.priority = priority;
  out.standing = standing;
  out.raised = raised;
  return out;
}

Urgency urgency(std::vector<Due> acts, const char* phase = "active_bleed") {
  Advice advice;
  advice.phase = phase;
  advice.due = std::move(acts);
  return urgency_of(advice);
}

TEST(Urgency, counts_what_is_high_raised_and_late) {
  const Urgency counted = urgency({due(Priority::high, Standing::due), due(Priority::high, Standing::late, true),
                                   due(Priority::medium, Standing::overdue), due(Priority::low, Standing::soon)});
  EXPECT_EQ(to_json(counted), Json::parse("[1, 1, 1, 2]"));
}

TEST(Urgency, one_more_act_of_high_priority_stands_above_any_number_of_late_ones) {
  const Urgency quick = urgency({due(Priority::high, Standing::due), due(Priority::high, Standing::due)});
  const Urgency slow = urgency({due(Priority::high, Standing::late), due(Priority::medium, Standing::late),
                                due(Priority::medium, Standing::late), due(Priority::low, Standing::overdue)});
  EXPECT_GT(quick, slow);
}

TEST(Urgency, an_act_high_by_itself_stands_above_acts_raised_for_being_overdue) {
  const Urgency by_itself = urgency({due(Priority::high, Standing::due)});
  const Urgency overdue =
      urgency({due(Priority::high, Standing::late, true), due(Priority::high, Standing::late, true)});
  EXPECT_GT(by_itself, overdue);
  EXPECT_GT(overdue, urgency({due(Priority::medium, Standing::late), due(Priority::medium, Standing::late)}));
}

TEST(Urgency, of_two_with_the_same_high_acts_the_one_with_more_that_is_late) {
  const Urgency late = urgency({due(Priority::high, Standing::late)});
  const Urgency due_now = urgency({due(Priority::high, Standing::due)});
  EXPECT_GT(late, due_now);
  EXPECT_EQ(late, urgency({due(Priority::high, Standing::overdue)}));
}

TEST(Urgency, an_ended_case_stands_below_one_with_nothing_due) {
  EXPECT_GT(urgency({}, "watchful"), urgency({due(Priority::high, Standing::late)}, "ended"));
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/advice.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "stanch/care/advise.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

Due due(const char* id, Priority priority, Standing standing, const char* due_at, const char* about = "") {
  return {.id = id,
          .about = about,
          .priority = priority,
          .standing = standing,
          .due_at = clock(due_at),
          .late_at = {},
          .arguments = {},
          .reasons = {}};
}

std::string order(const Advice& advice) {
  std::string out;
  for (const Due& item : advice.due) out += item.id + item.about + " ";
  return out;
}

TEST(Tri, and_or_not_are_kleenes) {
  using enum Tri;
  EXPECT_EQ(yes && unknown, unknown);
  EXPECT_EQ(no && unknown, no);
  EXPECT_EQ(unknown && no, no);
  EXPECT_EQ(yes && yes, yes);
  EXPECT_EQ(unknown && unknown, unknown);
  EXPECT_EQ(yes || unknown, yes);
  EXPECT_EQ(unknown || yes, yes);
  EXPECT_EQ(no || unknown, unknown);
  EXPECT_EQ(unknown || no, unknown);
  EXPECT_EQ(no || no, no);
  EXPECT_EQ(!unknown, unknown);
  EXPECT_EQ(!yes, no);
  EXPECT_EQ(!no, yes);
}

TEST(Advice, ranks_by_priority_then_standing_then_longest_due) {
  AdviceBuilder out(clock("10:00"));
  out.due(due("a", Priority::low, Standing::late, "09:00"));
  out.due(due("b", Priority::high, Standing::soon, "10:30"));
  out.due(due("c", Priority::high, Standing::late, "09:50"));
  out.due(due("d", Priority::high, Standing::late, "09:40"));
  out.due(due("e", Priority::medium, Standing::due, "10:00"));
  EXPECT_EQ(order(std::move(out).finish()), "d c b e a ");
}

TEST(Advice, what_is_high_by_itself_stands_above_what_was_raised_for_being_overdue) {
  AdviceBuilder out(clock("10:00"));
  Due raised = due("measure_loss", Priority::high, Standing::overdue, "09:30");
  raised.raised = true;
  out.due(raised);
  out.due(due("reclose_all", Priority::high, Standing::due, "10:02"));
  EXPECT_EQ(order(std::move(out).finish()), "reclose_all measure_loss ");
}

TEST(Advice, says_nothing_twice_and_keeps_the_more_urgent) {
  AdviceBuilder out(clock("10:00"));
  Due first = due("take_vitals", Priority::low, Standing::soon, "10:10");
  first.reasons = {{.id = "schedule", .rule = "OBS-1", .limit = {}, .seen = {}, .about = {}, .at = {}}};
  Due second = due("take_vitals", Priority::high, Standing::due, "10:05");
  second.reasons = {{.id = "schedule", .rule = "OBS-1", .limit = {}, .seen = {}, .about = {}, .at = {}},
                    {.id = "before_opening", .rule = "GR-9", .limit = {}, .seen = {}, .about = {}, .at = {}}};
  out.due(first);
  out.due(second);
  out.due(due("take_vitals", Priority::low, Standing::soon, "10:20", "arm"));
  const Advice advice = std::move(out).finish();
  ASSERT_EQ(advice.due.size(), 2U);
  EXPECT_EQ(advice.due[0].priority, Priority::high);
  EXPECT_EQ(advice.due[0].standing, Standing::due);
  EXPECT_EQ(advice.due[0].due_at, clock("10:05"));
  EXPECT_EQ(advice.due[0].reasons.size(), 2U);
}

TEST(Advice, merges_guards_to_the_firmest) {
  AdviceBuilder out(clock("10:00"));
  Guard soft{.act = "give", .about = "carboprost", .verdict = {}};
  soft.verdict.stop(Permission::warned, {.id = "note", .rule = "X-1", .limit = {}, .seen = {}, .about = {}, .at = {}});
  Guard firm = soft;
  firm.verdict = {};
  firm.verdict.stop(Permission::needs_senior,
                    {.id = "asthma", .rule = "X-2", .limit = {}, .seen = {}, .about = {}, .at = {}});
  firm.verdict.second_person = true;
  Guard other{.act = "give", .about = "ergometrine", .verdict = {}};
  other.verdict.stop(Permission::needs_override,
                     {.id = "early", .rule = "X-3", .limit = {}, .seen = {}, .about = {}, .at = {}});
  out.guard(soft);
  out.guard(other);
  out.guard(firm);
  const Advice advice = std::move(out).finish();
  ASSERT_EQ(advice.guards.size(), 2U);
  EXPECT_EQ(advice.guards[0].about, "carboprost");
  EXPECT_EQ(advice.guards[0].verdict.permission, Permission::needs_senior);
  EXPECT_TRUE(advice.guards[0].verdict.second_person);
  EXPECT_EQ(advice.guards[0].verdict.reasons.size(), 2U);
}

TEST(Advice, unknowns_notices_and_watches_are_named_once) {
  AdviceBuilder out(clock("10:00"));
  out.unknown("take_bp", "DEF-05");
  out.unknown("take_bp", "SI-05");
  out.unknown("take_bp", "SI-05");
  out.notice({.id = "hypertensive", .about = {}, .priority = Priority::low, .reasons = {}});
  out.notice({.id = "hypertensive", .about = {}, .priority = Priority::high, .reasons = {}});
  out.watch(
      {.id = "pulse_ceiling", .about = "start", .limit = 108, .crossed = {}, .unit = {}, .by = {}, .reasons = {}});
  out.watch(
      {.id = "pulse_ceiling", .about = "start", .limit = 109, .crossed = {}, .unit = {}, .by = {}, .reasons = {}});
  const Advice advice = std::move(out).finish();
  ASSERT_EQ(advice.unknown.size(), 1U);
  EXPECT_EQ(advice.unknown[0].rules, (std::vector<std::string>{"DEF-05", "SI-05"}));
  ASSERT_EQ(advice.notices.size(), 1U);
  EXPECT_EQ(advice.notices[0].priority, Priority::high);
  ASSERT_EQ(advice.watch.size(), 1U);
  EXPECT_EQ(advice.watch[0].limit, 108);
}

TEST(Advice, wakes_at_the_earliest_moment_after_now) {
  AdviceBuilder out(clock("10:00"));
  out.wake_at(clock("10:00"));
  out.wake_at(clock("09:00"));
  out.wake_at(clock("10:30"));
  out.wake_at(clock("10:20"));
  EXPECT_EQ(std::move(out).finish().next_change, clock("10:20"));
}

TEST(Advice, standing_changes_just_after_its_edges_and_wakes_there) {
  const auto standing = [](const char* now) {
    AdviceBuilder out(clock(now));
    const Standing s = out.standing(clock("10:10"), clock("10:15"), Duration::minutes(5));
    return std::make_pair(s, std::move(out).finish().next_change);
  };
  EXPECT_EQ(standing("10:04:59").first, Standing::soon);
  EXPECT_EQ(standing("10:04:59").second, clock("10:05"));
  EXPECT_EQ(standing("10:05").first, Standing::due);
  EXPECT_EQ(standing("10:10").first, Standing::due);
  EXPECT_EQ(standing("10:10").second, clock("10:10") + Duration::milliseconds(1));
  EXPECT_EQ(standing("10:10:01").first, Standing::overdue);
  EXPECT_EQ(standing("10:15").first, Standing::overdue);
  EXPECT_EQ(standing("10:15").second, clock("10:15") + Duration::milliseconds(1));
  EXPECT_EQ(standing("10:15:01").first, Standing::late);
  EXPECT_FALSE(standing("10:15:01").second);
}

Due medium_since(const char* since, const char* due_at) {
  Due item = due("take_vitals", Priority::medium, Standing::due, due_at);
  if (since != nullptr) item.since = clock(since);
  return item;
}

Advice raised_at(const char* now, Due item) {
  AdviceBuilder out(clock(now));
  out.due(std::move(item));
  out.raise_overdue(protocol::Protocol::shipped());
  return std::move(out).finish();
}

TEST(Advice, a_medium_act_becomes_high_once_its_interval_has_passed_twice) {
  const Advice before = raised_at("10:09:59", medium_since("10:00", "10:05"));
  EXPECT_EQ(before.due[0].priority, Priority::medium);
  EXPECT_EQ(before.next_change, clock("10:10"));
  const Advice at = raised_at("10:10", medium_since("10:00", "10:05"));
  EXPECT_EQ(at.due[0].priority, Priority::high);
  ASSERT_EQ(at.due[0].reasons.size(), 1U);
  EXPECT_EQ(at.due[0].reasons[0].id, "overdue_twice");
  EXPECT_EQ(at.due[0].reasons[0].seen, 2.0);
  EXPECT_FALSE(at.next_change.has_value());
}

TEST(Advice, low_acts_and_those_without_a_clock_are_not_raised) {
  Due low = medium_since("10:00", "10:05");
  low.priority = Priority::low;
  EXPECT_EQ(raised_at("11:00", low).due[0].priority, Priority::low);
  EXPECT_EQ(raised_at("11:00", medium_since(nullptr, "10:05")).due[0].priority, Priority::medium);
  EXPECT_EQ(raised_at("11:00", medium_since("10:05", "10:05")).due[0].priority, Priority::medium);
  Due open_end = medium_since("10:00", "10:05");
  open_end.due_at.reset();
  EXPECT_EQ(raised_at("11:00", open_end).due[0].priority, Priority::medium);
}

TEST(Verdict, the_firmest_reason_comes_first) {
  Verdict v;
  v.stop(Permission::warned, {.id = "a", .rule = {}, .limit = {}, .seen = {}, .about = {}, .at = {}});
  v.stop(Permission::never, {.id = "b", .rule = {}, .limit = {}, .seen = {}, .about = {}, .at = {}});
  v.stop(Permission::needs_senior, {.id = "c", .rule = {}, .limit = {}, .seen = {}, .about = {}, .at = {}});
  EXPECT_EQ(v.permission, Permission::never);
  ASSERT_EQ(v.reasons.size(), 3U);
  EXPECT_EQ(v.reasons[0].id, "b");
  EXPECT_EQ(v.reasons[1].id, "a");
  EXPECT_EQ(v.reasons[2].id, "c");
}

TEST(Advice, what_is_said_twice_keeps_the_earlier_times_the_first_arguments_and_each_reason) {
  const auto merged = [](Due first, Due second) {
    AdviceBuilder out(clock("10:00"));
    out.due(std::move(first));
    out.due(std::move(second));
    return std::move(out).finish().due.front();
  };
  Due first = due("give_x", Priority::medium, Standing::due, "10:05");
  first.late_at = clock("10:20");
  first.since = clock("09:50");
  first.arguments = {{"dose", 1.0}};
  first.reasons = {{.id = "a", .rule = "R-1", .about = "x"}};
  Due second = due("give_x", Priority::medium, Standing::due, "10:05");
  second.arguments = {{"dose", 2.0}};
  second.reasons = {{.id = "a", .rule = "R-1", .about = "x"},
                    {.id = "b", .rule = "R-1", .about = "x"},
                    {.id = "a", .rule = "R-2", .about = "x"},
                    {.id = "a", .rule = "R-1", .about = "y"}};
  for (const Due& both : {merged(first, second), merged(second, first)}) {
    EXPECT_EQ(both.reasons.size(), 4u);
    EXPECT_EQ(both.late_at, clock("10:20"));
    EXPECT_EQ(both.since, clock("09:50"));
  }
  EXPECT_EQ(std::get<double>(merged(first, second).arguments.front().value), 1.0);
  second.arguments.clear();
  EXPECT_EQ(std::get<double>(merged(second, first).arguments.front().value), 1.0);
  second.late_at = clock("10:10");
  second.since = clock("09:40");
  EXPECT_EQ(merged(first, second).late_at, clock("10:10"));
  EXPECT_EQ(merged(first, second).since, clock("09:40"));
}

TEST(Advice, wakes_at_the_start_of_each_standing_and_a_millisecond_after_its_end) {
  const auto wakes = [](const char* now, const char* lead_min) {
    AdviceBuilder out(clock(now));
    static_cast<void>(out.standing(clock("10:10"), clock("10:20"), clock(lead_min) - clock("10:00")));
    return std::move(out).finish().next_change;
  };
  const Duration just_after = Duration::milliseconds(1);
  EXPECT_EQ(wakes("10:00", "10:05"), clock("10:05"));
  EXPECT_EQ(wakes("10:05", "10:05"), clock("10:10") + just_after);
  EXPECT_EQ(wakes("10:10", "10:05"), clock("10:10") + just_after);
  EXPECT_EQ(wakes("10:11", "10:05"), clock("10:20") + just_after);
  EXPECT_FALSE(wakes("10:21", "10:05"));
}

// prompt.overdue_factor_high is 2.
TEST(Advice, wakes_when_a_medium_act_has_waited_its_interval_twice) {
  const auto raised_at = [](Moment now) {
    AdviceBuilder out(now);
    Due item = due("measure_loss", Priority::medium, Standing::overdue, "10:05");
    item.since = clock("10:00");
    out.due(item);
    out.raise_overdue(protocol::Protocol::shipped());
    return std::move(out).finish();
  };
  const Advice before = raised_at(clock("10:06"));
  EXPECT_EQ(before.due.front().priority, Priority::medium);
  EXPECT_EQ(before.next_change, clock("10:10"));
  EXPECT_EQ(raised_at(clock("10:10")).due.front().priority, Priority::high);
  EXPECT_EQ(raised_at(clock("10:10") - Duration::milliseconds(1)).due.front().priority, Priority::medium);
}

TEST(Advice, only_what_is_known_is_told) {
  const ToldCase told({});
  const View view = told.at("10:00");
  Advice advice;
  advice.now = view.now();
  advice.phase = "watch";
  advice.due = {due("a", Priority::high, Standing::due, "10:05")};
  advice.due.push_back({.id = "b",
                        .about = "x",
                        .priority = Priority::low,
                        .standing = Standing::late,
                        .due_at = {},
                        .late_at = clock("10:20"),
                        .arguments = {{"dose", 1.5}, {"drug", std::string("y")}},
                        .reasons = {}});
  advice.due.back().since = clock("09:00");
  advice.guards = {{"give", "x", {}}, {"start", "", {}}};
  advice.watch = {{"w", "", std::nullopt, protocol::Comparator::none, "", clock("11:00"), {}},
                  {"v", "x", 5.0, protocol::Comparator::more, "mL", std::nullopt, {}}};
  advice.notices = {{"n", "", Priority::low, {}}, {"m", "x", Priority::high, {}}};
  Json out = to_json(advice, picture_of(view), view);
  EXPECT_EQ(canonical_text(out["due"]),
            R"([{"due_at":"2031-05-06T10:05:00Z","id":"a","priority":"high","reasons":[],"standing":"due"},)"
            R"({"about":"x","arguments":{"dose":1.5,"drug":"y"},"id":"b","late_at":"2031-05-06T10:20:00Z",)"
            R"("priority":"low","reasons":[],"since":"2031-05-06T09:00:00Z","standing":"late"}])");
  EXPECT_EQ(canonical_text(out["watch"]),
            R"([{"by":"2031-05-06T11:00:00Z","id":"w","reasons":[]},)"
            R"({"about":"x","crossed":">","id":"v","limit":5,"reasons":[],"unit":"mL"}])");
  EXPECT_EQ(canonical_text(out["notices"]), R"([{"id":"n","priority":"low","reasons":[]},)"
                                            R"({"about":"x","id":"m","priority":"high","reasons":[]}])");
  EXPECT_EQ(out["guards"][0]["about"], "x");
  EXPECT_FALSE(out["guards"][1].contains("about"));
  EXPECT_FALSE(out.contains("next_change"));
  advice.next_change = clock("10:01");
  EXPECT_EQ(to_json(advice, picture_of(view), view)["next_change"], "2031-05-06T10:01:00Z");
}

}  // namespace
}  // namespace stanch::care

#include "stanch/record/acceptance.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::record {
namespace {

const Moment now = *parse_moment("2031-05-06T10:00:00Z");
const TimeLimits limits{Duration::minutes(2), Duration::hours(24), Duration::minutes(2)};
constexpr Duration a_moment = Duration::milliseconds(1);

Entry entry_at(Moment at, Moment written, std::string kind = "urine", int skew_ms = 0) {
  Json json{{"id", kind == "opened" ? "01890000-0000-7000-8000-000000000001" : "01890000-0000-7000-8000-000000000002"},
            {"case", "01890000-0000-7000-8000-000000000009"},
            {"by", "S. Orin"},
            {"from", "phone-1"},
            {"kind", kind},
            {"at", to_text(at)},
            {"written", to_text(written)}};
  if (kind == "urine") json["amount_ml"] = 50;
  if (skew_ms != 0) json["skew_ms"] = skew_ms;
  return *parse_entry(json);
}

TEST(Acceptance, a_time_two_minutes_ahead_is_stored_and_a_moment_more_is_refused) {
  const Moment edge = now + Duration::minutes(2);
  EXPECT_TRUE(accept_times(entry_at(edge, now), now, std::nullopt, limits).refused.empty());
  const Acceptance refused = accept_times(entry_at(edge + a_moment, now), now, std::nullopt, limits);
  ASSERT_EQ(refused.refused.size(), 1U);
  EXPECT_EQ(refused.refused[0].code, ProblemCode::time_in_future);
  EXPECT_EQ(refused.refused[0].field, "at");
  EXPECT_EQ(refused.refused[0].value, "2031-05-06T10:02:00.001Z");
  EXPECT_EQ(refused.refused[0].allowed, "at most 2 min after 2031-05-06T10:00:00Z");
}

TEST(Acceptance, a_writing_time_in_the_future_is_refused_too) {
  const Moment edge = now + Duration::minutes(2);
  EXPECT_TRUE(accept_times(entry_at(now, edge), now, std::nullopt, limits).refused.empty());
  const Acceptance refused = accept_times(entry_at(now, edge + a_moment), now, std::nullopt, limits);
  ASSERT_EQ(refused.refused.size(), 1U);
  EXPECT_EQ(refused.refused[0].field, "written");
}

TEST(Acceptance, times_are_judged_by_the_corrected_clock) {
  // The phone runs ten minutes fast: what it calls 10:10 is now.
  const Entry fast = entry_at(now + Duration::minutes(10), now + Duration::minutes(10), "urine", 600'000);
  EXPECT_TRUE(accept_times(fast, now, std::nullopt, limits).refused.empty());
  const Entry slow = entry_at(now, now, "urine", -180'000);
  EXPECT_EQ(accept_times(slow, now, std::nullopt, limits).refused.size(), 2U);
}

TEST(Acceptance, more_than_a_day_before_opening_asks_again) {
  const Moment opened = now - Duration::hours(1);
  const Moment edge = opened - Duration::hours(24);
  EXPECT_FALSE(accept_times(entry_at(edge, now), now, opened, limits).ask_again);
  const Acceptance old = accept_times(entry_at(edge - a_moment, now), now, opened, limits);
  EXPECT_TRUE(old.ask_again);
  EXPECT_TRUE(old.refused.empty());
  EXPECT_FALSE(accept_times(entry_at(edge - a_moment, now), now, std::nullopt, limits).ask_again);
}

TEST(Acceptance, a_clock_more_than_two_minutes_off_warns_either_way) {
  EXPECT_FALSE(accept_times(entry_at(now, now, "urine", 120'000), now, std::nullopt, limits).clock_warning);
  EXPECT_TRUE(accept_times(entry_at(now, now, "urine", 120'001), now, std::nullopt, limits).clock_warning);
  EXPECT_FALSE(accept_times(entry_at(now, now, "urine", -120'000), now, std::nullopt, limits).clock_warning);
  EXPECT_TRUE(accept_times(entry_at(now, now, "urine", -120'001), now, std::nullopt, limits).clock_warning);
}

TEST(Acceptance, a_case_is_opened_by_its_earliest_opening_in_effect) {
  Case entries;
  EXPECT_FALSE(opened_at(entries).has_value());
  entries.add(entry_at(now - Duration::hours(3), now));
  EXPECT_FALSE(opened_at(entries).has_value());
  entries.add(entry_at(now - Duration::hours(1), now, "opened"));
  EXPECT_EQ(opened_at(entries), now - Duration::hours(1));
}

}  // namespace
}  // namespace stanch::record

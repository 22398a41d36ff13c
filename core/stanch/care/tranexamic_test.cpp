// Source: WHO recommendation on tranexamic acid for the treatment of PPH, 2017; that 180 min counts as inside and that
// the half hour runs from the start of the first dose: common practice, no source.
#include "stanch/care/tranexamic.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/support/told_verdict.hpp"

namespace stanch::care {
namespace {

using support::asks;
using support::clock;
using support::reason;
using support::ToldCase;
using support::verdict_on;
using State = TranexamicState;

constexpr std::string_view born_at_ten = "10:00 opened birth_at=10:00 birth_mode=vaginal cautions=none";
constexpr std::string_view first = "10:20 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow";
constexpr std::string_view gram = " drug drug=tranexamic_acid dose=1 unit=g route=iv_slow";
std::string gram_at(std::string_view time) { return std::string(time) + std::string(gram); }

Tranexamic judged(const ToldCase& told, std::string_view now, Tri triggered = Tri::yes) {
  const View view = told.at(now);
  return tranexamic(view, woman(view), doses_given(view), triggered);
}

State state(std::initializer_list<std::string_view> lines, std::string_view now, Tri triggered = Tri::yes) {
  return judged(ToldCase(lines), now, triggered).state;
}

// ---- The window -----------------------------------------------------------------------------------------------------

TEST(Tranexamic, the_first_gram_may_start_up_to_and_at_180_minutes) {
  EXPECT_EQ(state({born_at_ten}, "10:05"), State::due);
  EXPECT_EQ(state({born_at_ten}, "12:29:59"), State::due);
  EXPECT_EQ(state({born_at_ten}, "12:30"), State::closing);
  EXPECT_EQ(state({born_at_ten}, "13:00"), State::closing);
  EXPECT_EQ(state({born_at_ten}, "13:00:01"), State::missed);
  EXPECT_EQ(judged(ToldCase({born_at_ten}), "10:05").window_closes_at, clock("13:00"));
}

TEST(Tranexamic, a_ward_may_leave_the_last_minute_out) {
  auto ward = support::ward_protocol(R"({"tranexamic.window": {"value": 180, "compare": "<"}})");
  EXPECT_EQ(judged(ToldCase({born_at_ten}, ward), "12:59:59").state, State::closing);
  EXPECT_EQ(judged(ToldCase({born_at_ten}, ward), "13:00").state, State::missed);
}

TEST(Tranexamic, it_is_silent_without_a_haemorrhage_and_before_birth) {
  EXPECT_EQ(state({born_at_ten}, "10:05", Tri::no), State::not_indicated);
  EXPECT_EQ(state({born_at_ten}, "14:00", Tri::no), State::not_indicated);
  EXPECT_EQ(state({born_at_ten}, "10:05", Tri::unknown), State::unknown);
  EXPECT_EQ(state({"09:00 opened birth_mode=undelivered"}, "10:05"), State::not_indicated);
  EXPECT_EQ(state({"09:00 opened birth_at=10:00"}, "09:59:59"), State::not_indicated);
  EXPECT_EQ(state({"09:00 opened birth_at=10:00"}, "10:00"), State::due);
}

TEST(Tranexamic, an_unknown_time_of_birth_is_unknown_and_an_estimate_is_marked) {
  EXPECT_EQ(state({"10:00 opened birth_mode=vaginal"}, "10:05"), State::birth_time_unknown);
  const Tranexamic estimated = judged(ToldCase({"10:00 opened birth_at=09:30 birth_estimated=true"}), "12:20");
  EXPECT_EQ(estimated.state, State::closing);
  EXPECT_TRUE(estimated.birth_estimated);
}

TEST(Tranexamic, a_preventive_gram_is_not_the_first_for_treatment_but_counts_to_the_most) {
  const ToldCase told({born_at_ten, "10:01 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow use=prevention"});
  EXPECT_EQ(judged(told, "10:10").state, State::due);
  const ToldCase then({born_at_ten, "10:01 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow use=prevention", first,
                       "11:00 finding what=bleeding value=heavy"});
  EXPECT_EQ(judged(then, "11:00").state, State::most_given);
}

// ---- The second gram ------------------------------------------------------------------------------------------------

TEST(Tranexamic, a_second_gram_is_due_from_thirty_minutes_when_bleeding_goes_on) {
  const std::initializer_list<std::string_view> lines{born_at_ten, first, "10:40 finding what=bleeding value=heavy"};
  EXPECT_EQ(state(lines, "10:49:59"), State::second_too_early);
  EXPECT_EQ(state(lines, "10:50"), State::second_due);
  EXPECT_EQ(state(lines, "14:30"), State::second_due) << "the second is not held to the window";
  EXPECT_EQ(judged(ToldCase(lines), "10:50").second_from, clock("10:50"));
}

TEST(Tranexamic, bleeding_last_seen_before_the_first_gram_is_not_known_to_go_on) {
  const std::initializer_list<std::string_view> lines{born_at_ten, "10:19 finding what=bleeding value=heavy", first};
  EXPECT_EQ(state(lines, "10:49"), State::second_too_early);
  EXPECT_EQ(state(lines, "10:50"), State::second_unknown);
  EXPECT_EQ(state({born_at_ten, first, "10:20 finding what=bleeding value=heavy"}, "10:50"), State::second_due);
  EXPECT_EQ(state({born_at_ten, first, "10:30 finding what=bleeding value=unseen"}, "10:50"), State::second_unknown);
}

TEST(Tranexamic, light_bleeding_is_looked_at_again_past_the_wait_and_then_judged_at_the_bedside) {
  EXPECT_EQ(state({born_at_ten, first, "10:20 finding what=bleeding value=light"}, "10:49"), State::second_too_early);
  EXPECT_EQ(state({born_at_ten, first, "10:20 finding what=bleeding value=light"}, "10:50"), State::second_unknown);
  EXPECT_EQ(state({born_at_ten, first, "10:49 finding what=bleeding value=light"}, "10:50"), State::second_unknown);
  EXPECT_EQ(state({born_at_ten, first, "10:50 finding what=bleeding value=light"}, "10:50"), State::second_light);
  ToldCase told(
      {born_at_ten, first, "10:30 finding what=bleeding value=none", "10:55 finding what=bleeding value=light"});
  EXPECT_EQ(judged(told, "11:00").state, State::second_light) << "started again, but only so";
  told.tell("11:05 finding what=bleeding value=heavy");
  EXPECT_EQ(judged(told, "11:10").state, State::second_due);
  EXPECT_EQ(word(State::second_light), "second_light");
}

TEST(Tranexamic, bleeding_that_stopped_needs_no_second_gram) {
  EXPECT_EQ(state({born_at_ten, first, "10:30 finding what=bleeding value=none"}, "11:00"), State::given);
  EXPECT_EQ(state({born_at_ten, first, "10:30 outcome what=bleeding_stopped"}, "11:00"), State::given);
  EXPECT_EQ(
      state({born_at_ten, first, "10:30 finding what=bleeding value=ongoing", "10:30 outcome what=bleeding_stopped"},
            "11:00"),
      State::given);
  EXPECT_EQ(state({born_at_ten, first, "10:30 outcome what=recovered"}, "11:00"), State::second_unknown);
}

TEST(Tranexamic, bleeding_that_starts_again_within_a_day_of_completion_brings_the_second) {
  ToldCase told({born_at_ten, "10:20 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow state=started",
                 "10:30 drug drug=tranexamic_acid state=finished", "11:00 finding what=bleeding value=none"});
  EXPECT_EQ(judged(told, "33:00").state, State::given);
  EXPECT_EQ(judged(told, "33:00").first_completed_at, clock("10:30"));
  EXPECT_EQ(judged(told, "33:00").restart_until, clock("34:30"));
  ToldCase in_time = told;
  in_time.tell("34:30 finding what=bleeding value=heavy");
  EXPECT_EQ(judged(in_time, "34:35").state, State::second_due);
  EXPECT_TRUE(judged(in_time, "34:35").started_again);
  EXPECT_EQ(judged(in_time, "34:35").bleeding_since, clock("34:30"));
  ToldCase too_late = told;
  too_late.tell("34:31 finding what=bleeding value=heavy");
  EXPECT_EQ(judged(too_late, "34:35").state, State::second_not_by_rule);
}

TEST(Tranexamic, an_unseen_look_between_stopped_and_bleeding_still_is_a_new_start) {
  const Tranexamic t =
      judged(ToldCase({born_at_ten, first, "10:30 finding what=bleeding value=none",
                       "10:40 finding what=bleeding value=unseen", "10:50 finding what=bleeding value=heavy"}),
             "11:00");
  EXPECT_TRUE(t.started_again);
  EXPECT_EQ(t.bleeding_since, clock("10:50"));
}

TEST(Tranexamic, completion_is_recorded_or_by_stated_length_or_ten_minutes) {
  EXPECT_EQ(judged(ToldCase({born_at_ten, first}), "11:00").first_completed_at, clock("10:30"));
  EXPECT_EQ(
      judged(ToldCase({born_at_ten, "10:20 drug drug=tranexamic_acid dose=1 unit=g infusion=100ml/20min"}), "11:00")
          .first_completed_at,
      clock("10:40"));
}

TEST(Tranexamic, a_ward_may_count_the_wait_from_completion_and_hold_the_second_to_the_window) {
  const auto completion = support::ward_protocol(R"({"tranexamic.second_from": "completion"})");
  EXPECT_EQ(judged(ToldCase({born_at_ten, first}, completion), "10:50").second_from, clock("11:00"));
  const auto window = support::ward_protocol(R"({"tranexamic.second_in_window": "yes"})");
  const ToldCase told({born_at_ten, first, "12:00 finding what=bleeding value=heavy"}, window);
  EXPECT_EQ(judged(told, "13:00").state, State::second_due);
  EXPECT_EQ(judged(told, "13:00:01").state, State::second_not_by_rule);
}

TEST(Tranexamic, after_two_grams_no_more) {
  EXPECT_EQ(state({born_at_ten, first, gram_at("10:55"), "11:00 finding what=bleeding value=heavy"}, "11:30"),
            State::most_given);
}

// ---- The verdict on a dose ------------------------------------------------------------------------------------------

TEST(GiveTranexamic, first_dose_by_the_window) {
  const ToldCase told({born_at_ten});
  EXPECT_EQ(verdict_on(told, gram_at("12:59")).permission, Permission::allowed);
  EXPECT_EQ(verdict_on(told, gram_at("13:00")).permission, Permission::allowed);
  const Verdict late = verdict_on(told, gram_at("13:01"));
  EXPECT_EQ(late.permission, Permission::needs_override);
  EXPECT_EQ(late.reasons[0].id, "after_window");
  EXPECT_EQ(late.reasons[0].rule, "TXA-6");
  EXPECT_EQ(late.reasons[0].seen, 181);
}

TEST(GiveTranexamic, an_estimated_birth_is_noted_and_an_unknown_one_asked_for) {
  const Verdict estimated =
      verdict_on(ToldCase({"10:00 opened birth_at=09:30 birth_estimated=true cautions=none"}), gram_at("12:20"));
  EXPECT_EQ(estimated.permission, Permission::allowed);
  ASSERT_EQ(estimated.reasons.size(), 1U);
  EXPECT_EQ(estimated.reasons[0].id, "birth_time_estimated");
  const Verdict unknown = verdict_on(ToldCase({"10:00 opened birth_mode=vaginal cautions=none"}), gram_at("12:20"));
  EXPECT_EQ(unknown.permission, Permission::warned);
  EXPECT_TRUE(asks(unknown, "ask_birth_time"));
}

TEST(GiveTranexamic, second_dose_too_early_due_and_not_bleeding) {
  const ToldCase told({born_at_ten, first, "10:40 finding what=bleeding value=heavy"});
  const Verdict early = verdict_on(told, gram_at("10:49"));
  EXPECT_EQ(early.permission, Permission::needs_override);
  EXPECT_EQ(early.reasons[0].id, "second_too_early");
  EXPECT_EQ(early.reasons[0].seen, 29);
  EXPECT_EQ(early.allowed_at, clock("10:50"));
  EXPECT_TRUE(early.second_person);
  const Verdict due = verdict_on(told, gram_at("10:50"));
  EXPECT_EQ(due.permission, Permission::allowed);
  EXPECT_TRUE(due.reasons.empty());
  EXPECT_TRUE(due.second_person);
  EXPECT_FALSE(verdict_on(told, gram_at("10:50") + " second=doctor").second_person);
  const Verdict dry =
      verdict_on(ToldCase({born_at_ten, first, "10:40 finding what=bleeding value=none"}), gram_at("10:50"));
  EXPECT_EQ(dry.permission, Permission::needs_override);
  EXPECT_EQ(dry.reasons[0].id, "not_bleeding");
  EXPECT_FALSE(dry.allowed_at);
}

TEST(GiveTranexamic, second_dose_with_bleeding_unknown_warns_and_asks) {
  const Verdict verdict = verdict_on(ToldCase({born_at_ten, first}), gram_at("10:50"));
  EXPECT_EQ(verdict.permission, Permission::warned);
  EXPECT_TRUE(asks(verdict, "ask_bleeding"));
}

TEST(GiveTranexamic, second_dose_after_a_late_restart_is_not_by_rule) {
  const ToldCase told(
      {born_at_ten, first, "11:00 finding what=bleeding value=none", "34:31 finding what=bleeding value=heavy"});
  const Verdict verdict = verdict_on(told, gram_at("34:40"));
  EXPECT_EQ(verdict.permission, Permission::needs_override);
  EXPECT_EQ(verdict.reasons[0].id, "second_not_by_rule");
  EXPECT_FALSE(verdict.allowed_at);
}

TEST(GiveTranexamic, two_grams_are_the_most) {
  const Verdict verdict = verdict_on(
      ToldCase({born_at_ten, first, gram_at("10:55"), "11:00 finding what=bleeding value=heavy"}), gram_at("11:30"));
  EXPECT_EQ(verdict.permission, Permission::needs_override);
  ASSERT_NE(reason(verdict, "ceiling_doses"), nullptr);
  EXPECT_EQ(reason(verdict, "ceiling_doses")->rule, "TXA-5");
  EXPECT_EQ(reason(verdict, "ceiling_total")->seen, 3);
}

TEST(GiveTranexamic, one_gram_in_less_than_ten_minutes_is_too_fast) {
  const ToldCase told({born_at_ten});
  EXPECT_EQ(verdict_on(told, "10:30 drug drug=tranexamic_acid dose=1 unit=g route=iv_infusion infusion=100ml/10min")
                .permission,
            Permission::allowed);
  const Verdict fast =
      verdict_on(told, "10:30 drug drug=tranexamic_acid dose=1 unit=g route=iv_infusion infusion=100ml/9min");
  EXPECT_EQ(fast.permission, Permission::warned);
  EXPECT_EQ(fast.reasons[0].id, "too_fast");
  EXPECT_EQ(fast.reasons[0].rule, "TXA-3");
}

TEST(Tranexamic, figures_name_state_and_moments) {
  const Json json = to_json(judged(ToldCase({born_at_ten, first}), "10:30"));
  EXPECT_EQ(json["state"], "second_too_early");
  EXPECT_EQ(json["doses"], 1);
  EXPECT_EQ(json["second_from"], to_text(clock("10:50")));
  EXPECT_EQ(json["window_closes_at"], to_text(clock("13:00")));
  EXPECT_FALSE(json.contains("bleeding_since"));
}

}  // namespace
}  // namespace stanch::care

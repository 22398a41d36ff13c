#include "stanch/care/prompts.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::care {
namespace {

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }
const Moment start = *parse_moment("2031-05-06T10:00:00Z");

Moment after(double minutes) { return start + Duration::minutes(minutes); }
Moment just_before(Moment moment) { return moment - Duration::milliseconds(1); }

Prompt prompt_of(Priority priority) { return {"reclose_all", priority, start, start, std::nullopt}; }

std::vector<std::string> roles(const PromptState& state) {
  std::vector<std::string> out;
  for (const Told& one : state.told) out.push_back(one.role);
  return out;
}
using Words = std::vector<std::string>;

Due due_row(const char* id, Priority priority, Standing standing) {
  Due due;
  due.id = id;
  due.priority = priority;
  due.standing = standing;
  return due;
}

Advice advice_of(Moment now, std::vector<Due> due) {
  Advice advice;
  advice.now = now;
  advice.due = std::move(due);
  return advice;
}

// Source: IEC 60601-1-8, table of priorities (from memory).
TEST(Priority, follows_from_harm_and_speed) {
  const auto of = [](Harm harm, Onset onset) { return priority_of(harm, onset, shipped()); };
  EXPECT_EQ(of(Harm::death_or_irreversible, Onset::immediate), Priority::high);
  EXPECT_EQ(of(Harm::death_or_irreversible, Onset::prompt), Priority::high);
  EXPECT_EQ(of(Harm::death_or_irreversible, Onset::delayed), Priority::medium);
  EXPECT_EQ(of(Harm::reversible, Onset::immediate), Priority::high);
  EXPECT_EQ(of(Harm::reversible, Onset::prompt), Priority::medium);
  EXPECT_EQ(of(Harm::reversible, Onset::delayed), Priority::low);
  EXPECT_EQ(of(Harm::minor, Onset::immediate), Priority::medium);
  EXPECT_EQ(of(Harm::minor, Onset::prompt), Priority::low);
  EXPECT_EQ(of(Harm::minor, Onset::delayed), Priority::low);
}

TEST(Priority, is_read_from_a_row_of_the_protocol) {
  EXPECT_EQ(priority_of(protocol::key::prompt_priority_relapse, shipped()), Priority::high);
  EXPECT_EQ(priority_of(protocol::key::prompt_priority_reading_overdue, shipped()), Priority::medium);
  EXPECT_EQ(priority_of(protocol::key::prompt_priority_drill_due, shipped()), Priority::low);
}

// Source: IEC 60601-1-8 signal table; WCAG 2.2, 2.3.1, three flashes a second (both from memory).
TEST(Signal, of_a_high_prompt_flashes_within_the_convention_and_below_the_safe_limit) {
  const Signal high = signal_of(Priority::high, shipped());
  EXPECT_GE(high.flash_hz, 1.4);
  EXPECT_LE(high.flash_hz, 2.8);
  EXPECT_LE(high.flash_hz, 3.0);
  EXPECT_GE(high.duty, 0.2);
  EXPECT_LE(high.duty, 0.6);
  EXPECT_EQ(high.rhythm, (std::vector<double>{3, 2, 3, 2}));
  EXPECT_GE(high.pulse_ms, 75);
  EXPECT_LE(high.pulse_ms, 200);
  ASSERT_TRUE(high.repeat_s.has_value());
  EXPECT_GE(*high.repeat_s, 2.5);
  EXPECT_LE(*high.repeat_s, 15);
}

TEST(Signal, of_a_medium_prompt_is_steady_and_falls_silent) {
  const Signal medium = signal_of(Priority::medium, shipped());
  EXPECT_EQ(medium.flash_hz, 0);
  EXPECT_EQ(medium.duty, 1);
  EXPECT_EQ(medium.rhythm, std::vector<double>{3});
  EXPECT_GE(medium.pulse_ms, 125);
  EXPECT_LE(medium.pulse_ms, 250);
  EXPECT_FALSE(medium.repeat_s.has_value());
  EXPECT_EQ(medium.repeats_min, (std::vector<double>{0, 1, 3, 5}));
}

TEST(Signal, of_a_low_prompt_is_silent_unless_the_ward_wants_it) {
  const Signal low = signal_of(Priority::low, shipped());
  EXPECT_TRUE(low.rhythm.empty());
  EXPECT_EQ(low.flash_hz, 0);
  const Json ward{{"protocol", {{"name", "Ward"}, {"version", "1"}}},
                  {"approved", {{"by", "A. Senior"}, {"role", "obstetrician"}, {"on", "2031-04-01"}}},
                  {"values", {{"prompt.low_sounds", "yes"}}}};
  const auto changed = shipped().with_ward_file(ward);
  ASSERT_TRUE(changed.has_value());
  EXPECT_EQ(signal_of(Priority::low, *changed).rhythm, std::vector<double>{1});
  EXPECT_GE(signal_of(Priority::low, *changed).pulse_ms, 125);
}

TEST(Prompt, high_unseen_goes_to_lead_at_once_second_at_two_minutes_next_level_at_five) {
  const PromptLog log;
  const Prompt high = prompt_of(Priority::high);
  PromptState state = prompt_state(high, log, start, shipped());
  EXPECT_TRUE(state.raised);
  EXPECT_EQ(roles(state), Words{"team_lead"});
  EXPECT_EQ(state.next, after(2));
  state = prompt_state(high, log, just_before(after(2)), shipped());
  EXPECT_EQ(roles(state), Words{"team_lead"});
  state = prompt_state(high, log, after(2), shipped());
  EXPECT_EQ(roles(state), (Words{"team_lead", "second_person"}));
  EXPECT_EQ(state.told.back().at, after(2));
  EXPECT_EQ(state.next, after(5));
  state = prompt_state(high, log, just_before(after(5)), shipped());
  EXPECT_EQ(state.told.size(), 2U);
  state = prompt_state(high, log, after(5), shipped());
  EXPECT_EQ(roles(state), (Words{"team_lead", "second_person", "next_level"}));
  EXPECT_FALSE(state.next.has_value());
}

TEST(Prompt, medium_unseen_goes_up_at_ten_twenty_and_thirty_minutes) {
  const PromptLog log;
  const Prompt medium = prompt_of(Priority::medium);
  EXPECT_TRUE(prompt_state(medium, log, just_before(after(10)), shipped()).told.empty());
  EXPECT_EQ(prompt_state(medium, log, after(10), shipped()).told.size(), 1U);
  EXPECT_EQ(prompt_state(medium, log, just_before(after(20)), shipped()).told.size(), 1U);
  EXPECT_EQ(prompt_state(medium, log, after(20), shipped()).told.size(), 2U);
  EXPECT_EQ(prompt_state(medium, log, just_before(after(30)), shipped()).told.size(), 2U);
  EXPECT_EQ(prompt_state(medium, log, after(30), shipped()).told.size(), 3U);
}

TEST(Prompt, low_is_told_to_nobody) {
  const PromptState state = prompt_state(prompt_of(Priority::low), {}, after(600), shipped());
  EXPECT_TRUE(state.raised);
  EXPECT_TRUE(state.told.empty());
  EXPECT_FALSE(state.next.has_value());
}

TEST(Prompt, seen_quiets_for_its_time_and_then_it_is_raised_again_with_its_own_chain) {
  const PromptLog log{.prompts = {}, .seen = {{"reclose_all", "S. Orin", after(0.5)}}, .held_back = {}};
  const Prompt high = prompt_of(Priority::high);
  EXPECT_TRUE(prompt_state(high, log, just_before(after(0.5)), shipped()).raised);
  PromptState state = prompt_state(high, log, after(0.5), shipped());
  EXPECT_TRUE(state.shown);
  EXPECT_FALSE(state.raised);
  EXPECT_EQ(state.seen_by, "S. Orin");
  EXPECT_EQ(state.next, start + Duration::seconds(150));
  EXPECT_FALSE(prompt_state(high, log, just_before(start + Duration::seconds(150)), shipped()).raised);
  state = prompt_state(high, log, start + Duration::seconds(150), shipped());
  EXPECT_TRUE(state.raised);
  EXPECT_TRUE(state.seen_by.empty());
  EXPECT_EQ(roles(state), Words{"team_lead"});
  EXPECT_EQ(state.raised_at, start + Duration::seconds(150));
  EXPECT_EQ(state.next, start + Duration::seconds(270));
}

TEST(Prompt, medium_seen_stays_quiet_ten_minutes_and_low_for_good) {
  const PromptLog log{.prompts = {}, .seen = {{"reclose_all", "S. Orin", after(1)}}, .held_back = {}};
  EXPECT_FALSE(prompt_state(prompt_of(Priority::medium), log, just_before(after(11)), shipped()).raised);
  EXPECT_TRUE(prompt_state(prompt_of(Priority::medium), log, after(11), shipped()).raised);
  const PromptState low = prompt_state(prompt_of(Priority::low), log, after(600), shipped());
  EXPECT_TRUE(low.shown);
  EXPECT_FALSE(low.raised);
  EXPECT_FALSE(low.next.has_value());
}

TEST(Prompt, the_newest_seeing_counts_whatever_the_order_of_the_list) {
  const PromptLog log{.prompts = {},
                      .seen = {{"reclose_all", "T. Vell", after(3)}, {"reclose_all", "S. Orin", after(1)}},
                      .held_back = {}};
  const PromptState state = prompt_state(prompt_of(Priority::high), log, after(4), shipped());
  EXPECT_FALSE(state.raised);
  EXPECT_EQ(state.seen_by, "T. Vell");
  EXPECT_EQ(state.next, after(5));
}

TEST(Prompt, a_rise_in_priority_raises_it_again_though_it_was_seen) {
  Prompt prompt = prompt_of(Priority::high);
  prompt.priority_since = after(3);
  const PromptLog log{.prompts = {}, .seen = {{"reclose_all", "S. Orin", after(2)}}, .held_back = {}};
  const PromptState state = prompt_state(prompt, log, after(3), shipped());
  EXPECT_TRUE(state.raised);
  EXPECT_EQ(state.raised_at, after(3));
}

TEST(Prompt, seeing_another_cause_does_not_quiet_this_one) {
  const PromptLog log{.prompts = {}, .seen = {{"take_vitals", "S. Orin", start}}, .held_back = {}};
  EXPECT_TRUE(prompt_state(prompt_of(Priority::high), log, after(1), shipped()).raised);
}

TEST(Prompt, over_but_unseen_stays_shown_without_sound_until_seen) {
  Prompt over = prompt_of(Priority::high);
  over.ended = after(4);
  PromptState state = prompt_state(over, {}, after(4), shipped());
  EXPECT_TRUE(state.shown);
  EXPECT_TRUE(state.latched);
  EXPECT_FALSE(state.raised);
  const PromptLog log{.prompts = {}, .seen = {{"reclose_all", "S. Orin", after(6)}}, .held_back = {}};
  EXPECT_TRUE(prompt_state(over, log, after(5), shipped()).latched);
  state = prompt_state(over, log, after(6), shipped());
  EXPECT_FALSE(state.shown);
  EXPECT_FALSE(state.latched);
  EXPECT_TRUE(prompt_state(over, {}, just_before(after(4)), shipped()).raised);
}

TEST(Prompt, held_back_is_quiet_until_the_stated_end_and_says_why) {
  const PromptLog log{
      .prompts = {}, .seen = {}, .held_back = {{"reclose_all", "in theatre, opened on purpose", after(1), after(20)}}};
  const Prompt high = prompt_of(Priority::high);
  EXPECT_TRUE(prompt_state(high, log, just_before(after(1)), shipped()).raised);
  PromptState state = prompt_state(high, log, after(1), shipped());
  EXPECT_TRUE(state.shown);
  EXPECT_FALSE(state.raised);
  EXPECT_EQ(state.held_back_for, "in theatre, opened on purpose");
  EXPECT_EQ(state.next, after(20));
  EXPECT_FALSE(prompt_state(high, log, just_before(after(20)), shipped()).raised);
  state = prompt_state(high, log, after(20), shipped());
  EXPECT_TRUE(state.raised);
  EXPECT_EQ(state.raised_at, after(20));
  EXPECT_EQ(roles(state), Words{"team_lead"});
}

TEST(Prompt, of_two_holds_the_longer_counts_and_another_cause_is_not_held) {
  const PromptLog log{.prompts = {},
                      .seen = {},
                      .held_back = {{"reclose_all", "first", start, after(30)},
                                    {"reclose_all", "second", start, after(10)},
                                    {"take_vitals", "third", start, after(60)}}};
  EXPECT_EQ(prompt_state(prompt_of(Priority::high), log, after(5), shipped()).held_back_for, "first");
  EXPECT_TRUE(prompt_state(prompt_of(Priority::high), log, after(30), shipped()).raised);
}

TEST(Follow, makes_prompts_of_what_is_overdue_late_or_high_and_of_weighty_notices) {
  Advice advice = advice_of(
      start, {due_row("soon_high", Priority::high, Standing::soon), due_row("due_high", Priority::high, Standing::due),
              due_row("due_medium", Priority::medium, Standing::due),
              due_row("overdue_medium", Priority::medium, Standing::overdue),
              due_row("late_low", Priority::low, Standing::late)});
  advice.notices = {{"answer_changed", "e1", Priority::medium, {}}, {"caveat", "", Priority::low, {}}};
  Words causes;
  for (const Prompt& prompt : follow({}, advice)) causes.push_back(prompt.cause);
  EXPECT_EQ(causes, (Words{"due_high", "overdue_medium", "late_low", "answer_changed:e1"}));
}

TEST(Follow, keeps_one_prompt_a_cause_and_raises_it_once_when_it_worsens) {
  std::vector<Prompt> prompts =
      follow({}, advice_of(start, {due_row("take_vitals", Priority::medium, Standing::overdue)}));
  prompts = follow(prompts, advice_of(after(1), {due_row("take_vitals", Priority::medium, Standing::overdue)}));
  ASSERT_EQ(prompts.size(), 1U);
  EXPECT_EQ(prompts[0].priority_since, start);
  prompts = follow(prompts, advice_of(after(5), {due_row("take_vitals", Priority::high, Standing::overdue)}));
  prompts = follow(prompts, advice_of(after(6), {due_row("take_vitals", Priority::high, Standing::late)}));
  ASSERT_EQ(prompts.size(), 1U);
  EXPECT_EQ(prompts[0].priority, Priority::high);
  EXPECT_EQ(prompts[0].first_held, start);
  EXPECT_EQ(prompts[0].priority_since, after(5));
  // Falling back does not raise it again, and rising again does.
  prompts = follow(prompts, advice_of(after(7), {due_row("take_vitals", Priority::medium, Standing::overdue)}));
  EXPECT_EQ(prompts[0].priority, Priority::medium);
  EXPECT_EQ(prompts[0].priority_since, after(5));
}

TEST(Follow, ends_a_prompt_when_its_cause_is_gone_and_begins_anew_when_it_returns) {
  std::vector<Prompt> prompts =
      follow({}, advice_of(start, {due_row("take_vitals", Priority::medium, Standing::overdue)}));
  prompts = follow(prompts, advice_of(after(2), {}));
  ASSERT_EQ(prompts.size(), 1U);
  EXPECT_EQ(prompts[0].ended, after(2));
  prompts = follow(prompts, advice_of(after(3), {}));
  EXPECT_EQ(prompts[0].ended, after(2));
  prompts = follow(prompts, advice_of(after(9), {due_row("take_vitals", Priority::medium, Standing::overdue)}));
  ASSERT_EQ(prompts.size(), 1U);
  EXPECT_FALSE(prompts[0].ended.has_value());
  EXPECT_EQ(prompts[0].first_held, after(9));
  EXPECT_EQ(prompts[0].priority_since, after(9));
}

TEST(SoundPause, two_minutes_is_allowed_and_more_is_refused) {
  EXPECT_EQ(may_pause_sound(Duration::minutes(2), Priority::high, shipped()).permission, Permission::allowed);
  const Verdict longer = may_pause_sound(Duration::minutes(2) + Duration::milliseconds(1), Priority::low, shipped());
  EXPECT_EQ(longer.permission, Permission::never);
  EXPECT_EQ(longer.reasons[0].id, "sound_pause_too_long");
}

TEST(SoundPause, never_for_good_while_a_high_prompt_stands) {
  EXPECT_EQ(may_pause_sound(std::nullopt, Priority::high, shipped()).permission, Permission::never);
  EXPECT_EQ(may_pause_sound(std::nullopt, Priority::medium, shipped()).permission, Permission::allowed);
}

TEST(HoldBack, needs_a_reason_and_an_end) {
  EXPECT_EQ(may_hold_back({"reclose_all", "in theatre", start, after(20)}).permission, Permission::allowed);
  EXPECT_EQ(may_hold_back({"reclose_all", "", start, after(20)}).reasons.at(0).id, "hold_needs_a_reason");
  const Verdict endless = may_hold_back({"reclose_all", "in theatre", start, start});
  EXPECT_EQ(endless.permission, Permission::never);
  EXPECT_EQ(endless.reasons.at(0).id, "hold_needs_an_end");
}

TEST(PromptState, is_written_with_its_chain) {
  const Json json = to_json(prompt_state(prompt_of(Priority::high), {}, after(2), shipped()));
  EXPECT_EQ(json.at("told").at(1).at("role"), "second_person");
  EXPECT_EQ(json.at("next"), "2031-05-06T10:05:00Z");
  EXPECT_EQ(json.at("raised"), true);
  EXPECT_FALSE(json.contains("seen_by"));
}

TEST(Words, of_harm_and_onset_are_the_enumerators) {
  EXPECT_EQ(word(Harm::death_or_irreversible), "death_or_irreversible");
  EXPECT_EQ(word(Harm::reversible), "reversible");
  EXPECT_EQ(word(Harm::minor), "minor");
  EXPECT_EQ(word(Onset::immediate), "immediate");
  EXPECT_EQ(word(Onset::prompt), "prompt");
  EXPECT_EQ(word(Onset::delayed), "delayed");
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/phase.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

// Expected values: common practice, no source, unless a line says otherwise.
namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

constexpr Duration a_moment = Duration::milliseconds(1);

PhaseNow at(const PhaseInputs& in, std::string_view now = "10:00") {
  return phase_now(in, clock(now), protocol::Protocol::shipped());
}

/// "phase: schedule schedule", strictest last.
std::string shown(const PhaseNow& phase) {
  std::string out = std::string(word(phase.phase)) + ":";
  for (std::size_t i = 0; i < n_schedules; ++i)
    if (phase.since[i]) out += " " + std::string(word(static_cast<Schedule>(i)));
  return out;
}

std::optional<Moment> since(const PhaseNow& phase, Schedule schedule) {
  return phase.since[static_cast<std::size_t>(schedule)];
}

PhaseInputs born_at(const char* time) {
  PhaseInputs in;
  in.born = Tri::yes;
  in.birth_at = clock(time);
  in.opened_at = clock("04:00");
  return in;
}

PhaseInputs bleeding() {
  PhaseInputs in = born_at("05:00");
  in.triggered = Tri::yes;
  in.triggered_at = clock("09:50");
  in.bleeding = Tri::yes;
  in.heavy = true;
  in.bleeding_at = clock("09:55");
  return in;
}

PhaseInputs stopped() {
  PhaseInputs in = bleeding();
  in.bleeding = Tri::no;
  in.heavy = false;
  in.stopped_at = clock("09:40");
  return in;
}

PhaseInputs wrapped() {
  PhaseInputs in = bleeding();
  in.heavy = false;
  in.garment_on = true;
  in.placed_at = clock("09:52");
  return in;
}

TEST(Phase, routine_lasts_two_hours_from_birth_and_announces_its_end) {
  EXPECT_EQ(shown(at(born_at("08:01"))), "watchful: routine");
  const PhaseNow edge = at(born_at("08:00"));
  EXPECT_EQ(shown(edge), "watchful: routine");
  EXPECT_EQ(edge.changes_at, clock("10:00") + a_moment);
  EXPECT_EQ(at(born_at("08:30")).changes_at, clock("10:30"));
  EXPECT_EQ(since(edge, Schedule::routine), clock("08:00"));
  const PhaseNow over = phase_now(born_at("08:00"), clock("10:00") + a_moment, protocol::Protocol::shipped());
  EXPECT_EQ(shown(over), "watchful:");
  EXPECT_FALSE(over.changes_at.has_value());
}

TEST(Phase, without_a_birth_time_routine_counts_from_the_opening_of_the_case) {
  PhaseInputs in;
  EXPECT_EQ(shown(at(in)), "watchful:");
  in.opened_at = clock("09:00");
  EXPECT_EQ(shown(at(in)), "watchful: routine");
  in.born = Tri::no;
  EXPECT_EQ(shown(at(in)), "watchful:");
}

TEST(Phase, nobody_looked_is_not_the_same_as_not_bleeding) {
  PhaseInputs in = born_at("05:00");
  EXPECT_EQ(at(in).phase, Phase::watchful);
  in.bleeding = Tri::no;
  EXPECT_EQ(at(in).phase, Phase::not_bleeding);
}

TEST(Phase, past_the_trigger_is_active_until_it_is_known_to_have_stopped) {
  PhaseInputs in = bleeding();
  EXPECT_EQ(shown(at(in)), "active_bleed: active");
  EXPECT_EQ(since(at(in), Schedule::active), clock("09:50"));
  in.heavy = false;
  EXPECT_EQ(shown(at(in)), "active_bleed: active");
  in.bleeding = Tri::unknown;
  EXPECT_EQ(shown(at(in)), "active_bleed: active");
  in.triggered_at.reset();
  EXPECT_EQ(since(at(in), Schedule::active), clock("09:55"));
}

TEST(Phase, heavy_bleeding_is_active_before_anything_was_measured) {
  for (const Tri triggered : {Tri::unknown, Tri::no}) {
    PhaseInputs in = bleeding();
    in.triggered = triggered;
    EXPECT_EQ(shown(at(in)), "active_bleed: active");
    EXPECT_EQ(since(at(in), Schedule::active), clock("09:55"));
    in.heavy = false;
    EXPECT_EQ(shown(at(in)), "watchful: raised");
    EXPECT_EQ(since(at(in), Schedule::raised), clock("09:55"));
  }
}

TEST(Phase, some_loss_or_a_raised_index_is_watched_more_closely_than_routine) {
  PhaseInputs in = born_at("09:00");
  in.raised = Tri::yes;
  in.raised_at = clock("09:30");
  EXPECT_EQ(shown(at(in)), "watchful: routine raised");
  EXPECT_EQ(since(at(in), Schedule::raised), clock("09:30"));
  in.raised = Tri::unknown;
  EXPECT_EQ(shown(at(in)), "watchful: routine");
}

TEST(Phase, bleeding_before_birth_is_antepartum_and_watched_as_active) {
  PhaseInputs in;
  in.born = Tri::no;
  in.bleeding = Tri::yes;
  in.bleeding_at = clock("09:45");
  EXPECT_EQ(shown(at(in)), "antepartum: active");
  EXPECT_EQ(since(at(in), Schedule::active), clock("09:45"));
  in.bleeding = Tri::unknown;
  EXPECT_EQ(shown(at(in)), "watchful:");
}

TEST(Phase, after_control_lasts_a_day_from_when_it_stopped) {
  PhaseNow now = at(stopped());
  EXPECT_EQ(shown(now), "after_control: after");
  EXPECT_EQ(now.control_at, clock("09:40"));
  EXPECT_EQ(now.changes_at, clock("33:40"));
  EXPECT_EQ(shown(at(stopped(), "33:40")), "after_control: after");
  now = phase_now(stopped(), clock("33:40") + a_moment, protocol::Protocol::shipped());
  EXPECT_EQ(shown(now), "not_bleeding:");
  EXPECT_EQ(now.control_at, clock("09:40"));
}

TEST(Phase, a_woman_who_never_reached_the_trigger_has_no_after_time) {
  PhaseInputs in = stopped();
  in.triggered = Tri::no;
  EXPECT_EQ(shown(at(in)), "not_bleeding:");
  EXPECT_FALSE(at(in).control_at.has_value());
}

TEST(Phase, a_raised_index_after_control_is_watched_by_the_stricter_schedule_too) {
  PhaseInputs in = stopped();
  in.raised = Tri::yes;
  EXPECT_EQ(shown(at(in)), "after_control: after raised");
}

TEST(Phase, garment_on_is_unstable_until_the_limits_are_met) {
  PhaseInputs in = wrapped();
  EXPECT_EQ(shown(at(in)), "wrapped_unstable: garment_unstable active");
  EXPECT_EQ(since(at(in), Schedule::garment_unstable), clock("09:52"));
  in.holding = true;
  EXPECT_EQ(shown(at(in)), "wrapped_stable: garment_stable");
  EXPECT_EQ(since(at(in), Schedule::garment_stable), clock("09:52"));
  in.raised = Tri::yes;
  EXPECT_EQ(shown(at(in)), "wrapped_stable: garment_stable");
}

TEST(Phase, heavy_bleeding_in_the_garment_is_not_stable_whatever_the_signs) {
  PhaseInputs in = wrapped();
  in.holding = true;
  in.heavy = true;
  EXPECT_EQ(shown(at(in)), "wrapped_unstable: garment_unstable active");
}

TEST(Phase, holding_signs_do_not_count_as_held_without_the_garment) {
  PhaseInputs in = bleeding();
  in.holding = true;
  in.heavy = false;
  EXPECT_EQ(shown(at(in)), "active_bleed: active");
}

TEST(Phase, taking_the_garment_off_has_its_own_schedule) {
  PhaseInputs in = wrapped();
  in.holding = true;
  in.bleeding = Tri::no;
  in.taking_off = true;
  in.opened_panel_at = clock("09:58");
  EXPECT_EQ(shown(at(in)), "unwrapping: removal");
  EXPECT_EQ(since(at(in), Schedule::removal), clock("09:58"));
}

TEST(Phase, the_after_time_starts_when_the_garment_is_off) {
  PhaseInputs in = stopped();
  in.garment_on = true;
  in.holding = true;
  EXPECT_EQ(shown(at(in)), "wrapped_stable: garment_stable");
  EXPECT_FALSE(at(in).control_at.has_value());
  in.garment_on = false;
  in.off_at = clock("09:55");
  EXPECT_EQ(shown(at(in)), "after_control: after");
  EXPECT_EQ(at(in).control_at, clock("09:55"));
  in.stopped_at = clock("09:58");
  EXPECT_EQ(at(in).control_at, clock("09:58"));
  // Worn for something short of the trigger, and nobody said that it stopped: still a day of watching.
  in.triggered = Tri::no;
  in.bleeding = Tri::unknown;
  in.stopped_at.reset();
  EXPECT_EQ(shown(at(in)), "after_control: after");
  in.bleeding = Tri::yes;
  EXPECT_EQ(shown(at(in)), "watchful: raised");
}

TEST(Phase, on_the_road_is_unstable_while_she_bleeds_or_the_garment_does_not_hold) {
  PhaseInputs in = stopped();
  in.on_the_road = true;
  in.left_at = clock("09:59");
  EXPECT_EQ(shown(at(in)), "on_the_road: after ambulance");
  EXPECT_EQ(since(at(in), Schedule::ambulance), clock("09:59"));
  in.raised = Tri::yes;
  EXPECT_EQ(shown(at(in)), "on_the_road: after raised ambulance_unstable");
  in = bleeding();
  in.on_the_road = true;
  EXPECT_EQ(shown(at(in)), "on_the_road: ambulance_unstable active");
  in = wrapped();
  in.on_the_road = true;
  in.bleeding = Tri::no;
  EXPECT_EQ(shown(at(in)), "on_the_road: garment_unstable ambulance_unstable");
  in.taking_off = true;
  EXPECT_EQ(shown(at(in)), "on_the_road: ambulance_unstable removal");
  in.taking_off = false;
  in.holding = true;
  EXPECT_EQ(shown(at(in)), "on_the_road: garment_stable ambulance");
}

TEST(Phase, theatre_names_the_phase_and_leaves_the_schedules) {
  PhaseInputs in = bleeding();
  in.in_theatre = true;
  EXPECT_EQ(shown(at(in)), "in_theatre: active");
  in.on_the_road = true;
  EXPECT_EQ(at(in).phase, Phase::in_theatre);
}

TEST(Phase, nothing_is_asked_after_the_end) {
  PhaseInputs in = bleeding();
  in.ended = true;
  EXPECT_EQ(shown(at(in)), "ended:");
}

TEST(Phase, a_schedule_without_a_recorded_beginning_begins_with_the_case_or_now) {
  PhaseInputs in;
  in.raised = Tri::yes;
  EXPECT_EQ(since(at(in), Schedule::raised), clock("10:00"));
  in.opened_at = clock("03:00");
  EXPECT_EQ(since(at(in), Schedule::raised), clock("03:00"));
}

TEST(Phase, schedules_are_found_by_their_word) {
  for (std::size_t i = 0; i < n_schedules; ++i)
    EXPECT_EQ(schedule_named(word(static_cast<Schedule>(i))), static_cast<Schedule>(i));
  EXPECT_FALSE(schedule_named("nothing").has_value());
}

TEST(StoppedSince, is_the_first_of_an_unbroken_run_of_looks) {
  const ToldCase none({"09:00 finding what=tone value=firm"});
  EXPECT_FALSE(stopped_since(none.at("12:00")).has_value());
  const ToldCase told({"09:00 finding what=bleeding value=heavy", "09:30 finding what=bleeding value=none",
                       "09:45 outcome what=bleeding_stopped", "10:00 finding what=bleeding value=none",
                       "10:30 finding what=bleeding value=light", "11:00 outcome what=bleeding_stopped",
                       "11:15 finding what=bleeding value=none"});
  EXPECT_FALSE(stopped_since(told.at("09:29")).has_value());
  EXPECT_EQ(stopped_since(told.at("09:30")), clock("09:30"));
  EXPECT_EQ(stopped_since(told.at("10:15")), clock("09:30"));
  EXPECT_FALSE(stopped_since(told.at("10:30")).has_value());
  EXPECT_EQ(stopped_since(told.at("12:00")), clock("11:00"));
}

}  // namespace
}  // namespace stanch::care

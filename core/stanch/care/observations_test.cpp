#include "stanch/care/observations.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/support/told_case.hpp"

// Intervals: state guideline on obstetric haemorrhage, staged chart (read in a copy) for active bleeding; the overdue
// factor and the rest: common practice, no source.
namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

constexpr Duration a_moment = Duration::milliseconds(1);

PhaseNow phase_with(std::initializer_list<std::pair<Schedule, const char*>> schedules) {
  PhaseNow out;
  out.phase = Phase::watchful;
  for (const auto& [schedule, since] : schedules) out.since[static_cast<std::size_t>(schedule)] = clock(since);
  return out;
}

Advice advice_at(const ToldCase& told, const PhaseNow& phase, std::string_view now, LookLimits limits = {}) {
  const View view = told.at(now);
  AdviceBuilder out(view.now());
  advise_observations(observations(view, phase, limits), view, out);
  return std::move(out).finish();
}

/// "take_vitals overdue medium" a row, in rank order.
std::string rows(const Advice& advice) {
  std::string out;
  for (const Due& due : advice.due)
    out += due.id + " " + std::string(word(due.standing)) + " " + std::string(word(due.priority)) + "; ";
  return out;
}

const Due* row(const Advice& advice, std::string_view id) {
  const auto it = std::find_if(advice.due.begin(), advice.due.end(), [&](const Due& d) { return d.id == id; });
  return it == advice.due.end() ? nullptr : &*it;
}

LookDue look(const ToldCase& told, const PhaseNow& phase, Look which, std::string_view now, LookLimits limits = {}) {
  const auto found = observations(told.at(now), phase, limits).of(which);
  EXPECT_TRUE(found.has_value());
  return found.value_or(LookDue{});
}

TEST(LookDue, is_due_at_the_interval_and_overdue_past_one_and_a_half_times_it) {
  const LookDue due = look_due(clock("10:05"), protocol::key::observe_active_core, protocol::Protocol::shipped());
  EXPECT_EQ(due.since(), clock("10:00"));
  EXPECT_EQ(due.overdue_at, clock("10:07:30"));
  EXPECT_EQ(due.standing(clock("10:05") - a_moment), Standing::soon);
  EXPECT_EQ(due.standing(clock("10:05")), Standing::due);
  EXPECT_EQ(due.standing(clock("10:07:30")), Standing::due);
  EXPECT_EQ(due.standing(clock("10:07:30") + a_moment), Standing::overdue);
  EXPECT_EQ(due.standing(clock("10:08")), Standing::overdue);
}

TEST(LookDue, past_due_is_never_negative) {
  const LookDue due = look_due(clock("10:05"), protocol::key::observe_active_core, protocol::Protocol::shipped());
  EXPECT_EQ(due.past_due(clock("10:00")), Duration{});
  EXPECT_EQ(due.past_due(clock("10:05")), Duration{});
  EXPECT_EQ(due.past_due(clock("10:08")), Duration::minutes(3));
}

TEST(Observations, the_pair_counts_from_the_older_of_pulse_and_pressure) {
  const PhaseNow active = phase_with({{Schedule::active, "09:00"}});
  const ToldCase both({"10:00 vitals pulse=110 sbp=95"});
  EXPECT_EQ(look(both, active, Look::core, "10:02").due_at, clock("10:05"));
  const ToldCase apart({"10:00 vitals pulse=110 sbp=95", "10:04 vitals pulse=112"});
  EXPECT_EQ(look(apart, active, Look::core, "10:04").due_at, clock("10:05"));
  const ToldCase joined({"10:00 vitals pulse=110", "10:03 vitals sbp=100"});
  EXPECT_EQ(look(joined, active, Look::core, "10:04").last, clock("10:00"));
  const ToldCase half({"10:00 vitals pulse=110"});
  EXPECT_FALSE(look(half, active, Look::core, "10:04").last.has_value());
  const ToldCase sought({"10:00 vitals pulse=unrecordable sbp=unrecordable"});
  EXPECT_EQ(look(sought, active, Look::core, "10:04").last, clock("10:00"));
}

TEST(Observations, a_full_set_waits_for_saturation_only_where_it_has_been_read) {
  const PhaseNow active = phase_with({{Schedule::active, "09:00"}});
  const ToldCase without({"10:00 vitals pulse=110 sbp=95 rr=20"});
  EXPECT_EQ(look(without, active, Look::full, "10:01").last, clock("10:00"));
  const ToldCase with({"09:50 vitals pulse=110 sbp=95 rr=20 spo2=97", "10:00 vitals pulse=110 sbp=95 rr=20"});
  EXPECT_EQ(look(with, active, Look::full, "10:01").last, clock("09:50"));
  const ToldCase no_rate({"10:00 vitals pulse=110 sbp=95 spo2=97"});
  EXPECT_FALSE(look(no_rate, active, Look::full, "10:01").last.has_value());
}

TEST(Observations, what_a_schedule_wants_at_once_is_due_when_it_begins_unless_just_done) {
  const PhaseNow active = phase_with({{Schedule::active, "10:00"}});
  for (const Look at_once : {Look::core, Look::full, Look::loss})
    EXPECT_EQ(look(ToldCase({}), active, at_once, "10:01").due_at, clock("10:00")) << word(at_once);
  EXPECT_EQ(look(ToldCase({"09:00 vitals pulse=90 sbp=100"}), active, Look::core, "10:01").due_at, clock("10:00"));
  EXPECT_EQ(look(ToldCase({"09:58 vitals pulse=90 sbp=100"}), active, Look::core, "10:01").due_at, clock("10:03"));
  // A schedule that begins late does not make a reading overdue at its first minute.
  EXPECT_EQ(look(ToldCase({}), active, Look::core, "10:01").overdue_at, clock("10:02:30"));
}

TEST(Observations, the_rest_is_due_an_interval_after_the_schedule_began_or_after_the_last) {
  const PhaseNow active = phase_with({{Schedule::active, "10:00"}});
  EXPECT_EQ(look(ToldCase({}), active, Look::temp, "10:01").due_at, clock("10:15"));
  EXPECT_EQ(look(ToldCase({"09:00 vitals temp_c=36.5"}), active, Look::temp, "10:01").due_at, clock("10:15"));
  EXPECT_EQ(look(ToldCase({"10:10 vitals temp_c=36.5"}), active, Look::temp, "10:11").due_at, clock("10:25"));
  EXPECT_EQ(look(ToldCase({"10:10 vitals avpu=A"}), active, Look::avpu, "10:11").due_at, clock("10:25"));
  EXPECT_EQ(look(ToldCase({"10:10 finding what=tone value=firm"}), active, Look::tone, "10:11").due_at, clock("10:25"));
  EXPECT_EQ(look(ToldCase({"10:10 urine amount_ml=40"}), active, Look::urine, "10:11").due_at, clock("11:10"));
}

TEST(Observations, a_loss_reading_or_no_bleeding_seen_counts_as_a_look_at_the_loss) {
  const PhaseNow active = phase_with({{Schedule::active, "09:00"}});
  EXPECT_EQ(look(ToldCase({"10:00 loss method=drape level_ml=400"}), active, Look::loss, "10:01").last, clock("10:00"));
  EXPECT_EQ(look(ToldCase({"10:00 finding what=bleeding value=none"}), active, Look::loss, "10:01").last,
            clock("10:00"));
  EXPECT_FALSE(
      look(ToldCase({"10:00 finding what=bleeding value=heavy"}), active, Look::loss, "10:01").last.has_value());
}

TEST(Observations, garment_looks_are_breathing_skin_and_panels) {
  const PhaseNow stable = phase_with({{Schedule::garment_stable, "08:00"}});
  EXPECT_EQ(look(ToldCase({}), stable, Look::skin, "09:00").due_at, clock("10:00"));
  EXPECT_EQ(look(ToldCase({"09:30 finding what=skin value=ok"}), stable, Look::skin, "09:31").due_at, clock("11:30"));
  EXPECT_EQ(look(ToldCase({"09:30 finding what=breathing value=easy"}), stable, Look::breathing, "09:31").due_at,
            clock("09:45"));
  EXPECT_EQ(look(ToldCase({"09:40 vitals rr=18"}), stable, Look::breathing, "09:41").due_at, clock("09:55"));
  const PhaseNow road = phase_with({{Schedule::ambulance, "08:00"}});
  EXPECT_FALSE(observations(ToldCase({}).at("09:00"), road, {}).of(Look::panels).has_value());
  const LookLimits worn{.garment_on = true, .uterus = true};
  EXPECT_EQ(look(ToldCase({}), road, Look::panels, "08:01", worn).due_at, clock("08:10"));
  EXPECT_EQ(look(ToldCase({"09:00 garment action=check tension=ok"}), road, Look::panels, "09:01", worn).due_at,
            clock("09:10"));
  EXPECT_EQ(look(ToldCase({"09:05 garment action=close"}), road, Look::panels, "09:06", worn).due_at, clock("09:15"));
  EXPECT_EQ(look(ToldCase({"09:05 garment action=open"}), road, Look::panels, "09:06", worn).due_at, clock("08:10"));
}

TEST(Observations, no_uterus_no_tone) {
  const PhaseNow active = phase_with({{Schedule::active, "10:00"}});
  const LookLimits without{.garment_on = false, .uterus = false};
  EXPECT_FALSE(observations(ToldCase({}).at("10:20"), active, without).of(Look::tone).has_value());
}

TEST(Observations, of_several_schedules_the_strictest_asks) {
  const PhaseNow both = phase_with({{Schedule::routine, "09:00"}, {Schedule::raised, "09:30"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=110 rr=18"});
  const LookDue core = look(told, both, Look::core, "10:01");
  EXPECT_EQ(core.due_at, clock("10:05"));
  EXPECT_EQ(core.schedule, Schedule::raised);
  const PhaseNow road = phase_with({{Schedule::ambulance_unstable, "09:30"}, {Schedule::active, "09:00"}});
  EXPECT_EQ(look(told, road, Look::temp, "10:01").schedule, Schedule::active);
}

TEST(Observations, after_control_fifteen_minutes_for_an_hour_thirty_for_two_then_hourly) {
  const PhaseNow after = phase_with({{Schedule::after, "10:00"}});
  const auto next = [&](const char* last, const char* now) {
    const std::string line = std::string(last) + " vitals pulse=90 sbp=110";
    return look(ToldCase({line}), after, Look::core, now).due_at;
  };
  EXPECT_EQ(next("10:00", "10:01"), clock("10:15"));
  EXPECT_EQ(next("10:59:59", "11:00"), clock("11:14:59"));
  EXPECT_EQ(next("11:00", "11:01"), clock("11:30"));
  EXPECT_EQ(next("12:59", "13:00"), clock("13:29"));
  EXPECT_EQ(next("13:00", "13:01"), clock("14:00"));
  EXPECT_EQ(next("09:50", "10:01"), clock("10:05"));
}

TEST(Observations, after_control_urine_is_hourly_for_six_hours) {
  const PhaseNow after = phase_with({{Schedule::after, "10:00"}});
  const ToldCase told({"15:30 urine amount_ml=40"});
  EXPECT_EQ(look(told, after, Look::urine, "15:31").due_at, clock("16:30"));
  const Observations last = observations(told.at("16:00"), after, {});
  EXPECT_TRUE(last.of(Look::urine).has_value());
  EXPECT_EQ(last.changes_at, clock("16:00") + a_moment);
  EXPECT_FALSE(observations(told.at("16:01"), after, {}).of(Look::urine).has_value());
  EXPECT_EQ(observations(told.at("15:45"), after, {}).changes_at, clock("16:00"));
}

TEST(Observations, a_haemoglobin_is_wanted_from_six_hours_after_control_and_overdue_after_a_day) {
  PhaseNow after = phase_with({{Schedule::after, "10:00"}});
  after.control_at = clock("10:00");
  const ToldCase before({"15:59 lab hb_gl=82"});
  EXPECT_EQ(row(advice_at(before, after, "15:59"), "take_hb"), nullptr);
  const Advice due = advice_at(before, after, "16:00");
  ASSERT_NE(row(due, "take_hb"), nullptr);
  EXPECT_EQ(row(due, "take_hb")->standing, Standing::due);
  EXPECT_EQ(row(advice_at(before, after, "34:00"), "take_hb")->standing, Standing::due);
  EXPECT_EQ(row(advice_at(before, after, "34:01"), "take_hb")->standing, Standing::overdue);
  const ToldCase taken({"16:00 lab hb_gl=82"});
  EXPECT_EQ(row(advice_at(taken, after, "16:30"), "take_hb"), nullptr);
  const ToldCase other({"16:00 lab lactate=2"});
  EXPECT_NE(row(advice_at(other, after, "16:30"), "take_hb"), nullptr);
}

TEST(ObservationRows, a_set_is_one_row) {
  const PhaseNow raised = phase_with({{Schedule::raised, "09:00"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=110 rr=18", "10:00 loss method=drape level_ml=350",
                       "10:00 finding what=tone value=firm"});
  EXPECT_EQ(rows(advice_at(told, raised, "10:04")), "take_vitals soon medium; ");
  EXPECT_EQ(rows(advice_at(told, raised, "10:05")), "take_vitals due medium; ");
  EXPECT_EQ(rows(advice_at(told, raised, "10:08")), "take_vitals overdue medium; ");
  EXPECT_EQ(rows(advice_at(told, raised, "10:10")),
            "take_full_set overdue medium; measure_loss due medium; check_tone due low; ");
}

TEST(ObservationRows, the_rest_of_a_set_is_no_prompt_while_the_pair_is_on_time) {
  const PhaseNow raised = phase_with({{Schedule::raised, "09:00"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=110 rr=18", "10:00 loss method=drape level_ml=350",
                       "10:00 finding what=tone value=firm", "10:14 vitals pulse=100 sbp=110",
                       "10:14 loss method=drape level_ml=350", "10:14 finding what=tone value=firm"});
  EXPECT_EQ(rows(advice_at(told, raised, "10:16")), "complete_set overdue low; ");
}

TEST(ObservationRows, where_both_have_one_interval_the_coming_row_is_the_full_set) {
  const PhaseNow active = phase_with({{Schedule::active, "09:59"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=90 rr=18", "10:00 loss method=drape level_ml=600"});
  EXPECT_EQ(rows(advice_at(told, active, "10:01")), "take_full_set soon medium; ");
}

TEST(ObservationRows, carry_what_the_row_must_say) {
  const PhaseNow active = phase_with({{Schedule::active, "09:00"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=90 rr=18"});
  const Advice advice = advice_at(told, active, "10:08");
  const Due* due = row(advice, "take_full_set");
  ASSERT_NE(due, nullptr);
  EXPECT_EQ(due->due_at, clock("10:05"));
  EXPECT_EQ(due->since, clock("10:00"));
  ASSERT_EQ(due->reasons.size(), 1U);
  EXPECT_EQ(due->reasons[0].id, "interval_passed");
  EXPECT_EQ(due->reasons[0].rule, "OBS-4");
  EXPECT_EQ(due->reasons[0].limit, protocol::key::observe_active_core);
  EXPECT_EQ(due->reasons[0].seen, 8.0);
  EXPECT_EQ(due->reasons[0].about, "active");
  ASSERT_EQ(due->arguments.size(), 3U);
  EXPECT_EQ(std::get<double>(due->arguments[0].value), 5.0);
  EXPECT_EQ(std::get<double>(due->arguments[1].value), 3.0);
  EXPECT_EQ(row(advice_at(ToldCase({}), active, "10:08"), "take_full_set")->reasons[0].id, "not_yet_taken");
}

TEST(ObservationRows, wake_at_each_edge_and_at_the_end_of_a_schedule) {
  PhaseNow active = phase_with({{Schedule::active, "09:59"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=90 rr=18", "10:00 loss method=drape level_ml=600"});
  EXPECT_EQ(advice_at(told, active, "10:01").next_change, clock("10:05"));
  EXPECT_EQ(advice_at(told, active, "10:05").next_change, clock("10:07:30") + a_moment);
  active.changes_at = clock("10:02");
  EXPECT_EQ(advice_at(told, active, "10:01").next_change, clock("10:02"));
}

TEST(ObservationRows, routine_looks_are_never_more_than_low) {
  const PhaseNow routine = phase_with({{Schedule::routine, "09:00"}});
  const Advice advice = advice_at(ToldCase({}), routine, "10:30");
  EXPECT_EQ(rows(advice), "take_full_set overdue low; measure_loss overdue low; check_tone overdue low; ");
}

TEST(ObservationRows, after_control_only_the_pair_is_a_prompt) {
  const PhaseNow after = phase_with({{Schedule::after, "10:00"}});
  EXPECT_EQ(rows(advice_at(ToldCase({}), after, "11:31")),
            "take_full_set overdue medium; measure_loss overdue low; measure_urine overdue low; ");
}

TEST(Observations, every_look_is_found_by_its_word_and_every_schedule_takes_the_pair) {
  for (std::size_t i = 0; i < n_looks; ++i) EXPECT_EQ(look_named(word(static_cast<Look>(i))), static_cast<Look>(i));
  EXPECT_FALSE(look_named("nothing").has_value());
  for (std::size_t s = 0; s < n_schedules; ++s) {
    const auto schedule = static_cast<Schedule>(s);
    for (std::size_t l = 0; l < n_looks; ++l) {
      const auto which = static_cast<Look>(l);
      const std::string id = "observe." + std::string(word(schedule)) + "." + std::string(word(which));
      EXPECT_EQ(interval_key(schedule, which), protocol::Protocol::shipped().find(id)) << id;
    }
    EXPECT_TRUE(interval_key(schedule, Look::core).has_value());
  }
}

TEST(Observations, are_written_by_kind) {
  const PhaseNow active = phase_with({{Schedule::active, "09:59"}});
  const ToldCase told({"10:00 vitals pulse=100 sbp=90 rr=18"});
  const View view = told.at("10:08");
  const Json json = to_json(observations(view, active, {}), view);
  EXPECT_EQ(json.at("schedules"), Json::array({"active"}));
  EXPECT_EQ(json.at("looks").at("core").at("standing"), "overdue");
  EXPECT_EQ(json.at("looks").at("core").at("interval_min"), 5);
  EXPECT_EQ(json.at("looks").at("core").at("past_due_min"), 3);
  EXPECT_FALSE(json.at("looks").contains("skin"));
  EXPECT_FALSE(json.at("looks").at("temp").contains("last"));
}

}  // namespace
}  // namespace stanch::care

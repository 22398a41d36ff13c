#include "stanch/care/mechanical.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/advice_lines.hpp"
#include "tests/support/proposed_entry.hpp"

namespace stanch::care {
namespace {

using support::advice_of;
using support::clock;
using support::lines_of;
using support::ToldCase;
using Lines = std::vector<std::string>;

Mechanical judged(const ToldCase& told, std::string_view at) { return picture_of(told.at(at)).mechanical; }

// Common practice, no source: out within 24 h.
TEST(Mechanical, balloon_is_overdue_after_twenty_four_hours) {
  const auto& shipped = protocol::Protocol::shipped();
  EXPECT_EQ(balloon_state(Duration::hours(24), shipped), BalloonState::ok);
  EXPECT_EQ(balloon_state(Duration::hours(24) + Duration::minutes(1), shipped), BalloonState::overdue);
}

TEST(Mechanical, a_balloon_is_in_until_it_is_out) {
  ToldCase told({"10:00 manoeuvre what=balloon_in ml=400"});
  EXPECT_EQ(judged(told, "10:05").balloon.in_since, clock("10:00"));
  EXPECT_EQ(judged(told, "10:05").balloon.ml, 400);
  EXPECT_EQ(judged(told, "10:05").balloon.out_by, clock("34:00"));
  told.tell("20:00 manoeuvre what=balloon_out");
  EXPECT_FALSE(judged(told, "20:00").balloon.in_since);
  EXPECT_EQ(judged(told, "40:00").balloon.state, BalloonState::none);
  told.tell("21:00 manoeuvre what=balloon_in ml=300");
  EXPECT_EQ(judged(told, "22:00").balloon.in_since, clock("21:00"));
  EXPECT_FALSE(judged(ToldCase({"10:00 manoeuvre what=balloon_in done=false"}), "10:05").balloon.in_since);
}

const std::initializer_list<std::string_view> bleed{
    "10:00 opened birth_at=09:45 birth_mode=vaginal cautions=none placenta=out_complete",
    "10:00 loss method=drape level_ml=1200", "10:00 vitals pulse=88 bp=118/72",
    "10:00 finding what=bleeding value=heavy"};

ToldCase bleeding(std::initializer_list<std::string_view> more) {
  ToldCase told(bleed);
  for (const std::string_view line : more) told.tell(line);
  return told;
}

TEST(Mechanical, a_balloon_fails_when_bleeding_goes_on_past_the_test) {
  const auto failed = [](std::string_view seen) {
    return judged(bleeding({"10:10 manoeuvre what=balloon_in ml=400", seen}), "11:00").balloon.failed;
  };
  EXPECT_FALSE(failed("10:25 finding what=bleeding value=heavy"));
  EXPECT_TRUE(failed("10:25:01 finding what=bleeding value=heavy"));
  EXPECT_FALSE(failed("10:30 finding what=bleeding value=none"));
}

TEST(Mechanical, steps_are_offered_in_order_while_not_settling) {
  const auto next = [](std::initializer_list<std::string_view> more) -> std::string {
    const auto step = judged(bleeding(more), "10:30").next;
    return step ? std::string(word(*step)) : "none";
  };
  EXPECT_EQ(next({}), "bimanual");
  EXPECT_EQ(next({"10:05 manoeuvre what=bimanual"}), "aortic_compression");
  EXPECT_EQ(next({"10:05 manoeuvre what=bimanual", "10:06 manoeuvre what=aortic_compression"}), "balloon");
  EXPECT_EQ(next({"10:05 manoeuvre what=bimanual", "10:06 manoeuvre what=aortic_compression",
                  "10:07 manoeuvre what=balloon_in ml=300"}),
            "theatre");
  EXPECT_EQ(next({"10:05 manoeuvre what=bimanual", "10:06 manoeuvre what=aortic_compression",
                  "10:07 manoeuvre what=balloon_in ml=300", "10:20 surgery state=knife_to_skin"}),
            "none");
  EXPECT_EQ(next({"10:05 manoeuvre what=bimanual", "10:06 manoeuvre what=aortic_compression",
                  "10:07 manoeuvre what=balloon_in ml=300", "10:20 manoeuvre what=ligation"}),
            "none");
  EXPECT_EQ(next({"10:05 outcome what=bleeding_stopped"}), "none");
}

// Common practice, no source.
TEST(Mechanical, no_step_is_offered_that_was_passed_over_or_while_the_surgeon_has_the_field) {
  const auto next = [](std::initializer_list<std::string_view> more) -> std::string {
    const auto step = judged(bleeding(more), "10:30").next;
    return step ? std::string(word(*step)) : "none";
  };
  EXPECT_EQ(next({"10:07 manoeuvre what=balloon_in ml=300"}), "theatre");
  EXPECT_EQ(next({"10:20 manoeuvre what=compression_suture"}), "none");
  EXPECT_EQ(next({"09:00 surgery state=knife_to_skin", "09:30 surgery state=closed"}), "bimanual")
      << "an operation over before this bleed";
  EXPECT_EQ(next({"09:50 surgery state=knife_to_skin"}), "none");
  EXPECT_EQ(next({"09:50 surgery state=knife_to_skin", "10:25 surgery state=closed"}), "none");
}

// Common practice, no source: 2000 mL.
TEST(Mechanical, hysterectomy_is_decided_on_at_two_litres) {
  const auto decide = [](const char* loss, const char* more) {
    return judged(bleeding({loss, more}), "10:30").decide_hysterectomy;
  };
  EXPECT_TRUE(decide("10:05 loss method=drape level_ml=2000", "10:06 vitals pulse=90"));
  EXPECT_FALSE(decide("10:05 loss method=drape level_ml=1999", "10:06 vitals pulse=90"));
  EXPECT_FALSE(decide("10:05 loss method=drape level_ml=2000", "10:06 manoeuvre what=hysterectomy"));
  EXPECT_FALSE(decide("10:05 loss method=drape level_ml=2000", "10:06 outcome what=bleeding_stopped"));
}

Lines advised(const ToldCase& told, std::string_view at) { return lines_of(advice_of(told, at, advise_mechanical)); }

TEST(Mechanical, the_next_step_is_a_quiet_notice) {
  EXPECT_EQ(advised(bleeding({}), "10:05"), Lines{"notice next_step:bimanual low"});
  EXPECT_EQ(advised(bleeding({"10:01 loss method=drape level_ml=2000"}), "10:05"),
            (Lines{"due decide_hysterectomy medium due", "notice next_step:bimanual low"}));
}

TEST(Mechanical, nothing_inside_the_womb_is_offered_before_birth) {
  EXPECT_EQ(advised(ToldCase({"10:00 opened birth_mode=undelivered", "10:00 loss method=drape level_ml=1200",
                              "10:00 vitals pulse=88 bp=118/72", "10:00 finding what=bleeding value=heavy"}),
                    "10:05"),
            Lines{});
}

TEST(Mechanical, hands_change_every_five_minutes_while_compressing) {
  ToldCase told = bleeding({"10:05 manoeuvre what=bimanual"});
  const Lines quiet{"notice next_step:aortic_compression low"};
  EXPECT_EQ(advised(told, "10:09:59"), quiet);
  EXPECT_EQ(advised(told, "10:10"), (Lines{"due change_hands:bimanual low due", quiet.front()}));
  EXPECT_EQ(advised(told, "10:10:01"), (Lines{"due change_hands:bimanual low overdue", quiet.front()}));
  EXPECT_EQ(advice_of(told, "10:06", advise_mechanical).next_change, clock("10:10"));
  told.tell("10:11 manoeuvre what=bimanual");
  EXPECT_EQ(advised(told, "10:12"), quiet);
  ToldCase other = bleeding({"10:05 manoeuvre what=bimanual", "10:06 manoeuvre what=aortic_compression"});
  EXPECT_EQ(advised(other, "10:20"), Lines{"notice next_step:balloon low"});
  ToldCase cut = bleeding({"10:05 manoeuvre what=bimanual", "10:06 surgery state=knife_to_skin"});
  EXPECT_EQ(advised(cut, "10:20"), Lines{});
  ToldCase stopped = bleeding({"10:05 manoeuvre what=bimanual", "10:06 outcome what=bleeding_stopped"});
  EXPECT_EQ(advised(stopped, "10:20"), Lines{});
}

TEST(Mechanical, a_balloon_is_watched_then_taken_out) {
  ToldCase told = bleeding({"10:10 manoeuvre what=bimanual", "10:10 manoeuvre what=aortic_compression",
                            "10:10 manoeuvre what=balloon_in ml=400"});
  EXPECT_EQ(advised(told, "10:12"),
            (Lines{"due check_bleeding:balloon medium soon", "watch balloon_out", "notice next_step:theatre low"}));
  EXPECT_EQ(advised(told, "10:15"),
            (Lines{"due check_bleeding:balloon medium due", "watch balloon_out", "notice next_step:theatre low"}));
  EXPECT_EQ(advised(told, "10:25:01"),
            (Lines{"due check_bleeding:balloon medium late", "watch balloon_out", "notice next_step:theatre low"}));
  told.tell("10:26 finding what=bleeding value=heavy");
  EXPECT_EQ(advised(told, "10:26"), (Lines{"due prepare_theatre:balloon_failed high due", "watch balloon_out",
                                           "notice next_step:theatre low"}));
  told.tell("10:40 finding what=bleeding value=none");
  EXPECT_EQ(advised(told, "10:40"), Lines{"watch balloon_out"});
  EXPECT_EQ(advised(told, "34:10"), Lines{"watch balloon_out"});
  EXPECT_EQ(advised(told, "34:10:01"), Lines{"due take_balloon_out medium overdue"});
  EXPECT_EQ(advice_of(told, "34:00", advise_mechanical).next_change, clock("34:10") + Duration::milliseconds(1));
}

// ---- Verdicts -------------------------------------------------------------------------------------------------------

Verdict may(const ToldCase& told, const char* line) {
  const View view = told.at("10:30");
  return may_manoeuvre(picture_of(view), view, std::get<record::Manoeuvre>(support::proposed(line).payload));
}

std::string first(const Verdict& verdict) {
  return std::string(word(verdict.permission)) + (verdict.reasons.empty() ? "" : " " + verdict.reasons.front().id);
}

constexpr const char* balloon = "10:30 manoeuvre what=balloon_in ml=400";

// Source: WHO 2021 (from memory).
TEST(Mechanical, balloon_goes_in_after_tissue_and_rupture_are_excluded) {
  EXPECT_EQ(first(may(bleeding({"10:05 finding what=cause_trauma value=excluded"}), balloon)), "allowed");
  EXPECT_EQ(first(may(bleeding({}), balloon)), "warned trauma_not_known");
  EXPECT_EQ(first(may(bleeding({"10:05 finding what=placenta value=in"}), balloon)),
            "needs_override tissue_not_excluded");
  EXPECT_EQ(first(may(bleeding({"10:05 finding what=placenta value=incomplete"}), balloon)),
            "needs_override tissue_not_excluded");
  EXPECT_EQ(first(may(bleeding({"10:05 finding what=rupture value=suspected"}), balloon)),
            "needs_override rupture_not_excluded");
}

TEST(Mechanical, balloon_asks_about_the_placenta_when_nothing_is_known) {
  ToldCase told({"10:00 finding what=cause_trauma value=excluded"});
  EXPECT_EQ(first(may(told, balloon)), "warned tissue_not_known");
  EXPECT_EQ(may(told, balloon).ask, std::vector<std::string>{"ask_placenta"});
  told.tell("10:01 finding what=cause_tissue value=excluded");
  EXPECT_EQ(first(may(told, balloon)), "allowed");
}

TEST(Mechanical, balloon_volume_and_reach_are_questioned) {
  const ToldCase told = bleeding({"10:05 finding what=cause_trauma value=excluded"});
  EXPECT_EQ(first(may(told, "10:30 manoeuvre what=balloon_in ml=500")), "allowed");
  EXPECT_EQ(first(may(told, "10:30 manoeuvre what=balloon_in ml=501")), "warned balloon_very_full");
  EXPECT_EQ(first(may(bleeding({"10:05 finding what=cause_trauma value=excluded",
                                "10:05 place where=clinic state=arrived level=primary"}),
                      balloon)),
            "warned surgery_out_of_reach");
  EXPECT_EQ(first(may(bleeding({"10:05 finding what=cause_trauma value=excluded",
                                "10:05 place where=clinic state=arrived level=primary minutes_to_care=30"}),
                      balloon)),
            "allowed");
}

TEST(Mechanical, packing_carries_a_note) {
  EXPECT_EQ(first(may(bleeding({}), "10:30 manoeuvre what=packing")), "warned packing_not_recommended");
  EXPECT_EQ(first(may(bleeding({}), "10:30 manoeuvre what=packing done=false")), "allowed");
  EXPECT_EQ(first(may(bleeding({}), "10:30 manoeuvre what=massage")), "allowed");
}

// Source: nursing slides on transfer: balloon and pack stay in until arrival.
TEST(Mechanical, balloon_stays_in_on_the_road) {
  ToldCase told = bleeding({"10:05 manoeuvre what=balloon_in ml=400"});
  constexpr const char* out = "10:30 manoeuvre what=balloon_out";
  EXPECT_EQ(first(may(told, out)), "allowed");
  told.tell("10:10 place where=ward state=decided to=hospital");
  EXPECT_EQ(first(may(told, out)), "needs_override stays_in_until_arrival");
  told.tell("10:15 place where=ambulance state=left to=hospital");
  EXPECT_EQ(first(may(told, out)), "needs_override stays_in_until_arrival");
  told.tell("10:29 place where=hospital state=arrived");
  EXPECT_EQ(first(may(told, out)), "allowed");
}

TEST(Mechanical, json_gives_the_clock_of_the_balloon) {
  const Json out = to_json(judged(bleeding({"10:10 manoeuvre what=balloon_in ml=400"}), "10:15"));
  EXPECT_EQ(out["balloon"]["state"], "ok");
  EXPECT_EQ(out["balloon"]["ml"], 400);
  EXPECT_EQ(out["taken"], Json{"balloon"});
  EXPECT_EQ(out["next"], "theatre");
}

}  // namespace
}  // namespace stanch::care

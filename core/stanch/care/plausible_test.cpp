// Source: common practice, no source.
#include "stanch/care/plausible.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "stanch/base/number.hpp"

#include "tests/support/told_verdict.hpp"

namespace stanch::care {
namespace {

using support::proposed_entry;
using support::reason;
using support::ToldCase;

Verdict doubts(const ToldCase& told, std::string_view line, std::string_view now = {}) {
  const View view = told.at(now.empty() ? line.substr(0, line.find(' ')) : now);
  Verdict out;
  check_plausible(view, woman(view), proposed_entry(line), out);
  return out;
}

Verdict doubts(std::string_view line) { return doubts(ToldCase({}), line); }

// The value of a field at its limit, which is kept without a question, and one step outside, which is asked about.
struct AtLimit {
  const char* line;
  const char* kept;
  const char* asked;
};

constexpr AtLimit limits[] = {
    {"opened age_y=", "12", "11"},
    {"opened age_y=", "55", "56"},
    {"opened weight_kg=", "30", "29.5"},
    {"opened weight_kg=", "200", "200.5"},
    {"opened height_cm=", "120", "119"},
    {"opened height_cm=", "210", "211"},
    {"opened gravida=", "1", "0"},
    {"opened gravida=", "15", "16"},
    {"opened para=", "15", "16"},
    {"opened gestation_wk=", "12", "11.5"},
    {"opened gestation_wk=", "44", "44.5"},
    {"opened hb_gl=", "20", "19"},
    {"opened hb_gl=", "200", "201"},
    {"vitals pulse=", "20", "19"},
    {"vitals pulse=", "250", "251"},
    {"vitals sbp=", "30", "29"},
    {"vitals sbp=", "260", "261"},
    {"vitals dbp=", "10", "9"},
    {"vitals dbp=", "180", "181"},
    {"vitals rr=", "4", "3"},
    {"vitals rr=", "70", "71"},
    {"vitals spo2=", "40", "39"},
    {"vitals temp_c=", "30", "29.9"},
    {"vitals temp_c=", "43", "43.1"},
    {"vitals cap_refill_s=", "10", "10.5"},
    {"loss method=suction amount_ml=", "3000", "3001"},
    {"loss method=suction level_ml=", "3000", "3001"},
    {"loss method=weighed dry_g=0 wet_g=", "5000", "5001"},
    {"loss method=weighed wet_g=20000 dry_g=", "5000", "5001"},
    {"loss method=suction level_ml=3000 mixed_with=urine other_ml=", "3000", "3001"},
    {"urine amount_ml=", "2000", "2001"},
    {"urine level_ml=", "2000", "2001"},
    {"lab hb_gl=", "20", "19"},
    {"lab hb_gl=", "200", "201"},
    {"lab hct_percent=", "60", "61"},
    {"lab platelets=", "5", "4"},
    {"lab platelets=", "1000", "1001"},
    {"lab fibrinogen_gl=", "0.3", "0.2"},
    {"lab fibrinogen_gl=", "10", "10.1"},
    {"lab inr=", "0.8", "0.7"},
    {"lab inr=", "10", "10.1"},
    {"lab pt_ratio=", "0.8", "0.7"},
    {"lab pt_ratio=", "10", "10.1"},
    {"lab aptt_ratio=", "0.6", "0.5"},
    {"lab aptt_ratio=", "10", "10.1"},
    {"lab lactate=", "0.2", "0.1"},
    {"lab lactate=", "25", "25.1"},
    {"lab ica=", "0.5", "0.4"},
    {"lab ica=", "2", "2.1"},
    {"lab ph=", "6.8", "6.7"},
    {"lab ph=", "7.8", "7.9"},
    {"lab clot_test_min=", "1", "0.5"},
    {"lab clot_test_min=", "30", "30.5"},
    {"fluid fluid=saline ml=", "10", "9"},
    {"fluid fluid=saline ml=", "3000", "3001"},
    {"blood product=red_cells units=", "20", "21"},
    {"blood product=plasma ml=", "3000", "3001"},
    {"blood product=fibrinogen g=", "0.5", "0.4"},
    {"blood product=fibrinogen g=", "10", "10.1"},
    {"manoeuvre what=balloon_in ml=", "700", "701"},
};

bool is_asked_about(const char* line, const char* value) {
  const Verdict verdict = doubts(std::string("10:00 ") + line + value);
  return std::any_of(verdict.reasons.begin(), verdict.reasons.end(), [&](const Reason& r) {
    return r.id == "unlikely" && r.seen == parse_number(value) && verdict.permission == Permission::warned;
  });
}

TEST(Plausible, each_field_is_asked_about_just_outside_its_limits) {
  for (const AtLimit& limit : limits) {
    EXPECT_FALSE(is_asked_about(limit.line, limit.kept)) << limit.line << limit.kept;
    EXPECT_TRUE(is_asked_about(limit.line, limit.asked)) << limit.line << limit.asked;
  }
}

TEST(Plausible, a_doubt_names_field_value_and_limit) {
  const Verdict verdict = doubts("10:00 vitals pulse=15 bp=120/70");
  ASSERT_EQ(verdict.reasons.size(), 1U);
  EXPECT_EQ(verdict.reasons[0].rule, "PL-1");
  EXPECT_EQ(verdict.reasons[0].about, "pulse");
  EXPECT_EQ(verdict.reasons[0].seen, 15);
  EXPECT_EQ(verdict.reasons[0].limit, protocol::key::plausible_pulse_warn_low);
}

TEST(Plausible, what_cannot_be_felt_or_was_not_given_is_not_doubted) {
  EXPECT_EQ(doubts("10:00 vitals pulse=unrecordable sbp=unrecordable").permission, Permission::allowed);
  EXPECT_EQ(doubts("10:00 lab clot_test_min=none").permission, Permission::allowed);
  EXPECT_EQ(doubts("10:00 drug drug=oxytocin dose=10 unit=IU route=im").permission, Permission::allowed);
  EXPECT_EQ(doubts("10:00 call who=obstetrician state=called").permission, Permission::allowed);
}

TEST(Plausible, an_infusion_is_doubted_by_volume_and_time) {
  const auto infusion = [](const char* text) {
    return doubts(std::string("10:00 drug drug=oxytocin dose=10 unit=IU route=iv_infusion infusion=") + text)
        .permission;
  };
  EXPECT_EQ(infusion("1ml/1min"), Permission::allowed);
  EXPECT_EQ(infusion("3000ml/1440min"), Permission::allowed);
  EXPECT_EQ(infusion("3001ml/60min"), Permission::warned);
  EXPECT_EQ(infusion("0.5ml/60min"), Permission::warned);
  EXPECT_EQ(infusion("100ml/0.5min"), Permission::warned);
}

TEST(Plausible, an_infusion_whose_time_was_not_told_is_not_doubted) {
  EXPECT_TRUE(
      doubts("10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/0min").reasons.empty());
}

TEST(Plausible, a_container_is_doubted_by_its_step_and_not_by_its_level) {
  const ToldCase told({"09:00 loss method=drape level_ml=500", "09:10 loss method=suction level_ml=100"});
  EXPECT_EQ(doubts(told, "10:00 loss method=drape level_ml=3500").permission, Permission::allowed);
  EXPECT_EQ(doubts(told, "10:00 loss method=drape level_ml=3501").permission, Permission::warned);
  EXPECT_EQ(doubts(told, "10:00 loss method=drape level_ml=400").permission, Permission::allowed);
  ToldCase emptied = told;
  emptied.tell("09:20 loss method=drape emptied=true");
  EXPECT_EQ(doubts(emptied, "10:00 loss method=drape level_ml=3001").permission, Permission::warned);
}

TEST(Plausible, pulse_and_pressure_that_changed_places_look_swapped) {
  const ToldCase told({"09:50 vitals pulse=80 bp=120/60"});
  const Verdict swapped = doubts(told, "10:00 vitals pulse=120 bp=80/50");
  EXPECT_EQ(swapped.permission, Permission::warned);
  EXPECT_EQ(swapped.reasons[0].id, "swapped");
  EXPECT_EQ(swapped.reasons[0].rule, "PL-4");
  EXPECT_EQ(doubts(told, "10:00 vitals pulse=120 bp=81/50").permission, Permission::allowed);
  EXPECT_EQ(doubts(told, "10:00 vitals pulse=119 bp=80/50").permission, Permission::allowed);
  EXPECT_EQ(doubts(told, "10:00 vitals pulse=120").permission, Permission::allowed);
  EXPECT_EQ(doubts(told, "10:00 vitals bp=80/50").permission, Permission::allowed);
  EXPECT_EQ(doubts(ToldCase({"09:50 vitals pulse=100 bp=100/60"}), "10:00 vitals pulse=100 bp=100/60").permission,
            Permission::allowed);
  EXPECT_EQ(doubts(ToldCase({}), "10:00 vitals pulse=120 bp=80/50").permission, Permission::allowed);
  ToldCase later = told;
  later.tell("09:55 vitals pulse=90");
  EXPECT_EQ(doubts(later, "10:00 vitals pulse=120 bp=80/50").permission, Permission::warned);
}

TEST(Plausible, more_than_two_minutes_ahead_is_a_wrong_clock) {
  const ToldCase told({});
  EXPECT_EQ(doubts(told, "10:02 vitals pulse=80", "10:00").permission, Permission::allowed);
  const Verdict ahead = doubts(told, "10:02:01 vitals pulse=80", "10:00");
  EXPECT_EQ(ahead.permission, Permission::never);
  EXPECT_EQ(ahead.reasons[0].id, "in_future");
  EXPECT_EQ(ahead.reasons[0].rule, "PL-5");
}

TEST(Plausible, more_than_a_day_before_the_case_was_opened_is_asked_about) {
  const ToldCase told({"34:00 opened label=bed-4", "35:00 opened label=bed-5"});
  EXPECT_EQ(doubts(told, "10:00 vitals pulse=80", "36:00").permission, Permission::allowed);
  const Verdict early = doubts(told, "09:59 vitals pulse=80", "36:00");
  EXPECT_EQ(early.permission, Permission::warned);
  EXPECT_EQ(early.reasons[0].id, "long_before_opened");
}

TEST(Plausible, acts_that_only_make_sense_after_birth_are_asked_about_before) {
  const ToldCase unborn({"09:00 opened birth_mode=undelivered"});
  for (const char* line : {"10:00 manoeuvre what=placenta_removed", "10:00 manoeuvre what=manual_removal",
                           "10:00 manoeuvre what=bimanual", "10:00 manoeuvre what=balloon_in ml=300",
                           "10:00 manoeuvre what=compression_suture", "10:00 finding what=placenta value=complete"}) {
    const Verdict verdict = doubts(unborn, line);
    EXPECT_EQ(verdict.permission, Permission::warned) << line;
    EXPECT_EQ(verdict.reasons[0].id, "before_birth") << line;
    EXPECT_EQ(verdict.reasons[0].rule, "PL-6") << line;
  }
  EXPECT_EQ(doubts(unborn, "10:00 manoeuvre what=iv_access_1").permission, Permission::allowed);
  EXPECT_EQ(doubts(unborn, "10:00 finding what=placenta value=in").permission, Permission::allowed);
  EXPECT_EQ(doubts(unborn, "10:00 finding what=tone value=soft").permission, Permission::allowed);
  const ToldCase born({"09:00 opened birth_at=10:00"});
  EXPECT_EQ(doubts(born, "09:59 manoeuvre what=bimanual", "10:10").permission, Permission::warned);
  EXPECT_EQ(doubts(born, "10:00 manoeuvre what=bimanual", "10:10").permission, Permission::allowed);
  EXPECT_EQ(doubts(ToldCase({}), "10:00 manoeuvre what=bimanual").permission, Permission::allowed);
}

TEST(Plausible, one_number_is_likely_unlikely_or_impossible) {
  const auto judged = [](std::string_view field, double value) {
    return judge_field(field, value, protocol::Protocol::shipped())->likelihood;
  };
  EXPECT_EQ(judged("pulse", 80), Likelihood::likely);
  EXPECT_EQ(judged("pulse", 19), Likelihood::unlikely);
  EXPECT_EQ(judged("pulse", 251), Likelihood::unlikely);
  EXPECT_EQ(judged("pulse", 300), Likelihood::unlikely);
  EXPECT_EQ(judged("pulse", 301), Likelihood::impossible);
  EXPECT_EQ(judged("hb_gl", 15), Likelihood::unlikely);
  EXPECT_EQ(judged("hb_gl", 14.9), Likelihood::impossible);
  EXPECT_FALSE(judge_field("mood", 1, protocol::Protocol::shipped()));
  const auto impossible = judge_field("hb_gl", 11.2, protocol::Protocol::shipped());
  EXPECT_EQ(impossible->reason->rule, "PL-2");
  EXPECT_EQ(impossible->reason->limit, protocol::key::plausible_hb_gl_refuse_low);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/escalation.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "stanch/care/advise.hpp"
#include "stanch/care/picture.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using enum EscalationStep;
using support::clock;
using support::ToldCase;

EscalationStep step(const EscalationFindings& findings) {
  return judge_escalation(findings, protocol::Protocol::shipped()).step;
}

TEST(Escalation, by_loss) {
  EXPECT_EQ(step({}), none);
  EXPECT_EQ(step({.loss_ml = 299}), none);
  EXPECT_EQ(step({.loss_ml = 300}), look);
  EXPECT_EQ(step({.loss_ml = 500}), look);
  EXPECT_EQ(step({.loss_ml = 499, .bleeding_goes_on = true}), look);
  EXPECT_EQ(step({.loss_ml = 500, .bleeding_goes_on = true}), first);
  EXPECT_EQ(step({.loss_ml = 999}), look);
  EXPECT_EQ(step({.loss_ml = 1000}), senior);
  EXPECT_EQ(step({.loss_ml = 1499}), senior);
  EXPECT_EQ(step({.loss_ml = 1500}), major);
  EXPECT_EQ(step({.loss_ml = 1999}), major);
  EXPECT_EQ(step({.loss_ml = 2000}), last);
}

TEST(Escalation, by_each_sign_at_its_own_limit) {
  EXPECT_EQ(step({.pulse = 109}), none);
  EXPECT_EQ(step({.pulse = 110}), first);
  EXPECT_EQ(step({.sbp = 86}), none);
  EXPECT_EQ(step({.sbp = 85}), first);
  EXPECT_EQ(step({.dbp = 46}), none);
  EXPECT_EQ(step({.dbp = 45}), first);
  EXPECT_EQ(step({.spo2 = 95}), none);
  EXPECT_EQ(step({.spo2 = 94}), first);
  EXPECT_EQ(step({.shock_index_alert = Tri::yes}), first);
  EXPECT_EQ(step({.shock_index_alert = Tri::unknown}), none);
  EXPECT_EQ(step({.confused = true}), first);
  EXPECT_EQ(step({.red_cells = 2}), none);
  EXPECT_EQ(step({.red_cells = 3}), major);
  EXPECT_EQ(step({.clotting_failure = true}), major);
  EXPECT_EQ(step({.major_haemorrhage = true}), major);
}

TEST(Escalation, tells_only_the_reasons_of_the_step_reached) {
  const Escalation e = judge_escalation({.loss_ml = 1600, .pulse = 130, .red_cells = 4}, protocol::Protocol::shipped());
  ASSERT_EQ(e.reasons.size(), 2U);
  EXPECT_EQ(e.reasons[0].id, "loss_high");
  EXPECT_EQ(e.reasons[0].rule, "ESC-1500");
  EXPECT_EQ(e.reasons[1].id, "many_red_cells");
}

constexpr std::string_view opened =
    "09:30 opened birth_at=09:30 birth_mode=vaginal placenta=out_complete cautions=none";
constexpr std::string_view in_hospital = "09:30 place where=ward state=arrived level=hospital minutes_to_care=0";

ToldCase bleeding_at(std::string_view loss) {
  return ToldCase(
      {opened, in_hospital, "10:00 finding what=bleeding value=heavy", "10:00 vitals pulse=96 bp=118/72", loss});
}

std::string uncalled(const ToldCase& told, std::string_view at) {
  std::string out;
  for (const std::string& role : picture_of(told.at(at)).escalation.uncalled) out += role + " ";
  return out;
}

TEST(Escalation, who_was_called_is_not_asked_for_and_a_senior_stands_for_the_junior) {
  ToldCase told = bleeding_at("10:00 loss method=drape level_ml=600");
  EXPECT_EQ(uncalled(told, "10:01"), "midwife_lead obstetrician anaesthetist ");
  told.tell("10:02 call who=obstetrician state=called");
  EXPECT_EQ(uncalled(told, "10:02"), "midwife_lead anaesthetist ");
  told.tell("10:03 call who=senior_anaesthetist state=called");
  EXPECT_EQ(uncalled(told, "10:03"), "midwife_lead ");
}

TEST(Escalation, a_call_before_this_bleed_does_not_count) {
  ToldCase told = bleeding_at("10:00 loss method=drape level_ml=600");
  told.tell("09:40 call who=obstetrician state=called");
  EXPECT_NE(uncalled(told, "10:01").find("obstetrician"), std::string::npos);
}

TEST(Escalation, the_higher_rank_is_asked_for_alone) {
  EXPECT_EQ(uncalled(bleeding_at("10:00 loss method=drape level_ml=1100"), "10:01"),
            "midwife_lead senior_obstetrician senior_anaesthetist theatre ");
  EXPECT_EQ(uncalled(bleeding_at("10:00 loss method=drape level_ml=1600"), "10:01"),
            "midwife_lead senior_anaesthetist theatre consultant blood_bank ");
}

const Due* row(const Advice& advice, std::string_view id) {
  const auto it = std::find_if(advice.due.begin(), advice.due.end(), [&](const Due& d) { return d.id == id; });
  return it == advice.due.end() ? nullptr : &*it;
}

Advice advised(const ToldCase& told, std::string_view at) {
  const View view = told.at(at);
  AdviceBuilder out(view.now());
  advise_escalation(picture_of(view), view, out);
  return std::move(out).finish();
}

TEST(Escalation, a_second_kind_of_uterotonic_from_the_second_step) {
  ToldCase told = bleeding_at("10:00 loss method=drape level_ml=1100");
  EXPECT_EQ(row(advised(told, "10:01"), "give_next_uterotonic"), nullptr);  // the first is still owed
  told.tell("10:02 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/240min");
  const Advice advice = advised(told, "10:03");
  ASSERT_NE(row(advice, "give_next_uterotonic"), nullptr);
  EXPECT_EQ(row(advice, "give_next_uterotonic")->about, "ergometrine");
  told.tell("10:04 drug drug=ergometrine dose=0.2 unit=mg route=im");
  EXPECT_EQ(row(advised(told, "10:05"), "give_next_uterotonic"), nullptr);
}

TEST(Escalation, below_the_second_step_no_second_kind) {
  ToldCase told = bleeding_at("10:00 loss method=drape level_ml=600");
  told.tell("10:02 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/240min");
  EXPECT_EQ(row(advised(told, "10:03"), "give_next_uterotonic"), nullptr);
}

TEST(Escalation, silent_once_the_bleeding_has_stopped) {
  ToldCase told = bleeding_at("10:00 loss method=drape level_ml=1100");
  told.tell("10:20 outcome what=bleeding_stopped");
  EXPECT_TRUE(advised(told, "10:20").due.empty());
}

TEST(Escalation, in_primary_care_no_response_in_time_means_leave) {
  ToldCase told({opened, "09:30 place where=clinic state=arrived level=primary minutes_to_care=50",
                 "10:00 finding what=bleeding value=heavy", "10:00 loss method=drape level_ml=600"});
  EXPECT_EQ(row(advised(told, "10:14:59"), "leave_for_hospital"), nullptr);
  EXPECT_EQ(row(advised(told, "10:14:59"), "call_people"), nullptr);
  EXPECT_EQ(advised(told, "10:14:59").next_change, clock("10:15"));
  ASSERT_NE(row(advised(told, "10:15"), "leave_for_hospital"), nullptr);
  EXPECT_EQ(row(advised(told, "10:15"), "leave_for_hospital")->priority, Priority::high);
  told.tell("10:16 place where=clinic state=decided to=hospital");
  EXPECT_EQ(row(advised(told, "10:17"), "leave_for_hospital"), nullptr);
}

}  // namespace
}  // namespace stanch::care

// Sources: WHO, Managing complications in pregnancy and childbirth, 2017 and RCOG Green-top 52, 2016 (from memory);
// routes, units and the second person: common practice, no source. Intervals and ceilings: give_limits_test.cpp.
#include "stanch/care/give.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_verdict.hpp"

namespace stanch::care {
namespace {

using support::asks;
using support::reason;
using support::ToldCase;
using support::verdict_on;

constexpr std::string_view well = "09:00 opened birth_at=08:30 birth_mode=vaginal placenta=out_complete cautions=none";
constexpr std::string_view calm = "09:55 vitals pulse=90 bp=120/70";

Verdict known(std::string_view line) { return verdict_on(ToldCase({well, calm}), line); }

Verdict with(std::string_view opened, std::string_view line) { return verdict_on(ToldCase({opened, calm}), line); }

Verdict with_caution(const std::string& caution, std::string_view line) {
  const std::string opened = "09:00 opened birth_at=08:30 birth_mode=vaginal placenta=out_complete cautions=" + caution;
  return with(opened, line);
}

TEST(Give, every_default_treatment_dose_is_plainly_allowed_when_all_is_known) {
  for (const char* line :
       {"10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion",
        "10:00 drug drug=oxytocin dose=10 unit=IU route=im", "10:00 drug drug=ergometrine dose=0.2 unit=mg route=im",
        "10:00 drug drug=methylergometrine dose=0.2 unit=mg route=iv_slow",
        "10:00 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im",
        "10:00 drug drug=misoprostol dose=800 unit=ug route=sl",
        "10:00 drug drug=carboprost dose=0.25 unit=mg route=im",
        "10:00 drug drug=dinoprostone dose=20 unit=mg route=pv",
        "10:00 drug drug=sulprostone dose=500 unit=ug route=iv_infusion",
        "10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow",
        "10:00 drug drug=carbetocin dose=100 unit=ug route=im use=prevention",
        "10:00 drug drug=calcium_chloride dose=10 unit=mL route=iv_slow",
        "10:00 drug drug=antibiotic_prophylaxis dose=1 unit=dose route=iv_slow"}) {
    const Verdict verdict = known(line);
    EXPECT_EQ(verdict.permission, Permission::allowed) << line;
    EXPECT_TRUE(verdict.reasons.empty()) << line << ": " << verdict.reasons[0].id;
    EXPECT_TRUE(verdict.ask.empty()) << line;
    EXPECT_FALSE(verdict.second_person) << line;
  }
}

TEST(Give, a_drug_the_protocol_does_not_know_is_warned_about) {
  const Verdict verdict = known("10:00 drug drug=willow_bark dose=2 unit=g route=po");
  EXPECT_EQ(verdict.permission, Permission::warned);
  EXPECT_EQ(verdict.reasons[0].id, "unknown_drug");
}

TEST(Give, a_unit_that_is_not_the_drugs_own_is_never_taken) {
  const Verdict mass = known("10:00 drug drug=oxytocin dose=10 unit=mg route=im");
  EXPECT_EQ(mass.permission, Permission::never);
  EXPECT_EQ(mass.reasons[0].id, "unit");
  EXPECT_EQ(mass.reasons[0].about, "mg");
  EXPECT_EQ(mass.reasons[0].seen, 10);
  EXPECT_EQ(known("10:00 drug drug=carboprost dose=250 unit=ug route=im").permission, Permission::never);
}

TEST(Give, what_was_not_told_is_asked_for) {
  const Verdict verdict = known("10:00 drug drug=oxytocin");
  EXPECT_EQ(verdict.permission, Permission::warned);
  EXPECT_TRUE(asks(verdict, "ask_dose"));
  EXPECT_TRUE(asks(verdict, "ask_route"));
  EXPECT_FALSE(asks(verdict, "ask_unit"));
  record::Drug no_unit;
  no_unit.drug = "oxytocin";
  no_unit.dose = 10;
  no_unit.route = "im";
  const ToldCase told({well, calm});
  const View view = told.at("10:00");
  const Picture picture = picture_of(view);
  const Verdict unit = may_give({view, picture.woman, picture.signs, picture.doses}, no_unit, false);
  EXPECT_EQ(unit.permission, Permission::warned);
  EXPECT_TRUE(asks(unit, "ask_unit"));
  EXPECT_FALSE(asks(unit, "ask_dose"));
}

TEST(Give, carboprost_into_a_vein_has_no_override) {
  for (const char* route : {"iv_bolus", "iv_slow", "iv_infusion", "iv"}) {
    const Verdict verdict =
        known(std::string("10:00 drug drug=carboprost dose=0.25 unit=mg second=midwife route=") + route);
    EXPECT_EQ(verdict.permission, Permission::never) << route;
    EXPECT_EQ(verdict.reasons[0].id, "carboprost_never_iv");
    EXPECT_EQ(verdict.reasons[0].rule, "UT-4");
  }
}

TEST(Give, tranexamic_acid_goes_into_a_vein_only) {
  for (const char* route : {"intrathecal", "epidural", "spinal", "im", "sc", "po"}) {
    const Verdict verdict = known(std::string("10:00 drug drug=tranexamic_acid dose=1 unit=g route=") + route);
    EXPECT_EQ(verdict.permission, Permission::never) << route;
    EXPECT_EQ(verdict.reasons[0].id, "tranexamic_acid_only_iv");
    EXPECT_EQ(verdict.reasons[0].rule, "TXA-7");
  }
  const Verdict other = known("10:00 drug drug=tranexamic_acid dose=1 unit=g route=into_the_wound");
  EXPECT_EQ(other.permission, Permission::never);
  EXPECT_EQ(other.reasons[0].id, "only_into_a_vein");
}

TEST(Give, a_route_that_is_not_listed_asks_for_a_reason) {
  const Verdict verdict = known("10:00 drug drug=misoprostol dose=800 unit=ug route=pv");
  EXPECT_EQ(verdict.permission, Permission::needs_override);
  EXPECT_EQ(verdict.reasons[0].id, "route_not_listed");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-14");
  EXPECT_EQ(known("10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_bolus").permission,
            Permission::needs_override);
}

TEST(Give, a_finish_is_always_allowed) {
  const Verdict verdict =
      with_caution("asthma", "10:00 drug drug=carboprost dose=0.25 unit=mg route=iv_infusion state=finished");
  EXPECT_EQ(verdict.permission, Permission::allowed);
  EXPECT_EQ(with_caution("asthma", "10:00 drug drug=carboprost dose=0.25 unit=mg route=im state=started").permission,
            Permission::needs_senior);
}

// ---- Contraindications ----------------------------------------------------------------------------------------------

TEST(Give, a_contraindication_needs_a_named_senior) {
  const Verdict asthma = with_caution("asthma", "10:00 drug drug=carboprost dose=0.25 unit=mg route=im");
  EXPECT_EQ(asthma.permission, Permission::needs_senior);
  EXPECT_EQ(asthma.reasons[0].id, "asthma");
  EXPECT_EQ(asthma.reasons[0].rule, "UT-3");
  EXPECT_FALSE(asthma.allowed_at);
  const Verdict clot = with_caution("thrombosis", "10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow");
  EXPECT_EQ(clot.permission, Permission::needs_senior);
  EXPECT_EQ(clot.reasons[0].rule, "TXA-7");
  const Verdict allergy = with_caution("allergy:oxytocin", "10:00 drug drug=oxytocin dose=10 unit=IU route=im");
  EXPECT_EQ(allergy.permission, Permission::needs_senior);
  EXPECT_EQ(allergy.reasons[0].rule, "UT-15");
}

TEST(Give, a_softer_caution_only_warns) {
  EXPECT_EQ(with_caution("renal_impairment", "10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow").permission,
            Permission::warned);
  EXPECT_EQ(with_caution("asthma", "10:00 drug drug=carbetocin dose=100 unit=ug route=im use=prevention").permission,
            Permission::warned);
}

TEST(Give, a_caution_of_another_drug_changes_nothing) {
  EXPECT_EQ(with_caution("asthma", "10:00 drug drug=oxytocin dose=10 unit=IU route=im").permission,
            Permission::allowed);
}

TEST(Give, cautions_never_asked_about_warn_and_are_asked_for_once) {
  const Verdict verdict = with("09:00 opened birth_at=08:30 placenta=out_complete",
                               "10:00 drug drug=carboprost dose=0.25 unit=mg route=im");
  EXPECT_EQ(verdict.permission, Permission::warned);
  EXPECT_EQ(verdict.ask, std::vector<std::string>{"ask_cautions"});
  ASSERT_EQ(verdict.reasons.size(), 1U);
  EXPECT_EQ(verdict.reasons[0].id, "ask_cautions");
}

TEST(Give, an_allergy_never_asked_about_only_asks) {
  const Verdict verdict = with("09:00 opened birth_at=08:30", "10:00 drug drug=oxytocin dose=10 unit=IU route=im");
  EXPECT_EQ(verdict.permission, Permission::allowed);
  EXPECT_TRUE(verdict.reasons.empty());
  EXPECT_EQ(verdict.ask, std::vector<std::string>{"ask_cautions"});
}

// ---- Ergot drugs ----------------------------------------------------------------------------------------------------

Verdict ergometrine_with(std::string_view vitals) {
  return verdict_on(ToldCase({well, vitals}), "10:00 drug drug=ergometrine dose=0.2 unit=mg route=im");
}

TEST(Give, ergot_drugs_stop_at_a_present_pressure_of_140_or_90) {
  EXPECT_EQ(ergometrine_with("09:55 vitals bp=139/89").permission, Permission::allowed);
  const Verdict systolic = ergometrine_with("09:55 vitals bp=140/89");
  EXPECT_EQ(systolic.permission, Permission::needs_senior);
  EXPECT_EQ(systolic.reasons[0].id, "pressure_now");
  EXPECT_EQ(systolic.reasons[0].rule, "UT-10");
  EXPECT_EQ(systolic.reasons[0].seen, 140);
  EXPECT_TRUE(systolic.second_person);
  const Verdict diastolic = ergometrine_with("09:55 vitals bp=139/90");
  EXPECT_EQ(diastolic.permission, Permission::needs_senior);
  EXPECT_EQ(diastolic.reasons[0].seen, 90);
}

TEST(Give, the_other_ergot_drugs_follow_the_same_pressure) {
  const ToldCase told({well, "09:55 vitals bp=140/80"});
  for (const char* drug : {"drug=methylergometrine dose=0.2 unit=mg", "drug=oxytocin_ergometrine dose=1 unit=mL"})
    EXPECT_EQ(verdict_on(told, std::string("10:00 drug route=im ") + drug).permission, Permission::needs_senior)
        << drug;
}

TEST(Give, ergot_drugs_warn_and_ask_when_the_pressure_is_not_known_or_old) {
  const Verdict none = verdict_on(ToldCase({well}), "10:00 drug drug=ergometrine dose=0.2 unit=mg route=im");
  EXPECT_EQ(none.permission, Permission::warned);
  EXPECT_TRUE(asks(none, "take_bp"));
  EXPECT_FALSE(none.second_person);
  EXPECT_EQ(ergometrine_with("09:40 vitals bp=120/70").permission, Permission::allowed);
  const Verdict old = ergometrine_with("09:39:59 vitals bp=120/70");
  EXPECT_EQ(old.permission, Permission::warned);
  EXPECT_TRUE(asks(old, "take_bp"));
  EXPECT_EQ(ergometrine_with("09:10 vitals bp=150/70").permission, Permission::needs_senior) << "raised stays raised";
}

TEST(Give, a_felt_pressure_low_enough_answers_for_the_diastolic) {
  EXPECT_EQ(ergometrine_with("09:55 vitals sbp=90 palpated=true").permission, Permission::allowed);
  const Verdict unsure = ergometrine_with("09:55 vitals sbp=91 palpated=true");
  EXPECT_EQ(unsure.permission, Permission::warned);
  EXPECT_TRUE(asks(unsure, "take_bp"));
  EXPECT_EQ(ergometrine_with("09:55 vitals sbp=unrecordable").permission, Permission::allowed);
  EXPECT_EQ(ergometrine_with("09:55 vitals sbp=150 palpated=true").permission, Permission::needs_senior);
}

TEST(Give, an_old_diastolic_is_answered_for_by_a_newer_low_systolic) {
  const ToldCase told({well, "09:30 vitals bp=120/70", "09:55 vitals sbp=80 palpated=true"});
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=ergometrine dose=0.2 unit=mg route=im").permission, Permission::allowed);
}

TEST(Give, ergot_drugs_stop_while_the_placenta_is_inside) {
  const char* line = "10:00 drug drug=ergometrine dose=0.2 unit=mg route=im";
  const Verdict inside = with("09:00 opened birth_at=08:30 placenta=in cautions=none", line);
  EXPECT_EQ(inside.permission, Permission::needs_senior);
  EXPECT_EQ(inside.reasons[0].id, "placenta_in");
  EXPECT_EQ(inside.reasons[0].rule, "UT-11");
  const Verdict unknown = with("09:00 opened birth_at=08:30 cautions=none", line);
  EXPECT_EQ(unknown.permission, Permission::warned);
  EXPECT_TRUE(asks(unknown, "ask_placenta"));
  EXPECT_EQ(with("09:00 opened birth_at=08:30 placenta=out_incomplete cautions=none", line).permission,
            Permission::allowed);
}

TEST(Give, a_second_person_named_is_not_asked_for_again) {
  const ToldCase told({well, "09:55 vitals bp=150/95"});
  EXPECT_FALSE(verdict_on(told, "10:00 drug drug=ergometrine dose=0.2 unit=mg route=im second=midwife").second_person);
}

TEST(Give, dinoprostone_stops_below_ninety_systolic) {
  const char* line = "10:00 drug drug=dinoprostone dose=20 unit=mg route=pv";
  EXPECT_EQ(verdict_on(ToldCase({well, "09:55 vitals bp=90/60"}), line).permission, Permission::allowed);
  const Verdict low = verdict_on(ToldCase({well, "09:55 vitals bp=89/60"}), line);
  EXPECT_EQ(low.permission, Permission::needs_senior);
  EXPECT_EQ(low.reasons[0].id, "hypotension_now");
  EXPECT_EQ(low.reasons[0].rule, "UT-3");
  EXPECT_EQ(verdict_on(ToldCase({well, "09:55 vitals sbp=unrecordable"}), line).permission, Permission::needs_senior);
  EXPECT_TRUE(asks(verdict_on(ToldCase({well}), line), "take_bp"));
}

// ---- Birth and other drugs ------------------------------------------------------------------------------------------

TEST(Give, before_birth_a_treatment_is_warned_about_or_stopped) {
  const char* unborn = "09:00 opened birth_mode=undelivered placenta=in cautions=none";
  const Verdict oxytocin = with(unborn, "10:00 drug drug=oxytocin dose=10 unit=IU route=im");
  EXPECT_EQ(oxytocin.permission, Permission::warned);
  EXPECT_EQ(oxytocin.reasons[0].id, "before_birth");
  EXPECT_EQ(oxytocin.reasons[0].rule, "PL-6");
  EXPECT_EQ(with(unborn, "10:00 drug drug=misoprostol dose=800 unit=ug route=sl").permission, Permission::needs_senior);
  EXPECT_EQ(with(unborn, "10:00 drug drug=calcium_chloride dose=10 unit=mL route=iv_slow").permission,
            Permission::allowed);
  EXPECT_EQ(with(unborn, "10:00 drug drug=oxytocin dose=10 unit=IU route=im use=prevention").permission,
            Permission::allowed);
  const Verdict early = with("09:00 opened birth_at=10:01 birth_mode=vaginal cautions=none",
                             "10:00 drug drug=oxytocin dose=10 unit=IU route=im");
  EXPECT_EQ(early.permission, Permission::warned);
  EXPECT_EQ(with("09:00 opened birth_at=10:00 birth_mode=vaginal cautions=none",
                 "10:00 drug drug=oxytocin dose=10 unit=IU route=im")
                .permission,
            Permission::allowed);
  const Verdict txa = with(unborn, "10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow");
  EXPECT_EQ(txa.permission, Permission::warned);
  EXPECT_FALSE(asks(txa, "ask_birth_time"));
}

TEST(Give, birth_not_recorded_is_asked_for) {
  const Verdict verdict = with("09:00 opened cautions=none", "10:00 drug drug=misoprostol dose=800 unit=ug route=sl");
  EXPECT_EQ(verdict.permission, Permission::warned);
  EXPECT_TRUE(asks(verdict, "ask_birth"));
}

TEST(Give, misoprostol_after_preventive_misoprostol_warns) {
  const ToldCase told({well, calm, "09:10 drug drug=misoprostol dose=600 unit=ug route=po use=prevention"});
  const Verdict verdict = verdict_on(told, "10:00 drug drug=misoprostol dose=800 unit=ug route=sl");
  EXPECT_EQ(verdict.permission, Permission::warned);
  EXPECT_EQ(verdict.reasons[0].id, "misoprostol_given");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-6");
}

TEST(Give, misoprostol_beside_running_oxytocin_is_allowed_with_a_note) {
  const ToldCase told({well, calm, "09:50 drug drug=oxytocin dose=20 unit=IU route=iv_infusion state=started"});
  const Verdict verdict = verdict_on(told, "10:00 drug drug=misoprostol dose=800 unit=ug route=sl");
  EXPECT_EQ(verdict.permission, Permission::allowed);
  ASSERT_EQ(verdict.reasons.size(), 1U);
  EXPECT_EQ(verdict.reasons[0].id, "no_added_benefit");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-7");
}

TEST(Give, oxytocin_is_not_withheld_after_preventive_carbetocin) {
  const ToldCase told({well, calm, "09:10 drug drug=carbetocin dose=100 unit=ug route=im use=prevention"});
  const Verdict verdict = verdict_on(told, "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion");
  EXPECT_EQ(verdict.permission, Permission::allowed);
  EXPECT_EQ(verdict.reasons[0].id, "carbetocin_given");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-13");
}

// ---- Outside the table ----------------------------------------------------------------------------------------------

TEST(Give, a_dose_outside_the_table_warns_and_wants_a_second_person) {
  EXPECT_EQ(known("10:00 drug drug=calcium_gluconate dose=20 unit=mL route=iv_slow").permission, Permission::allowed);
  EXPECT_EQ(known("10:00 drug drug=calcium_gluconate dose=30 unit=mL route=iv_slow").permission, Permission::allowed);
  for (const char* dose : {"19", "31", "0"}) {
    const Verdict verdict = known(std::string("10:00 drug drug=calcium_gluconate unit=mL route=iv_slow dose=") + dose);
    EXPECT_EQ(verdict.permission, Permission::warned) << dose;
    EXPECT_EQ(verdict.reasons[0].id, "outside_preset");
    EXPECT_EQ(verdict.reasons[0].rule, "UT-16");
    EXPECT_TRUE(verdict.second_person) << dose;
  }
}

TEST(Give, a_use_or_route_without_a_row_is_outside_the_table) {
  EXPECT_EQ(known("10:00 drug drug=carbetocin dose=100 unit=ug route=im").permission, Permission::warned);
  const Verdict other_route = known("10:00 drug drug=calcium_gluconate dose=20 unit=mL route=iv_infusion");
  EXPECT_NE(reason(other_route, "outside_preset"), nullptr);
  EXPECT_FALSE(known("10:00 drug drug=calcium_gluconate dose=31 unit=mL route=iv_slow second=doctor").second_person);
}

TEST(Give, a_dose_entered_late_is_judged_at_the_moment_it_was_given) {
  const ToldCase told({well, calm, "10:00 drug drug=carboprost dose=0.25 unit=mg route=im"});
  EXPECT_EQ(verdict_on(told, "10:14 drug drug=carboprost dose=0.25 unit=mg route=im", "10:40").permission,
            Permission::needs_override);
  EXPECT_EQ(verdict_on(told, "10:15 drug drug=carboprost dose=0.25 unit=mg route=im", "10:40").permission,
            Permission::allowed);
}

TEST(Give, every_shipped_exclusion_is_understood) {
  const ToldCase told({well, calm});
  const View view = told.at("10:00");
  const Picture picture = picture_of(view);
  const GiveContext context{view, picture.woman, picture.signs, picture.doses};
  for (const protocol::Drug& drug : view.protocol().drugs())
    for (const protocol::Exclusion& exclusion : drug.exclusions)
      EXPECT_EQ(exclusion_holds(exclusion, drug, context).holds, Tri::no) << drug.id << ": " << exclusion.when;
}

TEST(Give, an_exclusion_that_is_not_understood_is_unknown) {
  const ToldCase told({well, calm});
  const View view = told.at("10:00");
  const Picture picture = picture_of(view);
  const GiveContext context{view, picture.woman, picture.signs, picture.doses};
  protocol::Exclusion exclusion;
  for (const char* when : {"moon:full", "sign:hiccups", "given:oxytocin:fun", "placenta:gone", "born:yes"}) {
    exclusion.when = when;
    const ExclusionAnswer answer = exclusion_holds(exclusion, *view.protocol().drug("oxytocin"), context);
    EXPECT_EQ(answer.holds, Tri::unknown) << when;
    EXPECT_EQ(answer.ask, "check_protocol") << when;
  }
}

TEST(Give, worsening_a_sign_never_softens_the_verdict) {
  Permission before = Permission::allowed;
  for (int sbp = 100; sbp <= 200; ++sbp) {
    const std::string vitals = "09:55 vitals bp=" + std::to_string(sbp) + "/70";
    const Permission now = ergometrine_with(vitals).permission;
    EXPECT_GE(now, before) << sbp;
    before = now;
  }
  EXPECT_EQ(before, Permission::needs_senior);
}

}  // namespace
}  // namespace stanch::care

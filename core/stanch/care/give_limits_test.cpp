// Sources: WHO, Managing complications in pregnancy and childbirth, 2017; RCOG Green-top 52, 2016; WHO uterotonics,
// 2018 (all from memory). Each limit exactly at it and one step off.
#include "stanch/care/give_limits.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_verdict.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::reason;
using support::ToldCase;
using support::verdict_on;

constexpr std::string_view well = "06:00 opened birth_at=05:30 birth_mode=vaginal placenta=out_complete cautions=none";

ToldCase told_with(std::initializer_list<std::string_view> doses) {
  ToldCase told({well, "06:01 vitals pulse=90 bp=120/70", "09:55 vitals pulse=90 bp=120/70"});
  for (const std::string_view dose : doses) told.tell(dose);
  return told;
}

constexpr std::string_view carboprost = " drug drug=carboprost dose=0.25 unit=mg route=im";
std::string at(std::string_view time, std::string_view dose) { return std::string(time) + std::string(dose); }

TEST(GiveLimits, carboprost_again_from_fifteen_minutes) {
  const ToldCase told = told_with({"10:00 drug drug=carboprost dose=0.25 unit=mg route=im"});
  const Verdict early = verdict_on(told, at("10:14:59", carboprost));
  EXPECT_EQ(early.permission, Permission::needs_override);
  EXPECT_EQ(early.reasons[0].id, "too_soon");
  EXPECT_EQ(early.reasons[0].rule, "UT-1");
  EXPECT_EQ(early.reasons[0].at, clock("10:00"));
  EXPECT_EQ(early.allowed_at, clock("10:15"));
  const Verdict later = verdict_on(told, at("10:15", carboprost));
  EXPECT_EQ(later.permission, Permission::allowed);
  EXPECT_FALSE(later.allowed_at);
}

TEST(GiveLimits, waiting_is_not_promised_when_something_else_stops_too) {
  ToldCase told = told_with({"09:58 drug drug=carboprost dose=0.25 unit=mg route=im"});
  EXPECT_FALSE(verdict_on(told, "10:00 drug drug=carboprost dose=2 unit=mg route=im").allowed_at);
  told.tell("09:59 opened cautions=asthma");
  const Verdict both = verdict_on(told, at("10:00", carboprost));
  EXPECT_EQ(both.permission, Permission::needs_senior);
  EXPECT_NE(reason(both, "too_soon"), nullptr);
  EXPECT_FALSE(both.allowed_at);
}

TEST(GiveLimits, a_ninth_carboprost_is_stopped_by_count_and_amount) {
  ToldCase told = told_with({});
  for (int i = 0; i < 7; ++i) told.tell(at("06:" + std::to_string(10 + 5 * i), carboprost));
  EXPECT_EQ(verdict_on(told, at("10:00", carboprost)).permission, Permission::allowed);
  told.tell(at("07:00", carboprost));
  const Verdict ninth = verdict_on(told, at("10:00", carboprost));
  EXPECT_EQ(ninth.permission, Permission::needs_override);
  ASSERT_NE(reason(ninth, "ceiling_doses"), nullptr);
  EXPECT_EQ(reason(ninth, "ceiling_doses")->seen, 8);
  ASSERT_NE(reason(ninth, "ceiling_total"), nullptr);
  EXPECT_EQ(reason(ninth, "ceiling_total")->seen, 2.25);
  EXPECT_FALSE(ninth.allowed_at);
}

TEST(GiveLimits, ergot_waits_fifteen_minutes_then_four_hours) {
  ToldCase told = told_with({"06:10 drug drug=ergometrine dose=0.2 unit=mg route=im"});
  constexpr std::string_view dose = " drug drug=ergometrine dose=0.2 unit=mg route=im";
  EXPECT_EQ(verdict_on(told, at("06:15", dose)).permission, Permission::needs_override);
  EXPECT_EQ(verdict_on(told, at("06:20", dose)).allowed_at, clock("06:25"));
  told.tell(at("06:25", dose));
  const Verdict third = verdict_on(told, at("10:00", dose));
  EXPECT_EQ(third.permission, Permission::needs_override);
  EXPECT_EQ(third.allowed_at, clock("10:25"));
  told.tell("10:20 vitals bp=120/70");
  EXPECT_EQ(verdict_on(told, at("10:24:59", dose)).permission, Permission::needs_override);
  EXPECT_EQ(verdict_on(told, at("10:25", dose)).permission, Permission::allowed);
}

TEST(GiveLimits, ergot_drugs_share_interval_and_milligram) {
  ToldCase told = told_with({"09:50 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im use=prevention"});
  const Verdict soon = verdict_on(told, "10:00 drug drug=methylergometrine dose=0.2 unit=mg route=im");
  EXPECT_EQ(soon.permission, Permission::needs_override);
  EXPECT_EQ(soon.allowed_at, clock("10:05"));
  EXPECT_EQ(verdict_on(told, "10:05 drug drug=ergometrine dose=0.5 unit=mg route=im").permission, Permission::allowed);
  const Verdict over = verdict_on(told, "10:05 drug drug=ergometrine dose=0.6 unit=mg route=im");
  ASSERT_NE(reason(over, "ceiling_total"), nullptr);
  EXPECT_EQ(reason(over, "ceiling_total")->seen, 1.1);
}

TEST(GiveLimits, at_one_milligram_of_ergot_the_next_dose_is_stopped) {
  ToldCase told = told_with({"06:10 drug drug=ergometrine dose=0.5 unit=mg route=im",
                             "06:30 drug drug=ergometrine dose=0.5 unit=mg route=im"});
  told.tell("10:25 vitals bp=120/70");
  const Verdict verdict = verdict_on(told, "10:30 drug drug=ergometrine dose=0.2 unit=mg route=im");
  EXPECT_EQ(verdict.permission, Permission::needs_override);
  EXPECT_EQ(verdict.reasons[0].id, "ceiling_total");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-2");
}

TEST(GiveLimits, five_doses_of_ergot_are_the_most) {
  ToldCase told = told_with({});
  for (const char* time : {"06:10", "06:11", "06:12", "06:13"})
    told.tell(at(time, " drug drug=ergometrine dose=0.1 unit=mg route=im"));
  told.tell("10:55 vitals bp=120/70");
  EXPECT_EQ(reason(verdict_on(told, "11:00 drug drug=ergometrine dose=0.2 unit=mg route=im"), "ceiling_doses"),
            nullptr);
  told.tell("06:14 drug drug=ergometrine dose=0.1 unit=mg route=im");
  EXPECT_NE(reason(verdict_on(told, "11:00 drug drug=ergometrine dose=0.2 unit=mg route=im"), "ceiling_doses"),
            nullptr);
}

TEST(GiveLimits, a_combined_ampoule_is_held_to_the_limits_of_its_parts) {
  ToldCase told = told_with({"09:30 drug drug=ergometrine dose=0.2 unit=mg route=im"});
  EXPECT_EQ(verdict_on(told, "09:44 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im").allowed_at,
            clock("09:45"));
  told.tell("09:31 drug drug=ergometrine dose=0.4 unit=mg route=im");
  const Verdict over = verdict_on(told, "10:00 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im");
  ASSERT_NE(reason(over, "ceiling_total"), nullptr);
  EXPECT_EQ(reason(over, "ceiling_total")->about, "ergometrine");
  EXPECT_EQ(reason(over, "ceiling_total")->seen, 1.1);
}

TEST(GiveLimits, a_second_combined_ampoule_is_stopped) {
  const ToldCase told = told_with({"06:10 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im use=prevention"});
  EXPECT_NE(reason(verdict_on(told, "10:00 drug drug=oxytocin_ergometrine dose=1 unit=mL route=im"), "ceiling_doses"),
            nullptr);
}

TEST(GiveLimits, carbetocin_is_given_once) {
  const ToldCase told = told_with({"06:10 drug drug=carbetocin dose=100 unit=ug route=im use=prevention"});
  const Verdict verdict = verdict_on(told, "10:00 drug drug=carbetocin dose=100 unit=ug route=im use=prevention");
  EXPECT_EQ(verdict.permission, Permission::needs_override);
  EXPECT_EQ(verdict.reasons[0].id, "ceiling_doses");
  EXPECT_EQ(verdict.reasons[0].rule, "UT-8");
}

TEST(GiveLimits, misoprostol_once_for_each_use) {
  ToldCase told = told_with({"06:10 drug drug=misoprostol dose=600 unit=ug route=po use=prevention"});
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=misoprostol dose=800 unit=ug route=sl").permission, Permission::warned);
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=misoprostol dose=600 unit=ug route=po use=prevention").permission,
            Permission::needs_override);
  told.tell("08:00 drug drug=misoprostol dose=800 unit=ug route=sl");
  const Verdict again = verdict_on(told, "10:00 drug drug=misoprostol dose=800 unit=ug route=sl");
  EXPECT_EQ(again.permission, Permission::needs_override);
  EXPECT_NE(reason(again, "ceiling_doses"), nullptr);
  EXPECT_EQ(reason(again, "ceiling_total")->seen, 1600);
}

TEST(GiveLimits, sulprostone_counts_a_day_back) {
  constexpr std::string_view dose = " drug drug=sulprostone dose=500 unit=ug route=iv_infusion";
  ToldCase told = told_with({"06:10 drug drug=sulprostone dose=500 unit=ug route=iv_infusion",
                             "07:10 drug drug=sulprostone dose=500 unit=ug route=iv_infusion"});
  EXPECT_EQ(verdict_on(told, at("09:10", dose)).permission, Permission::allowed);
  told.tell(at("08:10", dose));
  EXPECT_EQ(verdict_on(told, at("10:00", dose)).permission, Permission::needs_override);
  EXPECT_EQ(verdict_on(told, at("30:10", dose)).permission, Permission::needs_override) << "exactly a day: counts";
  EXPECT_EQ(verdict_on(told, at("30:10:01", dose)).permission, Permission::allowed);
}

// ---- Oxytocin -------------------------------------------------------------------------------------------------------

TEST(GiveLimits, a_fast_bolus_above_five_units_is_warned_about) {
  const ToldCase told = told_with({});
  EXPECT_EQ(reason(verdict_on(told, "10:00 drug drug=oxytocin dose=5 unit=IU route=iv_bolus"), "fast_bolus"), nullptr);
  const Verdict ten = verdict_on(told, "10:00 drug drug=oxytocin dose=10 unit=IU route=iv_bolus");
  EXPECT_EQ(ten.permission, Permission::warned);
  ASSERT_NE(reason(ten, "fast_bolus"), nullptr);
  EXPECT_EQ(reason(ten, "fast_bolus")->rule, "UT-5");
  EXPECT_EQ(reason(ten, "fast_bolus")->seen, 10);
  EXPECT_EQ(reason(verdict_on(told, "10:00 drug drug=oxytocin dose=10 unit=IU route=iv_slow"), "fast_bolus"), nullptr);
  EXPECT_EQ(reason(verdict_on(told, "10:00 drug drug=oxytocin dose=10 unit=IU route=iv_bolus infusion=200ml/10min"),
                   "fast_bolus"),
            nullptr);
}

TEST(GiveLimits, boluses_together_stop_above_ten_units) {
  ToldCase told = told_with({"09:00 drug drug=oxytocin dose=5 unit=IU route=iv_slow",
                             "09:05 drug drug=oxytocin dose=10 unit=IU route=im",
                             "09:06 drug drug=oxytocin dose=10 unit=IU route=iv_slow infusion=200ml/10min",
                             "06:05 drug drug=oxytocin dose=10 unit=IU route=iv_slow use=prevention"});
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=oxytocin dose=5 unit=IU route=iv_slow").permission, Permission::allowed);
  EXPECT_NE(reason(verdict_on(told, "10:00 drug drug=oxytocin dose=6 unit=IU route=iv_slow"), "bolus_total"), nullptr);
  told.tell("09:30 drug drug=oxytocin dose=5 unit=IU route=iv_bolus");
  const Verdict third = verdict_on(told, "10:00 drug drug=oxytocin dose=5 unit=IU route=iv_slow");
  EXPECT_EQ(third.permission, Permission::needs_override);
  EXPECT_EQ(third.reasons[0].id, "bolus_total");
  EXPECT_EQ(third.reasons[0].seen, 15);
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=oxytocin dose=10 unit=IU route=im").permission, Permission::allowed);
}

TEST(GiveLimits, sixty_units_and_three_litres_are_the_most_for_treatment) {
  constexpr std::string_view litre = " drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/300min";
  ToldCase told = told_with({"05:31 drug drug=oxytocin dose=10 unit=IU route=im use=prevention"});
  told.tell(at("06:10", litre));
  told.tell(at("07:10", litre));
  EXPECT_EQ(verdict_on(told, at("10:00", litre)).permission, Permission::allowed);
  const Verdict more =
      verdict_on(told, "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1001ml/300min");
  EXPECT_EQ(more.permission, Permission::needs_override);
  EXPECT_EQ(more.reasons[0].id, "ceiling_fluid");
  EXPECT_EQ(more.reasons[0].seen, 3001);
  told.tell(at("08:10", litre));
  const Verdict fourth = verdict_on(told, at("10:00", litre));
  EXPECT_EQ(fourth.permission, Permission::needs_override);
  EXPECT_EQ(reason(fourth, "ceiling_total")->seen, 80);
  EXPECT_EQ(reason(fourth, "ceiling_fluid")->seen, 4000);
}

TEST(GiveLimits, a_ward_may_count_preventive_oxytocin_too) {
  const auto ward =
      support::ward_protocol(R"({"drug.oxytocin.ceiling_counts": "all", "drug.oxytocin.ceiling_total": 40})");
  const ToldCase told({well, "06:05 drug drug=oxytocin dose=10 unit=IU route=im use=prevention",
                       "06:10 drug drug=oxytocin dose=20 unit=IU route=iv_infusion"},
                      ward);
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=oxytocin dose=10 unit=IU route=iv_infusion").permission,
            Permission::allowed);
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion").permission,
            Permission::needs_override);
}

TEST(GiveLimits, an_earlier_dose_of_unknown_amount_warns_and_never_frees) {
  ToldCase told = told_with({"06:10 drug drug=oxytocin route=iv_infusion"});
  const Verdict warned = verdict_on(told, "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion");
  EXPECT_EQ(warned.permission, Permission::warned);
  EXPECT_EQ(warned.reasons[0].id, "earlier_dose_not_known");
  told.tell("06:20 drug drug=oxytocin dose=60 unit=IU route=iv_infusion");
  EXPECT_EQ(verdict_on(told, "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion").permission,
            Permission::needs_override);
}

TEST(GiveLimits, a_dose_of_unknown_amount_is_still_stopped_by_interval_and_count) {
  const ToldCase told = told_with({"10:00 drug drug=carboprost dose=0.25 unit=mg route=im"});
  EXPECT_EQ(verdict_on(told, "10:10 drug drug=carboprost route=im").permission, Permission::needs_override);
}

TEST(GiveLimits, what_is_left_of_the_ceiling) {
  const ToldCase told = told_with({"06:10 drug drug=oxytocin dose=20 unit=IU route=iv_infusion",
                                   "06:20 drug drug=misoprostol dose=1000 unit=ug route=sl",
                                   "06:05 drug drug=oxytocin dose=10 unit=IU route=im use=prevention"});
  const View view = told.at("10:00");
  const Picture picture = picture_of(view);
  const GiveContext context{view, picture.woman, picture.signs, picture.doses};
  const auto left = [&](const char* drug) {
    return left_of_total(*view.protocol().drug(drug), record::DrugUse::treatment, context);
  };
  EXPECT_EQ(left("oxytocin"), 40);
  EXPECT_EQ(left("misoprostol"), 0);
  EXPECT_EQ(left("carboprost"), 2);
  EXPECT_EQ(left("dinoprostone"), std::nullopt);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/transfusion.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/proposed_entry.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;
using Ids = std::vector<std::string>;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

Severity bleed(std::optional<double> loss_ml, int pulse = 90, int sbp = 120, Tri ongoing = Tri::yes) {
  Severity severity;
  severity.triggered = Tri::yes;
  severity.ongoing = ongoing;
  severity.loss_ml = loss_ml;
  severity.pulse = record::Sought<PulseRate>{PulseRate(pulse)};
  severity.sbp = record::Sought<Pressure>{Pressure(sbp)};
  return severity;
}

Ids ids_of(const std::vector<Reason>& reasons) {
  Ids out;
  for (const Reason& reason : reasons) out.push_back(reason.id);
  return out;
}

// Source: Anesth Analg 2017;124:216-32: more than 1000 mL and continuing, or clinical shock.
TEST(Transfusion, red_cells_start_above_a_litre_while_bleeding) {
  EXPECT_EQ(red_cells_indicated(bleed(1001), shipped()), Tri::yes);
  EXPECT_EQ(red_cells_indicated(bleed(1000), shipped()), Tri::no);
  EXPECT_EQ(red_cells_indicated(bleed(1001, 90, 120, Tri::no), shipped()), Tri::no);
  EXPECT_EQ(red_cells_indicated(bleed(1001, 90, 120, Tri::unknown), shipped()), Tri::unknown);
  EXPECT_EQ(red_cells_indicated(bleed(400, 110, 89, Tri::no), shipped()), Tri::yes);
  EXPECT_EQ(red_cells_indicated(bleed({}), shipped()), Tri::unknown);
}

// Source: staged guideline and El Ayadi et al. 2016, derived.
TEST(Transfusion, each_limb_of_the_major_trigger_holds_by_itself) {
  EXPECT_EQ(ids_of(major_haemorrhage(bleed(1500), 0, shipped()).reasons), Ids{"loss_and_still_bleeding"});
  EXPECT_EQ(major_haemorrhage(bleed(1499), 0, shipped()).met, Tri::no);
  EXPECT_EQ(ids_of(major_haemorrhage(bleed(900, 140, 100), 0, shipped()).reasons), Ids{"shock_index_very_high"});
  EXPECT_EQ(major_haemorrhage(bleed(900, 139, 100), 0, shipped()).met, Tri::no);
  EXPECT_EQ(ids_of(major_haemorrhage(bleed(900), 4, shipped()).reasons), Ids{"many_red_cells_in_an_hour"});
  EXPECT_EQ(major_haemorrhage(bleed(900), 3.5, shipped()).met, Tri::no);
  EXPECT_EQ(ids_of(major_haemorrhage(bleed(900, 110, 89), 0, shipped()).reasons), Ids{"shock_and_still_bleeding"});
  EXPECT_EQ(major_haemorrhage(bleed(900, 110, 89, Tri::no), 0, shipped()).met, Tri::no);
}

TEST(Transfusion, missing_inputs_leave_the_major_trigger_unknown) {
  EXPECT_EQ(major_haemorrhage(bleed({}), 0, shipped()).met, Tri::unknown);
  EXPECT_EQ(major_haemorrhage(bleed(1500, 90, 120, Tri::unknown), 0, shipped()).met, Tri::unknown);
  Severity no_pressure = bleed(900);
  no_pressure.sbp = {};
  EXPECT_EQ(major_haemorrhage(no_pressure, 0, shipped()).met, Tri::unknown);
  EXPECT_EQ(major_haemorrhage(Severity{}, 4, shipped()).met, Tri::yes);
}

TEST(Transfusion, reason_shows_the_index_only_when_there_is_one) {
  EXPECT_NEAR(*major_haemorrhage(bleed(900, 140, 100), 0, shipped()).reasons.front().seen, 1.4, 1e-12);
  Severity unfelt = bleed(900);
  unfelt.sbp = record::Sought<Pressure>{};
  EXPECT_FALSE(major_haemorrhage(unfelt, 0, shipped()).reasons.front().seen);
  EXPECT_FALSE(major_haemorrhage(bleed(900, 90, 0), 0, shipped()).reasons.front().seen);
}

TEST(Transfusion, products_are_counted_in_units) {
  const ToldCase told({"10:00 blood product=red_cells units=2", "10:10 blood product=red_cells ml=500",
                       "10:20 blood product=plasma ml=550", "10:20 blood product=platelets ml=300",
                       "10:20 blood product=cryo units=2", "10:20 blood product=fibrinogen g=3",
                       "10:30 blood product=whole_blood ml=450"});
  const ProductsGiven given = products_given(told.at("10:40"));
  EXPECT_EQ(given.red_cells, 5);
  EXPECT_EQ(given.plasma, 3);
  EXPECT_EQ(given.platelets, 1);
  EXPECT_EQ(given.cryo, 2);
  EXPECT_EQ(given.fibrinogen_g, 3);
  EXPECT_EQ(given.whole_blood, 1);
  EXPECT_EQ(given.last_red_cells, clock("10:30"));
}

TEST(Transfusion, the_last_hour_includes_its_first_instant) {
  const ToldCase told({"10:00 blood product=red_cells units=3", "10:30 blood product=red_cells units=1"});
  EXPECT_EQ(products_given(told.at("11:00")).red_cells_in_hour, 4);
  EXPECT_EQ(products_given(told.at("11:00")).next_change, clock("11:00") + Duration::milliseconds(1));
  EXPECT_EQ(products_given(told.at("11:00:01")).red_cells_in_hour, 1);
  EXPECT_FALSE(products_given(told.at("12:00")).next_change);
}

TEST(Transfusion, units_expected_count_as_well_as_units_given) {
  const ToldCase told({"10:00 finding what=red_cells_expected value=4"});
  const View view = told.at("10:05");
  EXPECT_EQ(transfusion(view, woman(view), bleed(900), BloodTargets{}).major.met, Tri::yes);
  const ToldCase fewer(
      {"10:00 finding what=red_cells_expected value=3", "10:01 finding what=red_cells_expected value=no"});
  const View other = fewer.at("10:05");
  EXPECT_EQ(transfusion(other, woman(other), bleed(900), BloodTargets{}).major.met, Tri::no);
}

// Source: Anesth Analg 2017;124:216-32: group O RhD negative until hers is known.
TEST(Transfusion, issues_the_emergency_group_until_hers_is_known) {
  Woman woman;
  EXPECT_EQ(issue_for(woman, shipped()).group, "O-");
  EXPECT_EQ(issue_for(woman, shipped()).crossmatch, "uncrossmatched");
  woman.blood_group = "unknown";
  EXPECT_FALSE(issue_for(woman, shipped()).group_known);
  woman.blood_group = "B+";
  EXPECT_EQ(issue_for(woman, shipped()).group, "B+");
  EXPECT_EQ(issue_for(woman, shipped()).crossmatch, "when_ready");
}

Transfusion judged(const ToldCase& told, std::string_view at, const Severity& severity = bleed(2000)) {
  const View view = told.at(at);
  return transfusion(view, woman(view), severity, blood_targets(view));
}

TEST(Transfusion, rhd_positive_cells_ask_a_negative_woman_for_anti_d) {
  ToldCase told({"10:00 opened blood_group=A-", "10:00 blood product=red_cells units=1 group=O+"});
  EXPECT_EQ(judged(told, "10:05").anti_d_decision, Tri::yes);
  told.tell("10:06 finding what=anti_d value=declined");
  EXPECT_EQ(judged(told, "10:07").anti_d_decision, Tri::no);
  ToldCase treated({"10:00 opened blood_group=A-", "10:00 blood product=red_cells units=1 group=O+",
                    "10:06 drug drug=anti_d dose=1500 unit=IU route=im"});
  EXPECT_EQ(judged(treated, "10:07").anti_d_decision, Tri::no);
}

TEST(Transfusion, anti_d_is_not_asked_where_it_has_no_use) {
  EXPECT_EQ(judged(ToldCase({"10:00 opened blood_group=A-", "10:00 blood product=red_cells units=1 group=O-"}), "10:05")
                .anti_d_decision,
            Tri::no);
  EXPECT_EQ(judged(ToldCase({"10:00 opened blood_group=A+", "10:00 blood product=red_cells units=1 group=O+"}), "10:05")
                .anti_d_decision,
            Tri::no);
  EXPECT_EQ(judged(ToldCase({"10:00 opened blood_group=A-", "10:00 blood product=plasma units=1 group=A+"}), "10:05")
                .anti_d_decision,
            Tri::no);
  EXPECT_EQ(judged(ToldCase({"10:00 blood product=red_cells units=1 group=O+"}), "10:05").anti_d_decision,
            Tri::unknown);
  EXPECT_EQ(judged(ToldCase({"10:00 opened cautions=rhd_negative", "10:00 blood product=red_cells units=1 group=O+"}),
                   "10:05")
                .anti_d_decision,
            Tri::yes);
}

// The default ratio 4:4:1 (regional practice, read in a secondary text).
TEST(Transfusion, fixed_ratio_owes_plasma_and_platelets_after_four_red_cells) {
  ToldCase told({"10:00 blood product=red_cells units=3"});
  EXPECT_EQ(judged(told, "10:05").plasma_wanted, 0);
  EXPECT_EQ(judged(told, "10:05").platelets_wanted, 0);
  told.tell("10:06 blood product=red_cells units=1");
  EXPECT_EQ(judged(told, "10:07").plasma_wanted, 4);
  EXPECT_EQ(judged(told, "10:07").platelets_wanted, 1);
  told.tell("10:08 blood product=plasma units=3");
  told.tell("10:08 blood product=platelets units=1");
  EXPECT_EQ(judged(told, "10:09").plasma_wanted, 1);
  EXPECT_EQ(judged(told, "10:09").platelets_wanted, 0);
  told.tell("10:10 blood product=plasma units=2");
  EXPECT_EQ(judged(told, "10:11").plasma_wanted, 0);
  told.tell("10:12 blood product=red_cells units=4");
  EXPECT_EQ(judged(told, "10:13").plasma_wanted, 3);
  EXPECT_EQ(judged(told, "10:13").platelets_wanted, 1);
}

TEST(Transfusion, the_first_clotting_result_ends_the_fixed_ratio) {
  const ToldCase told({"10:00 blood product=red_cells units=4", "10:10 lab fibrinogen_gl=3.0"});
  EXPECT_EQ(judged(told, "10:05").strategy, Strategy::fixed_ratio);
  EXPECT_EQ(judged(told, "10:10").strategy, Strategy::by_results);
  EXPECT_EQ(judged(told, "10:10").plasma_wanted, 0);
  EXPECT_EQ(judged(told, "10:10").platelets_wanted, 0);
}

TEST(Transfusion, a_ward_may_keep_to_one_strategy) {
  const auto strategy = [](const char* chosen, std::string_view lab) {
    const ToldCase told({lab}, support::ward_protocol(R"({"transfusion.strategy": ")" + std::string(chosen) + "\"}"));
    return word(judged(told, "10:10").strategy);
  };
  EXPECT_EQ(strategy("fixed", "10:00 lab fibrinogen_gl=3.0"), "fixed_ratio");
  EXPECT_EQ(strategy("by_results", "10:00 lab hb_gl=90"), "by_results");
}

struct Advised {
  Ids ids;
  std::optional<Moment> next_change;
  std::vector<Due> due;
};

Advised advised(const ToldCase& told, std::string_view at, const Severity& severity, bool primary_care = false) {
  const View view = told.at(at);
  AdviceBuilder out(view.now());
  const Woman who = woman(view);
  advise_transfusion(transfusion(view, who, severity, blood_targets(view)), who, severity, primary_care, view, out);
  Advice advice = std::move(out).finish();
  Advised result{{}, advice.next_change, advice.due};
  for (const Due& due : advice.due) result.ids.push_back(due.id + " " + std::string(word(due.priority)));
  for (const Unknown& unknown : advice.unknown) result.ids.push_back("unknown " + unknown.id);
  for (const Notice& notice : advice.notices) result.ids.push_back("notice " + notice.id);
  return result;
}

TEST(Transfusion, activation_is_asked_until_the_blood_bank_is_called) {
  ToldCase told({"10:00 opened blood_group=A+"});
  EXPECT_EQ(advised(told, "10:05", bleed(1500)).ids, (Ids{"activate_major_haemorrhage high", "give_red_cells high"}));
  told.tell("10:06 call who=blood_bank state=called");
  EXPECT_EQ(advised(told, "10:07", bleed(1500)).ids, Ids{"give_red_cells high"});
  ToldCase named({"10:00 opened blood_group=A+", "10:06 call who=major_haemorrhage state=called"});
  EXPECT_EQ(advised(named, "10:07", bleed(1500)).ids, Ids{"give_red_cells high"});
}

TEST(Transfusion, loss_alone_is_enough_when_nobody_said_it_stopped) {
  const ToldCase told({"10:00 opened blood_group=A+"});
  EXPECT_EQ(advised(told, "10:05", bleed(1500, 90, 120, Tri::unknown)).ids,
            (Ids{"activate_major_haemorrhage high", "give_red_cells high", "unknown ask_bleeding"}));
  EXPECT_EQ(advised(told, "10:05", bleed(1001, 90, 120, Tri::unknown)).ids,
            (Ids{"give_red_cells high", "unknown ask_bleeding"}));
  EXPECT_EQ(advised(told, "10:05", bleed(1000, 90, 120, Tri::unknown)).ids, Ids{});
  EXPECT_EQ(advised(told, "10:05", bleed(3000, 90, 120, Tri::no)).ids, Ids{});
}

TEST(Transfusion, the_first_pack_names_units_and_group) {
  const auto due = advised(ToldCase({"10:00 vitals pulse=90"}), "10:05", bleed(1200)).due;
  ASSERT_EQ(due.size(), 1U);
  EXPECT_EQ(std::get<double>(due.front().arguments[0].value), 4);
  EXPECT_EQ(std::get<std::string>(due.front().arguments[1].value), "O-");
}

TEST(Transfusion, an_unknown_group_is_asked_for) {
  EXPECT_EQ(advised(ToldCase({"10:00 vitals pulse=90"}), "10:05", bleed(1200)).ids,
            (Ids{"give_red_cells high", "unknown ask_blood_group"}));
}

TEST(Transfusion, red_cells_given_end_the_call_for_the_first_pack) {
  const ToldCase told({"10:00 opened blood_group=A+", "10:01 blood product=red_cells units=1 group=A+"});
  EXPECT_EQ(advised(told, "10:05", bleed(1200)).ids, Ids{});
}

TEST(Transfusion, calcium_follows_four_red_cells) {
  ToldCase told({"10:00 opened blood_group=A+ weight_kg=70", "10:00 call who=blood_bank state=called",
                 "10:00 lab fibrinogen_gl=3", "10:01 blood product=red_cells units=3 group=A+"});
  EXPECT_EQ(advised(told, "10:05", bleed(2000)).ids, Ids{});
  told.tell("10:06 blood product=red_cells units=1 group=A+");
  EXPECT_EQ(advised(told, "10:07", bleed(2000)).ids, Ids{"give_calcium medium"});
  told.tell("10:08 drug drug=calcium_chloride dose=10 unit=mL route=iv_slow");
  EXPECT_EQ(advised(told, "10:09", bleed(2000)).ids, Ids{});
  told.tell("10:10 blood product=red_cells units=4 group=A+");
  EXPECT_EQ(advised(told, "10:11", bleed(2000)).ids, Ids{"give_calcium medium"});
}

TEST(Transfusion, plasma_is_dosed_in_units_and_by_weight) {
  const ToldCase told({"10:00 opened blood_group=A+ weight_kg=70", "10:00 call who=blood_bank state=called",
                       "10:01 blood product=red_cells units=4 group=A+"});
  const Advised out = advised(told, "10:05", bleed(2000));
  EXPECT_EQ(out.ids, (Ids{"give_calcium medium", "give_plasma medium", "give_platelets medium"}));
  EXPECT_EQ(std::get<double>(out.due[1].arguments[0].value), 4);
  EXPECT_EQ(std::get<double>(out.due[1].arguments[1].value), 1050);
  EXPECT_EQ(std::get<double>(out.due[2].arguments[0].value), 1);
  EXPECT_EQ(out.next_change, clock("11:01") + Duration::milliseconds(1));
}

TEST(Transfusion, primary_care_is_not_told_to_run_a_blood_bank) {
  EXPECT_EQ(advised(ToldCase({"10:00 opened blood_group=A+"}), "10:05", bleed(2000), true).ids, Ids{});
  EXPECT_EQ(advised(ToldCase({"10:00 opened blood_group=A-", "10:01 blood product=red_cells units=4 group=O+"}),
                    "10:05", bleed(2000), true)
                .ids,
            (Ids{"give_calcium medium", "decide_anti_d low"}));
}

TEST(Transfusion, a_woman_who_declines_blood_is_not_offered_it) {
  const ToldCase told({"10:00 opened blood_group=A+ cautions=declines_blood"});
  EXPECT_EQ(advised(told, "10:05", bleed(2000)).ids, (Ids{"activate_major_haemorrhage high", "notice declines_blood"}));
}

TEST(Transfusion, silent_without_a_bleed) {
  Severity none;
  none.triggered = Tri::no;
  none.loss_ml = 2000;
  EXPECT_EQ(advised(ToldCase({"10:00 vitals pulse=90"}), "10:05", none).ids, Ids{});
}

TEST(Transfusion, asks_her_group_when_positive_cells_went_in) {
  EXPECT_EQ(advised(ToldCase({"10:01 blood product=red_cells units=1 group=O+"}), "10:05", bleed(600)).ids,
            Ids{"unknown ask_blood_group"});
}

Verdict may(std::string_view opened, std::string_view line, const protocol::Protocol& protocol = shipped()) {
  const ToldCase told({opened}, protocol);
  const View view = told.at("10:05");
  return may_blood(woman(view), view, std::get<record::Blood>(support::proposed(line).payload));
}

TEST(Transfusion, may_checks_red_cells_against_her_group) {
  constexpr auto a_positive = "10:00 opened blood_group=A+";
  EXPECT_EQ(may(a_positive, "10:05 blood product=red_cells units=1 group=A+").permission, Permission::allowed);
  EXPECT_EQ(may(a_positive, "10:05 blood product=red_cells units=1 group=O+").permission, Permission::allowed);
  const Verdict wrong = may(a_positive, "10:05 blood product=red_cells units=1 group=B+");
  EXPECT_EQ(wrong.permission, Permission::needs_senior);
  EXPECT_EQ(wrong.reasons.front().id, "group_does_not_fit");
  EXPECT_TRUE(wrong.second_person);
}

TEST(Transfusion, may_checks_plasma_the_other_way) {
  constexpr auto a_positive = "10:00 opened blood_group=A+";
  EXPECT_EQ(may(a_positive, "10:05 blood product=plasma units=1 group=AB-").permission, Permission::allowed);
  EXPECT_EQ(may(a_positive, "10:05 blood product=plasma units=1 group=O+").permission, Permission::needs_senior);
}

TEST(Transfusion, may_checks_whole_blood_both_ways) {
  constexpr auto a_positive = "10:00 opened blood_group=A+";
  EXPECT_EQ(may(a_positive, "10:05 blood product=whole_blood units=1 group=A+").permission, Permission::allowed);
  EXPECT_EQ(may(a_positive, "10:05 blood product=whole_blood units=1 group=O+").permission, Permission::needs_senior);
}

TEST(Transfusion, may_gives_only_the_emergency_group_while_hers_is_unknown) {
  constexpr auto unknown = "10:00 opened blood_group=unknown";
  const Verdict allowed = may(unknown, "10:05 blood product=red_cells units=1 group=O-");
  EXPECT_EQ(allowed.permission, Permission::allowed);
  EXPECT_EQ(allowed.ask, Ids{"ask_blood_group"});
  EXPECT_EQ(may(unknown, "10:05 blood product=red_cells units=1 group=O+").reasons.front().id, "rhd_positive_cells");
  EXPECT_EQ(may(unknown, "10:05 blood product=red_cells units=1 group=A-").permission, Permission::needs_senior);
  EXPECT_EQ(may(unknown, "10:05 blood product=red_cells units=1 group=B-").permission, Permission::needs_senior);
  EXPECT_EQ(may(unknown, "10:05 blood product=plasma units=1 group=AB+").permission, Permission::allowed);
  EXPECT_EQ(may(unknown, "10:05 blood product=plasma units=1 group=A+").permission, Permission::needs_senior);
  EXPECT_EQ(may(unknown, "10:05 blood product=plasma units=1 group=B+").permission, Permission::needs_senior);
}

TEST(Transfusion, a_ward_may_issue_positive_cells_in_an_emergency) {
  const auto ward = support::ward_protocol(R"({"transfusion.emergency_group": "O+"})");
  constexpr auto unknown = "10:00 opened blood_group=unknown";
  EXPECT_EQ(may(unknown, "10:05 blood product=red_cells units=1 group=O+", ward).permission, Permission::allowed);
  EXPECT_EQ(
      may("10:00 opened cautions=rhd_negative", "10:05 blood product=red_cells units=1 group=O+", ward).permission,
      Permission::warned);
}

TEST(Transfusion, may_warns_of_positive_cells_for_a_negative_woman) {
  const Verdict warned = may("10:00 opened blood_group=O-", "10:05 blood product=red_cells units=1 group=O+");
  EXPECT_EQ(warned.permission, Permission::warned);
  EXPECT_EQ(warned.reasons.front().rule, "TR-4");
  EXPECT_EQ(may("10:00 opened blood_group=O-", "10:05 blood product=plasma units=1 group=O+").permission,
            Permission::allowed);
}

TEST(Transfusion, may_asks_what_the_unit_says) {
  const Verdict unread = may("10:00 opened blood_group=O-", "10:05 blood product=red_cells units=1");
  EXPECT_EQ(unread.permission, Permission::warned);
  EXPECT_EQ(unread.ask, Ids{"read_group_on_unit"});
}

TEST(Transfusion, products_without_a_group_still_need_a_second_person) {
  const Verdict platelets = may("10:00 opened blood_group=O-", "10:05 blood product=platelets units=1");
  EXPECT_EQ(platelets.permission, Permission::allowed);
  EXPECT_TRUE(platelets.second_person);
  EXPECT_FALSE(may("10:00 opened blood_group=O-", "10:05 blood product=fibrinogen g=2").second_person);
}

TEST(Transfusion, may_stops_for_a_woman_who_declines_blood) {
  EXPECT_EQ(may("10:00 opened blood_group=A+ cautions=declines_blood", "10:05 blood product=red_cells units=1 group=A+")
                .permission,
            Permission::needs_senior);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/fluids.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/support/proposed_entry.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

FluidsIn crystalloid(double ml) {
  FluidsIn in;
  in.crystalloid_ml = ml;
  return in;
}

Severity bleeding(double loss_ml) {
  Severity severity;
  severity.triggered = Tri::yes;
  severity.ongoing = Tri::yes;
  severity.loss_ml = loss_ml;
  return severity;
}

// Common practice, no source: a notice past twice the measured loss.
TEST(Fluids, more_than_twice_the_loss_is_noticed) {
  EXPECT_EQ(fluid_alerts(crystalloid(1801), 900, Tri::no, shipped()).over_loss, Tri::yes);
  EXPECT_EQ(fluid_alerts(crystalloid(1800), 900, Tri::no, shipped()).over_loss, Tri::no);
  EXPECT_EQ(fluid_alerts(crystalloid(1799), 900, Tri::no, shipped()).over_loss, Tri::no);
  EXPECT_EQ(fluid_alerts(crystalloid(100), {}, Tri::no, shipped()).over_loss, Tri::unknown);
  EXPECT_EQ(fluid_alerts(crystalloid(0), {}, Tri::no, shipped()).over_loss, Tri::no);
}

// Source: RCOG Green-top 52, 2016 (from memory): 2 L, then 3.5 L before blood.
TEST(Fluids, blood_is_asked_for_at_two_litres_and_alerted_at_three_and_a_half) {
  const auto at = [](double ml) { return fluid_alerts(crystalloid(ml), 5000, Tri::no, shipped()); };
  EXPECT_EQ(at(1999).ask_for_blood, Tri::no);
  EXPECT_EQ(at(2000).ask_for_blood, Tri::yes);
  EXPECT_EQ(at(3499).hard_alert, Tri::no);
  EXPECT_EQ(at(3500).hard_alert, Tri::yes);
}

TEST(Fluids, red_cells_end_the_alerts_for_blood) {
  FluidsIn in = crystalloid(4000);
  in.red_cells_given = true;
  EXPECT_EQ(fluid_alerts(in, 3000, Tri::no, shipped()).ask_for_blood, Tri::no);
  EXPECT_EQ(fluid_alerts(in, 3000, Tri::no, shipped()).hard_alert, Tri::no);
}

TEST(Fluids, a_caution_brings_the_notice_at_one_litre) {
  EXPECT_EQ(fluid_alerts(crystalloid(1000), 900, Tri::yes, shipped()).cautious, Tri::yes);
  EXPECT_EQ(fluid_alerts(crystalloid(999), 900, Tri::yes, shipped()).cautious, Tri::no);
  EXPECT_EQ(fluid_alerts(crystalloid(1000), 900, Tri::no, shipped()).cautious, Tri::no);
  EXPECT_EQ(fluid_alerts(crystalloid(1000), 900, Tri::unknown, shipped()).cautious, Tri::unknown);
  EXPECT_EQ(fluid_alerts(crystalloid(999), 900, Tri::unknown, shipped()).cautious, Tri::no);
}

TEST(Fluids, a_bag_that_may_have_run_in_leaves_it_open) {
  FluidsIn in = crystalloid(1500);
  in.hanging_ml = 500;
  EXPECT_EQ(fluid_alerts(in, 700, Tri::no, shipped()).ask_for_blood, Tri::unknown);
  EXPECT_EQ(fluid_alerts(in, 700, Tri::no, shipped()).over_loss, Tri::yes);
  EXPECT_EQ(fluid_alerts(in, 800, Tri::no, shipped()).over_loss, Tri::unknown);
  EXPECT_EQ(fluid_alerts(in, 1000, Tri::no, shipped()).over_loss, Tri::no);
}

TEST(Fluids, crystalloid_and_colloid_have_their_own_most) {
  FluidsIn in;
  in.crystalloid_ml = 1500;
  in.drips_ml = 500;
  in.colloid_ml = 1500;
  EXPECT_EQ(fluid_alerts(in, 5000, Tri::no, shipped()).crystalloid_most, Tri::no);
  EXPECT_EQ(fluid_alerts(in, 5000, Tri::no, shipped()).colloid_most, Tri::no);
  in.drips_ml = 501;
  in.colloid_ml = 1501;
  EXPECT_EQ(fluid_alerts(in, 5000, Tri::no, shipped()).crystalloid_most, Tri::yes);
  EXPECT_EQ(fluid_alerts(in, 5000, Tri::no, shipped()).colloid_most, Tri::yes);
  in.hanging_ml = 1000;
  in.drips_ml = 0;
  in.colloid_ml = 1000;
  EXPECT_EQ(fluid_alerts(in, 5000, Tri::no, shipped()).crystalloid_most, Tri::unknown);
  EXPECT_EQ(fluid_alerts(in, 5000, Tri::no, shipped()).colloid_most, Tri::no);
}

TEST(Fluids, every_class_counts_as_clear_fluid) {
  const ToldCase told({"10:00 fluid fluid=saline ml=500", "10:00 fluid fluid=colloid ml=250",
                       "10:00 fluid fluid=dextrose_5 ml=100", "10:00 fluid fluid=spring_water ml=50",
                       "10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/240min"});
  const FluidsIn in = fluids_in(told.at("10:30"));
  EXPECT_EQ(in.crystalloid_ml, 500);
  EXPECT_EQ(in.colloid_ml, 250);
  EXPECT_EQ(in.other_ml, 150);
  EXPECT_TRUE(in.dextrose);
  EXPECT_EQ(in.drips_ml, 125);
  EXPECT_EQ(in.clear_ml(), 1025);
}

TEST(Fluids, a_running_bag_counts_by_the_whole_minute) {
  const ToldCase told({"10:00 fluid fluid=saline ml=1000 over_min=20"});
  EXPECT_EQ(fluids_in(told.at("10:00")).crystalloid_ml, 0);
  EXPECT_EQ(fluids_in(told.at("10:05:59")).crystalloid_ml, 250);
  EXPECT_EQ(fluids_in(told.at("10:05:59")).next_change, clock("10:06"));
  EXPECT_EQ(fluids_in(told.at("10:06")).next_change, clock("10:07"));
  EXPECT_EQ(fluids_in(told.at("10:19")).crystalloid_ml, 950);
  EXPECT_EQ(fluids_in(told.at("10:20")).crystalloid_ml, 1000);
  EXPECT_FALSE(fluids_in(told.at("10:20")).next_change);
}

TEST(Fluids, the_last_part_of_a_minute_ends_with_the_bag) {
  const ToldCase told({"10:00 fluid fluid=saline ml=100 over_min=2.5"});
  EXPECT_EQ(fluids_in(told.at("10:02:10")).next_change, clock("10:02:30"));
  EXPECT_EQ(fluids_in(told.at("10:02:30")).crystalloid_ml, 100);
}

TEST(Fluids, two_running_bags_wake_at_the_earlier_change) {
  const ToldCase told(
      {"10:00:30 fluid fluid=saline ml=100 over_min=10", "10:01 fluid fluid=saline ml=100 over_min=10"});
  EXPECT_EQ(fluids_in(told.at("10:01:10")).next_change, clock("10:01:30"));
}

TEST(Fluids, a_bag_without_a_rate_hangs_until_finished) {
  ToldCase told({"10:00 fluid fluid=saline ml=500 state=started"});
  EXPECT_EQ(fluids_in(told.at("10:10")).crystalloid_ml, 0);
  EXPECT_EQ(fluids_in(told.at("10:10")).hanging_ml, 500);
  told.tell("10:20 fluid fluid=saline state=finished");
  EXPECT_EQ(fluids_in(told.at("10:20")).crystalloid_ml, 500);
  EXPECT_EQ(fluids_in(told.at("10:20")).hanging_ml, 0);
}

TEST(Fluids, what_the_finish_says_counts_over_what_was_hung) {
  const ToldCase told(
      {"10:00 fluid fluid=saline ml=500 over_min=30 state=started", "10:10 fluid fluid=saline ml=200 state=finished"});
  EXPECT_EQ(fluids_in(told.at("11:00")).crystalloid_ml, 200);
}

TEST(Fluids, a_finish_ends_the_oldest_bag_of_its_fluid_only) {
  const ToldCase told({"10:00 fluid fluid=saline ml=500 state=started",
                       "10:01 fluid fluid=balanced ml=300 state=started",
                       "10:02 fluid fluid=saline ml=700 state=started", "10:10 fluid fluid=saline state=finished"});
  EXPECT_EQ(fluids_in(told.at("10:10")).crystalloid_ml, 500);
  EXPECT_EQ(fluids_in(told.at("10:10")).hanging_ml, 1000);
}

TEST(Fluids, a_finish_with_nothing_hung_counts_what_it_says) {
  const ToldCase told({"10:10 fluid fluid=saline ml=400 state=finished", "10:11 fluid fluid=saline state=finished"});
  EXPECT_EQ(fluids_in(told.at("10:11")).crystalloid_ml, 400);
}

TEST(Fluids, a_drip_stopped_early_counts_what_had_run_in) {
  const ToldCase told({"10:00 drug drug=oxytocin dose=20 unit=IU route=iv_infusion infusion=1000ml/250min",
                       "10:25 drug drug=oxytocin state=finished"});
  EXPECT_EQ(fluids_in(told.at("12:00")).drips_ml, 100);
  EXPECT_EQ(fluids_in(told.at("10:20")).drips_ml, 80);
}

TEST(Fluids, blood_counts_by_volume_or_by_known_units) {
  ToldCase told({"10:00 blood product=red_cells units=2", "10:00 blood product=plasma units=2",
                 "10:00 blood product=platelets ml=300", "10:00 blood product=fibrinogen g=3"});
  FluidsIn in = fluids_in(told.at("10:00"));
  EXPECT_EQ(in.blood_ml, 2 * 250 + 2 * 275 + 300);
  EXPECT_FALSE(in.blood_uncounted);
  EXPECT_TRUE(in.red_cells_given);
  told.tell("10:01 blood product=cryo units=2");
  in = fluids_in(told.at("10:01"));
  EXPECT_EQ(in.blood_ml, 1350);
  EXPECT_TRUE(in.blood_uncounted);
}

TEST(Fluids, plasma_alone_is_not_red_cells) {
  EXPECT_FALSE(fluids_in(ToldCase({"10:00 blood product=plasma units=2"}).at("10:00")).red_cells_given);
  EXPECT_TRUE(fluids_in(ToldCase({"10:00 blood product=whole_blood ml=450"}).at("10:00")).red_cells_given);
}

TEST(Fluids, urine_adds_amounts_and_bag_readings) {
  EXPECT_FALSE(urine_total_ml(ToldCase({"10:00 vitals pulse=80"}).at("12:00")));
  const ToldCase told({"10:00 urine level_ml=100", "10:30 urine level_ml=180", "11:00 urine amount_ml=50",
                       "11:30 urine level_ml=30", "12:00 urine level_ml=30"});
  EXPECT_EQ(urine_total_ml(told.at("10:00")), 100);
  EXPECT_EQ(urine_total_ml(told.at("11:00")), 230);
  EXPECT_EQ(urine_total_ml(told.at("12:00")), 260);
}

TEST(Fluids, balance_needs_a_measured_loss) {
  const ToldCase told(
      {"10:00 fluid fluid=saline ml=1000", "10:00 blood product=red_cells units=1", "10:00 urine amount_ml=150"});
  const View view = told.at("10:00");
  EXPECT_EQ(fluids(view, woman(view), bleeding(900)).balance_ml, 1000 + 250 - 150 - 900);
  EXPECT_FALSE(fluids(view, woman(view), Severity{}).balance_ml);
}

TEST(Fluids, cautions_come_from_the_list_or_from_haemoglobin) {
  Woman woman;
  EXPECT_EQ(fluid_caution(woman, shipped()), Tri::unknown);
  woman.cautions = {"asthma"};
  EXPECT_EQ(fluid_caution(woman, shipped()), Tri::no);
  woman.cautions = {"asthma", "preeclampsia"};
  EXPECT_EQ(fluid_caution(woman, shipped()), Tri::yes);
  Woman pale;
  pale.hb_before_gl = 70;
  EXPECT_EQ(fluid_caution(pale, shipped()), Tri::unknown);
  pale.hb_before_gl = 69;
  EXPECT_EQ(fluid_caution(pale, shipped()), Tri::yes);
}

struct Judged {
  explicit Judged(const ToldCase& told, std::string_view at, const Severity& severity)
      : view(told.at(at)), who(woman(view)), judged(fluids(view, who, severity)), severity_(severity) {}
  [[nodiscard]] Json advice() const {
    AdviceBuilder out(view.now());
    advise_fluids(judged, severity_, view, out);
    const Advice advice = std::move(out).finish();
    Json ids = Json::array();
    for (const Due& due : advice.due) ids.push_back("due " + due.id + " " + std::string(word(due.priority)));
    for (const Guard& guard : advice.guards) ids.push_back("guard " + guard.about);
    for (const Unknown& unknown : advice.unknown) ids.push_back("unknown " + unknown.id);
    for (const Notice& notice : advice.notices) ids.push_back("notice " + notice.id);
    for (const Watch& watch : advice.watch) ids.push_back("watch " + watch.id);
    return ids;
  }
  [[nodiscard]] Verdict may(std::string_view line) const {
    return may_fluid(judged, who, severity_, view, std::get<record::Fluid>(support::proposed(line).payload));
  }
  View view;
  Woman who;
  Fluids judged;
  Severity severity_;
};

TEST(Fluids, two_litres_ask_for_blood_until_it_was_called_for) {
  ToldCase told({"10:00 opened cautions=none", "10:00 fluid fluid=saline ml=2000"});
  EXPECT_EQ(Judged(told, "10:10", bleeding(1200)).advice(), (Json{"due ask_for_blood medium", "watch pressure_goal"}));
  told.tell("10:11 call who=blood_bank state=called");
  EXPECT_EQ(Judged(told, "10:12", bleeding(1200)).advice(), (Json{"watch pressure_goal"}));
}

TEST(Fluids, three_and_a_half_litres_without_blood_are_guarded) {
  const ToldCase told({"10:00 opened cautions=none", "10:00 fluid fluid=saline ml=3500"});
  EXPECT_EQ(Judged(told, "10:10", bleeding(2000)).advice(),
            (Json{"due ask_for_blood high", "guard clear_fluid", "notice clear_fluid_without_blood",
                  "notice crystalloid_most", "watch pressure_goal"}));
}

TEST(Fluids, nothing_is_said_when_she_does_not_bleed) {
  const ToldCase told({"10:00 opened cautions=none", "10:00 fluid fluid=saline ml=3500"});
  Severity none;
  none.triggered = Tri::no;
  EXPECT_EQ(Judged(told, "10:10", none).advice(), Json::array());
  Severity stopped = bleeding(2000);
  stopped.ongoing = Tri::no;
  EXPECT_EQ(Judged(told, "10:10", stopped).advice(), (Json{"notice crystalloid_most"}));
}

TEST(Fluids, a_caution_is_noticed_even_without_a_bleed) {
  const ToldCase told({"10:00 opened cautions=heart_disease", "10:00 fluid fluid=saline ml=1000"});
  Severity none;
  none.triggered = Tri::no;
  EXPECT_EQ(Judged(told, "10:10", none).advice(), (Json{"notice fluid_with_caution"}));
}

TEST(Fluids, asks_what_ran_in_and_for_the_loss) {
  const ToldCase told({"10:00 opened cautions=none", "10:00 fluid fluid=saline ml=1000",
                       "10:01 fluid fluid=saline ml=1000 state=started"});
  Severity unmeasured = bleeding(0);
  unmeasured.loss_ml = {};
  EXPECT_EQ(Judged(told, "10:10", unmeasured).advice(),
            (Json{"unknown say_what_ran_in", "unknown measure_loss", "watch pressure_goal"}));
}

TEST(Fluids, twice_the_loss_is_a_notice_of_low_priority) {
  const ToldCase told({"10:00 opened cautions=none", "10:00 fluid fluid=saline ml=1801"});
  EXPECT_EQ(Judged(told, "10:10", bleeding(900)).advice(), (Json{"notice fluid_over_loss", "watch pressure_goal"}));
}

TEST(Fluids, may_warns_of_dextrose_and_unlisted_fluid) {
  const ToldCase told({"10:00 opened cautions=none"});
  const Judged judged(told, "10:10", bleeding(1000));
  EXPECT_EQ(judged.may("10:10 fluid fluid=saline ml=500").permission, Permission::allowed);
  EXPECT_EQ(judged.may("10:10 fluid fluid=dextrose_5 ml=500").reasons.front().id, "dextrose_for_resuscitation");
  EXPECT_EQ(judged.may("10:10 fluid fluid=spring_water ml=500").reasons.front().id, "fluid_not_listed");
  const Judged well(told, "10:10", Severity{});
  EXPECT_EQ(well.may("10:10 fluid fluid=dextrose_5 ml=500").permission, Permission::allowed);
}

TEST(Fluids, may_looks_at_the_volume_after_this_bag) {
  const ToldCase told({"10:00 opened cautions=none", "10:00 fluid fluid=saline ml=1500"});
  const Judged judged(told, "10:10", bleeding(5000));
  EXPECT_EQ(judged.may("10:10 fluid fluid=saline ml=499").permission, Permission::allowed);
  EXPECT_EQ(judged.may("10:10 fluid fluid=saline ml=500").permission, Permission::warned);
  EXPECT_EQ(judged.may("10:10 fluid fluid=colloid ml=1999").permission, Permission::warned);
  const Verdict stopped = judged.may("10:10 fluid fluid=colloid ml=2000");
  EXPECT_EQ(stopped.permission, Permission::needs_override);
  EXPECT_EQ(stopped.reasons.front().id, "clear_fluid_without_blood");
  EXPECT_EQ(judged.may("10:10 fluid fluid=saline ml=2000 state=finished").permission, Permission::allowed);
}

TEST(Fluids, may_warns_of_twice_the_loss) {
  const ToldCase told({"10:00 opened cautions=none"});
  EXPECT_EQ(Judged(told, "10:10", bleeding(500)).may("10:10 fluid fluid=saline ml=1000").permission,
            Permission::allowed);
  EXPECT_EQ(Judged(told, "10:10", bleeding(500)).may("10:10 fluid fluid=saline ml=1001").reasons.front().id,
            "fluid_over_loss");
}

TEST(Fluids, may_asks_for_cautions_where_they_would_decide) {
  const ToldCase unasked({"10:00 vitals pulse=80"});
  EXPECT_EQ(Judged(unasked, "10:10", bleeding(900)).may("10:10 fluid fluid=saline ml=1000").ask,
            std::vector<std::string>{"ask_cautions"});
  EXPECT_TRUE(Judged(unasked, "10:10", bleeding(900)).may("10:10 fluid fluid=saline ml=999").ask.empty());
  const ToldCase ill({"10:00 opened cautions=preeclampsia"});
  const Verdict warned = Judged(ill, "10:10", bleeding(900)).may("10:10 fluid fluid=saline ml=1000");
  EXPECT_EQ(warned.permission, Permission::warned);
  EXPECT_TRUE(warned.ask.empty());
}

TEST(Fluids, json_lists_alerts_by_id) {
  const Json out = to_json(fluid_alerts(crystalloid(3500), 900, Tri::yes, shipped()));
  EXPECT_EQ(out["alerts"], (Json{"hard_alert", "ask_for_blood", "cautious", "over_loss", "crystalloid_most"}));
}

}  // namespace
}  // namespace stanch::care

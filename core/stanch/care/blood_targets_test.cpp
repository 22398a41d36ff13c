#include "stanch/care/blood_targets.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::ToldCase;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

Target judged(std::string_view id, double value) {
  const auto target = judge_target(id, value, Moment(), shipped());
  EXPECT_TRUE(target) << id;
  return target.value_or(Target{});
}

struct Row {
  std::string_view id;
  double value;
  bool act;
  bool met;
};

// Source: Anesth Analg 2017;124:216-32, table 2; RCOG 2016; Collins et al. 2019; calcium, temperature, pH from memory.
TEST(BloodTargets, whole_table_at_and_beside_each_limit) {
  constexpr Row rows[] = {
      {"hb", 79, true, false},           {"hb", 80, false, false},         {"hb", 81, false, true},
      {"platelets", 74, true, true},     {"platelets", 75, false, true},   {"platelets", 50, true, false},
      {"platelets", 51, true, true},     {"pt_ratio", 1.49, false, true},  {"pt_ratio", 1.5, true, false},
      {"aptt_ratio", 1.49, false, true}, {"aptt_ratio", 1.5, true, false}, {"fibrinogen", 1.9, true, false},
      {"fibrinogen", 2.0, false, false}, {"fibrinogen", 2.1, false, true}, {"a5", 11.9, true, false},
      {"a5", 12, false, true},           {"ica", 1.0, true, false},        {"ica", 1.01, false, true},
      {"temp", 35.9, true, false},       {"temp", 36.0, false, true},      {"ph", 7.2, true, false},
      {"ph", 7.21, false, true},         {"base_excess", -6, true, false}, {"base_excess", -5.9, false, true},
      {"lactate", 2, true, false},       {"lactate", 1.9, false, true}};
  for (const Row& row : rows) {
    EXPECT_EQ(judged(row.id, row.value).act, row.act) << row.id << " " << row.value;
    EXPECT_EQ(judged(row.id, row.value).met, row.met) << row.id << " " << row.value;
  }
  EXPECT_FALSE(judge_target("glucose", 5, Moment(), shipped()));
}

// Source: Charbit et al. 2007: 2 g/L or less; Cortet et al. 2012: below 2 g/L 11.99, 2 to 3 g/L 1.90.
TEST(BloodTargets, low_fibrinogen_warns_and_carries_its_odds) {
  EXPECT_TRUE(fibrinogen_warns(2.0, shipped()));
  EXPECT_FALSE(fibrinogen_warns(2.01, shipped()));
  EXPECT_EQ(fibrinogen_odds(1.9, shipped()), 11.99);
  EXPECT_EQ(fibrinogen_odds(2.0, shipped()), 1.9);
  EXPECT_EQ(fibrinogen_odds(2.99, shipped()), 1.9);
  EXPECT_FALSE(fibrinogen_odds(3.0, shipped()));
}

Severity with_signs(int pulse, int sbp) {
  Severity severity;
  severity.triggered = Tri::yes;
  severity.ongoing = Tri::yes;
  severity.pulse = record::Sought<PulseRate>{PulseRate(pulse)};
  severity.sbp = record::Sought<Pressure>{Pressure(sbp)};
  return severity;
}

// Source: Sohn et al. 2018: both strictly above.
TEST(BloodTargets, the_newest_value_of_each_counts) {
  const ToldCase told({"10:00 lab hb_gl=60 fibrinogen_gl=1.5", "10:30 lab hb_gl=85 ica=0.9 pt_ratio=1.2",
                       "10:31 vitals temp_c=35.5", "10:32 finding what=base_excess value=-7",
                       "10:32 finding what=a5 value=9", "10:33 finding what=a5 value=unreadable"});
  const BloodTargets targets = blood_targets(told.at("10:40"));
  EXPECT_EQ(targets.find("hb")->value, 85);
  EXPECT_EQ(targets.find("fibrinogen")->value, 1.5);
  EXPECT_EQ(targets.find("temp")->value, 35.5);
  EXPECT_EQ(targets.find("base_excess")->value, -7);
  EXPECT_EQ(targets.find("a5")->value, 9);
  EXPECT_EQ(targets.find("lactate"), nullptr);
  EXPECT_TRUE(targets.clotting_known);
  EXPECT_EQ(targets.last_bloods, support::clock("10:30"));
}

TEST(BloodTargets, haemoglobin_alone_is_no_clotting_result) {
  const auto known = [](std::string_view line) { return blood_targets(ToldCase({line}).at("10:00")).clotting_known; };
  EXPECT_FALSE(known("10:00 lab hb_gl=60 platelets=90 lactate=3"));
  EXPECT_TRUE(known("10:00 lab fibrinogen_gl=3"));
  EXPECT_TRUE(known("10:00 lab pt_ratio=1"));
  EXPECT_TRUE(known("10:00 lab aptt_ratio=1"));
  EXPECT_TRUE(known("10:00 finding what=a5 value=20"));
}

Advice advice_from(const ToldCase& told, std::string_view at, const Severity& severity) {
  const View view = told.at(at);
  AdviceBuilder out(view.now());
  advise_blood_targets(blood_targets(view), woman(view), severity, {}, view, out);
  return std::move(out).finish();
}

std::vector<std::string> advised(const ToldCase& told, std::string_view at, const Severity& severity) {
  const Advice advice = advice_from(told, at, severity);
  std::vector<std::string> ids;
  for (const Due& due : advice.due)
    ids.push_back(due.id + (due.about.empty() ? "" : ":" + due.about) + " " + std::string(word(due.priority)));
  for (const Notice& notice : advice.notices)
    ids.push_back("notice " + notice.id + (notice.about.empty() ? "" : ":" + notice.about));
  return ids;
}

using Ids = std::vector<std::string>;

TEST(BloodTargets, each_low_value_asks_for_its_own_product) {
  const ToldCase told({"10:00 opened weight_kg=70", "10:00 lab hb_gl=79 platelets=74 pt_ratio=1.5 fibrinogen_gl=1.2",
                       "10:00 lab ica=1.0 ph=7.2 lactate=4.1", "10:00 vitals temp_c=35.9"});
  EXPECT_EQ(advised(told, "10:05", with_signs(110, 100)),
            (Ids{"give_red_cells high", "give_fibrinogen high", "give_platelets medium", "give_plasma medium",
                 "give_calcium medium", "keep_warm medium", "notice low_fibrinogen_warns", "notice acidosis:ph"}));
}

TEST(BloodTargets, what_was_given_since_the_test_is_not_asked_again) {
  ToldCase told({"10:00 lab hb_gl=60 platelets=40 pt_ratio=2 fibrinogen_gl=2.5 ica=0.8", "10:00 vitals temp_c=35"});
  told.tell("10:01 blood product=red_cells units=1 group=O-");
  told.tell("10:01 blood product=platelets units=1");
  told.tell("10:01 blood product=plasma units=4");
  told.tell("10:01 drug drug=calcium_gluconate dose=20 unit=mL route=iv_slow");
  told.tell("10:01 manoeuvre what=warm");
  EXPECT_EQ(advised(told, "10:05", with_signs(90, 120)), Ids{});
  told.tell("10:10 lab hb_gl=79 platelets=74 pt_ratio=1.5 ica=1.0");
  told.tell("10:10 vitals temp_c=35.9");
  EXPECT_EQ(advised(told, "10:12", with_signs(90, 120)),
            (Ids{"give_red_cells high", "give_platelets medium", "give_plasma medium", "give_calcium medium",
                 "keep_warm medium"}));
}

TEST(BloodTargets, whole_blood_answers_low_haemoglobin) {
  const ToldCase told({"10:00 lab hb_gl=60", "10:00 blood product=whole_blood units=1"});
  EXPECT_EQ(advised(told, "10:05", with_signs(90, 120)), Ids{});
}

TEST(BloodTargets, any_source_of_fibrinogen_answers_it) {
  for (const std::string_view given : {"10:00 blood product=cryo units=2", "10:00 blood product=fibrinogen g=3",
                                       "10:00 drug drug=fibrinogen_concentrate dose=3 unit=g route=iv_slow"}) {
    ToldCase told({"10:00 lab fibrinogen_gl=1.9"});
    EXPECT_EQ(advised(told, "10:05", with_signs(90, 120)),
              (Ids{"give_fibrinogen high", "notice low_fibrinogen_warns"}));
    told.tell(given);
    EXPECT_EQ(advised(told, "10:05", with_signs(90, 120)), Ids{"notice low_fibrinogen_warns"}) << given;
  }
}

TEST(BloodTargets, doses_are_by_weight_where_it_is_known) {
  const auto arguments_of = [](const ToldCase& told) {
    const View view = told.at("10:05");
    const Severity severity = with_signs(90, 120);
    AdviceBuilder out(view.now());
    advise_blood_targets(blood_targets(view), woman(view), severity, {}, view, out);
    Json names;
    for (const Due& due : std::move(out).finish().due)
      for (const Argument& argument : due.arguments) names[due.id][argument.name] = std::get<double>(argument.value);
    return names;
  };
  const Json weighed =
      arguments_of(ToldCase({"10:00 opened weight_kg=70", "10:00 lab fibrinogen_gl=1.2 aptt_ratio=1.6"}));
  EXPECT_NEAR(weighed["give_fibrinogen"]["concentrate_g"].get<double>(), 3.294, 0.001);
  EXPECT_EQ(weighed["give_fibrinogen"]["cryo_pools"], 2);
  EXPECT_EQ(weighed["give_plasma"]["ml"], 1050);
  EXPECT_EQ(weighed["give_plasma"]["units"], 4);
  const Json unweighed = arguments_of(ToldCase({"10:00 lab fibrinogen_gl=1.2 aptt_ratio=1.6"}));
  EXPECT_FALSE(unweighed["give_fibrinogen"].contains("concentrate_g"));
  EXPECT_FALSE(unweighed.contains("give_plasma"));
}

TEST(BloodTargets, bloods_are_taken_again_after_thirty_minutes) {
  const ToldCase told({"10:00 lab hb_gl=100", "10:05 manoeuvre what=bloods_taken"});
  EXPECT_EQ(advised(told, "10:34:59", with_signs(90, 120)), Ids{});
  EXPECT_EQ(advised(told, "10:35", with_signs(90, 120)), Ids{"take_bloods:again medium"});
  const auto standing = [&](std::string_view now) {
    return advice_from(told, now, with_signs(90, 120)).due.at(0).standing;
  };
  EXPECT_EQ(standing("10:35"), Standing::due);
  EXPECT_EQ(standing("10:50"), Standing::due) << "half an interval's grace, as every look has";
  EXPECT_EQ(standing("10:50:01"), Standing::overdue);
  const ToldCase later({"10:05 manoeuvre what=bloods_taken", "10:20 lab hb_gl=100"});
  EXPECT_EQ(advised(later, "10:49", with_signs(90, 120)), Ids{});
  EXPECT_EQ(advised(ToldCase({"10:00 vitals pulse=90"}), "12:00", with_signs(90, 120)), Ids{});
  EXPECT_EQ(advised(ToldCase({"10:00 manoeuvre what=bloods_taken done=false"}), "12:00", with_signs(90, 120)), Ids{});
}

TEST(BloodTargets, nothing_is_said_once_bleeding_has_stopped) {
  const ToldCase told({"10:00 lab hb_gl=60 fibrinogen_gl=1.0"});
  Severity severity = with_signs(90, 120);
  severity.ongoing = Tri::no;
  EXPECT_EQ(advised(told, "12:00", severity), Ids{});
  severity.ongoing = Tri::unknown;
  EXPECT_FALSE(advised(told, "12:00", severity).empty());
  severity.triggered = Tri::no;
  EXPECT_EQ(advised(told, "12:00", severity), Ids{});
}

TEST(BloodTargets, json_carries_flags_of_fibrinogen) {
  const BloodTargets targets = blood_targets(ToldCase({"10:00 lab fibrinogen_gl=2.0"}).at("10:05"));
  const Json out = to_json(targets, shipped());
  EXPECT_EQ(out["fibrinogen"]["act"], false);
  EXPECT_EQ(out["fibrinogen"]["met"], false);
  EXPECT_EQ(out["fibrinogen"]["warns"], true);
  EXPECT_EQ(out["fibrinogen"]["odds_of_worse"], 1.9);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/causes.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "stanch/care/advise.hpp"
#include "tests/support/advice_lines.hpp"
#include "tests/support/proposed_entry.hpp"

namespace stanch::care {
namespace {

using support::advice_of;
using support::clock;
using support::lines_of;
using support::ToldCase;
using Lines = std::vector<std::string>;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

Causes judged(const ToldCase& told, std::string_view at) { return picture_of(told.at(at)).causes; }

// Source: WHO recommendations on PPH, 2012; NICE (both from memory): 30 min, 60 min without active management.
TEST(Causes, placenta_is_retained_at_thirty_minutes_or_sixty) {
  EXPECT_TRUE(placenta_retained(Duration::minutes(30), true, shipped()));
  EXPECT_FALSE(placenta_retained(Duration::minutes(29.99), true, shipped()));
  EXPECT_TRUE(placenta_retained(Duration::minutes(60), false, shipped()));
  EXPECT_FALSE(placenta_retained(Duration::minutes(59.99), false, shipped()));
}

// Source: WHO, Managing complications in pregnancy and childbirth, 2017 (from memory): 7 min.
TEST(Causes, no_clot_at_seven_minutes_suspects_a_clotting_disorder) {
  EXPECT_EQ(clot_test_suspects({}, 7, shipped()), Tri::yes);
  EXPECT_EQ(clot_test_suspects({}, 6.9, shipped()), Tri::unknown);
  EXPECT_EQ(clot_test_suspects({}, {}, shipped()), Tri::unknown);
  EXPECT_EQ(clot_test_suspects(6.9, {}, shipped()), Tri::no);
  EXPECT_EQ(clot_test_suspects(7, {}, shipped()), Tri::yes);
}

TEST(Causes, all_four_are_open_until_each_is_answered) {
  ToldCase told({"10:00 opened cautions=none"});
  EXPECT_EQ(judged(told, "10:00").unanswered().size(), 4U);
  told.tell("10:01 finding what=cause_tone value=treated");
  told.tell("10:02 finding what=cause_trauma value=excluded");
  told.tell("10:03 finding what=cause_tissue value=found");
  told.tell("10:04 finding what=cause_thrombin value=perhaps");
  const Causes causes = judged(told, "10:05");
  EXPECT_EQ(causes.of(CauseKind::tone).state, CauseState::treated);
  EXPECT_EQ(causes.of(CauseKind::trauma).state, CauseState::excluded);
  EXPECT_EQ(causes.of(CauseKind::tissue).state, CauseState::found);
  EXPECT_EQ(causes.of(CauseKind::thrombin).state, CauseState::open);
  EXPECT_EQ(causes.unanswered(), (std::vector{CauseKind::tissue, CauseKind::thrombin}));
}

TEST(Causes, a_sign_makes_its_cause_suspected) {
  const auto suspected = [](std::string_view line) {
    std::string out;
    for (const Cause& cause : judged(ToldCase({line}), "10:00").causes)
      if (cause.state == CauseState::suspected)
        out += std::string(word(cause.kind)) + ":" + std::string(cause.signs.front().id) + " ";
    return out;
  };
  EXPECT_EQ(suspected("10:00 finding what=tone value=soft"), "tone:uterus_soft ");
  EXPECT_EQ(suspected("10:00 finding what=tone value=firm"), "");
  EXPECT_EQ(suspected("10:00 finding what=tear value=seen"), "trauma:tear ");
  EXPECT_EQ(suspected("10:00 finding what=tear value=none"), "");
  EXPECT_EQ(suspected("10:00 finding what=haematoma value=present"), "trauma:haematoma ");
  EXPECT_EQ(suspected("10:00 finding what=inversion value=yes"), "trauma:inversion ");
  EXPECT_EQ(suspected("10:00 finding what=rupture value=suspected"), "trauma:rupture ");
  EXPECT_EQ(suspected("10:00 finding what=rupture value=excluded"), "");
  EXPECT_EQ(suspected("10:00 finding what=placenta value=in"), "tissue:placenta_in ");
  EXPECT_EQ(suspected("10:00 opened placenta=in"), "tissue:placenta_in ");
  EXPECT_EQ(suspected("10:00 finding what=placenta value=incomplete"), "tissue:placenta_incomplete ");
  EXPECT_EQ(suspected("10:00 finding what=placenta value=complete"), "");
  EXPECT_EQ(suspected("10:00 finding what=clotting value=oozing"), "thrombin:clotting_abnormal ");
}

TEST(Causes, a_newer_sign_opens_an_answered_cause_again) {
  ToldCase told({"10:00 finding what=tone value=soft", "10:05 finding what=cause_tone value=treated"});
  EXPECT_EQ(judged(told, "10:05").of(CauseKind::tone).state, CauseState::treated);
  told.tell("10:20 finding what=tone value=soft");
  EXPECT_EQ(judged(told, "10:20").of(CauseKind::tone).state, CauseState::suspected);
  told.tell("10:21 finding what=cause_tone value=found");
  told.tell("10:22 finding what=tone value=soft");
  EXPECT_EQ(judged(told, "10:22").of(CauseKind::tone).state, CauseState::found);
}

TEST(Causes, what_was_put_right_is_no_longer_open) {
  const auto after = [](std::string_view seen, std::string_view act) { return judged(ToldCase({seen, act}), "10:05"); };
  EXPECT_FALSE(after("10:00 finding what=tear value=seen", "10:04 manoeuvre what=tear_repaired").tear_open);
  EXPECT_FALSE(after("10:00 finding what=tear value=seen", "10:04 manoeuvre what=perineal_repair").tear_open);
  EXPECT_TRUE(after("10:00 finding what=tear value=seen", "10:04 manoeuvre what=tear_repaired done=false").tear_open);
  EXPECT_TRUE(after("10:03 finding what=tear value=seen", "10:02 manoeuvre what=tear_repaired").tear_open);
  EXPECT_FALSE(after("10:00 finding what=inversion value=seen", "10:00 manoeuvre what=inversion_replaced").inverted);
  EXPECT_FALSE(after("10:00 finding what=rupture value=suspected", "10:04 manoeuvre what=laparotomy").ruptured);
  EXPECT_FALSE(after("10:00 finding what=haematoma value=seen", "10:04 manoeuvre what=laparotomy").haematoma);
  EXPECT_FALSE(after("10:00 finding what=placenta value=incomplete", "10:04 manoeuvre what=curettage").tissue_left);
  EXPECT_FALSE(after("10:00 opened placenta=out_incomplete", "10:00 manoeuvre what=vacuum_aspiration").tissue_left);
  EXPECT_TRUE(after("10:03 finding what=placenta value=incomplete", "10:02 manoeuvre what=curettage").tissue_left);
}

TEST(Causes, retained_placenta_needs_the_time_of_birth) {
  const ToldCase in({"10:00 opened birth_at=10:00 birth_mode=vaginal placenta=in"});
  EXPECT_EQ(judged(in, "10:29").retained, Tri::no);
  EXPECT_EQ(judged(in, "10:30").retained, Tri::yes);
  EXPECT_EQ(judged(in, "10:29").retained_from, clock("10:30"));
  EXPECT_EQ(judged(ToldCase({"10:00 opened birth_mode=vaginal placenta=in"}), "12:00").retained, Tri::unknown);
  EXPECT_EQ(judged(ToldCase({"10:00 opened birth_mode=undelivered placenta=in"}), "12:00").retained, Tri::no);
  EXPECT_EQ(judged(ToldCase({"10:00 opened birth_at=10:00 placenta=out_complete"}), "12:00").retained, Tri::no);
  const ToldCase slow({"10:00 opened birth_at=10:00 birth_mode=vaginal placenta=in"},
                      support::ward_protocol(R"({"first_response.placenta_management": "physiological"})"));
  EXPECT_EQ(judged(slow, "10:59").retained, Tri::no);
  EXPECT_EQ(judged(slow, "11:00").retained, Tri::yes);
}

TEST(Causes, coagulopathy_is_unknown_until_something_was_looked_at) {
  const auto of = [](std::string_view line) { return judged(ToldCase({line}), "10:00").coagulopathy; };
  EXPECT_EQ(of("10:00 lab hb_gl=100"), Tri::unknown);
  EXPECT_EQ(of("10:00 lab clot_test_min=5"), Tri::no);
  EXPECT_EQ(of("10:00 lab clot_test_min=7"), Tri::yes);
  EXPECT_EQ(of("10:00 lab clot_test_min=null"), Tri::yes);
  EXPECT_EQ(of("10:00 finding what=clotting value=normal"), Tri::no);
  EXPECT_EQ(of("10:00 finding what=clotting value=soft_clot"), Tri::yes);
  EXPECT_EQ(of("10:00 lab fibrinogen_gl=2.0"), Tri::no);
  EXPECT_EQ(of("10:00 lab fibrinogen_gl=1.9"), Tri::yes);
  EXPECT_EQ(of("10:00 lab pt_ratio=1.5"), Tri::yes);
  EXPECT_EQ(of("10:00 lab aptt_ratio=1.5"), Tri::yes);
  EXPECT_EQ(of("10:00 opened cautions=coagulopathy"), Tri::yes);
  EXPECT_EQ(of("10:00 opened cautions=intravascular_clotting"), Tri::yes);
}

TEST(Causes, a_tube_stands_until_it_is_read) {
  ToldCase told({"10:00 manoeuvre what=clot_test"});
  EXPECT_EQ(judged(told, "10:01").clot_test_read_at, clock("10:07"));
  told.tell("10:06 lab clot_test_min=6");
  EXPECT_FALSE(judged(told, "10:06").clot_test_read_at);
  told.tell("11:00 manoeuvre what=clot_test");
  EXPECT_EQ(judged(told, "11:00").clot_test_read_at, clock("11:07"));
}

// ---- Advice ---------------------------------------------------------------------------------------------------------

const std::initializer_list<std::string_view> bleed{
    "10:00 opened birth_at=09:45 birth_mode=vaginal cautions=none", "10:00 loss method=drape level_ml=600",
    "10:00 vitals pulse=88 bp=118/72", "10:00 finding what=bleeding value=heavy"};

Lines advised(std::initializer_list<std::string_view> more, std::string_view at) {
  ToldCase told(bleed);
  for (const std::string_view line : more) told.tell(line);
  return lines_of(advice_of(told, at, advise_causes));
}

TEST(Causes, one_row_asks_for_every_open_cause) {
  EXPECT_EQ(advised({}, "10:00"), Lines{"due answer_causes low due"});
  EXPECT_EQ(advised({}, "10:16"), Lines{"due answer_causes low overdue"});
  ToldCase told(bleed);
  told.tell("10:01 finding what=cause_tone value=treated");
  const Advice advice = advice_of(told, "10:02", advise_causes);
  EXPECT_EQ(std::get<std::string>(advice.due.front().arguments[0].value), "trauma tissue thrombin");
  EXPECT_EQ(std::get<double>(advice.due.front().arguments[1].value), 3);
  EXPECT_EQ(
      advised({"10:01 finding what=cause_tone value=treated", "10:01 finding what=cause_trauma value=excluded",
               "10:01 finding what=cause_tissue value=excluded", "10:01 finding what=cause_thrombin value=excluded"},
              "10:20"),
      Lines{});
}

TEST(Causes, inversion_comes_before_uterotonics) {
  EXPECT_EQ(
      advised({"10:01 finding what=inversion value=seen"}, "10:02"),
      (Lines{"due replace_inversion high due", "due answer_causes low due", "guard give:uterotonics needs_override"}));
  EXPECT_EQ(advised({"10:01 finding what=inversion value=seen", "10:03 manoeuvre what=inversion_replaced"}, "10:04"),
            Lines{"due answer_causes low due"});
}

TEST(Causes, a_uterotonic_is_stopped_while_inverted) {
  ToldCase told(bleed);
  told.tell("10:01 finding what=inversion value=seen");
  const auto stop = [&](const char* line) {
    const View view = told.at("10:02");
    Verdict verdict;
    stop_while_inverted(picture_of(view).causes, view, std::get<record::Drug>(support::proposed(line).payload),
                        verdict);
    return verdict.permission;
  };
  EXPECT_EQ(stop("10:02 drug drug=oxytocin dose=10 unit=IU route=im"), Permission::needs_override);
  EXPECT_EQ(stop("10:02 drug drug=oxytocin state=finished"), Permission::allowed);
  EXPECT_EQ(stop("10:02 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow"), Permission::allowed);
  const View view = told.at("10:02");
  EXPECT_GE(
      may(view, picture_of(view), support::proposed("10:02 drug drug=oxytocin dose=10 unit=IU route=im")).permission,
      Permission::needs_override);
  told.tell("10:02 manoeuvre what=inversion_replaced");
  EXPECT_EQ(stop("10:02 drug drug=oxytocin dose=10 unit=IU route=im"), Permission::allowed);
}

TEST(Causes, trauma_asks_for_repair_or_theatre) {
  EXPECT_EQ(advised({"10:01 finding what=tear value=seen", "10:01 finding what=haematoma value=seen",
                     "10:01 finding what=rupture value=suspected"},
                    "10:02"),
            (Lines{"due prepare_theatre:rupture high due", "due repair_tear medium due",
                   "due treat_haematoma medium due", "due answer_causes low due"}));
}

TEST(Causes, a_placenta_that_is_in_is_delivered_and_later_removed) {
  EXPECT_EQ(advised({"10:01 finding what=placenta value=in"}, "10:02"),
            (Lines{"due deliver_placenta high due", "due answer_causes low due", "watch retained_placenta"}));
  EXPECT_EQ(advised({"10:01 finding what=placenta value=in"}, "10:15"),
            (Lines{"due remove_placenta high due", "due answer_causes low due"}));
  EXPECT_EQ(lines_of(advice_of(ToldCase({"10:00 opened birth_at=09:45 birth_mode=vaginal placenta=in"}), "10:15",
                               advise_causes)),
            Lines{"due remove_placenta medium due"});
  EXPECT_EQ(lines_of(advice_of(ToldCase({"10:00 opened birth_at=09:45 birth_mode=vaginal placenta=in"}), "10:14",
                               advise_causes)),
            Lines{"watch retained_placenta"});
  EXPECT_EQ(lines_of(advice_of(ToldCase({"10:00 opened birth_mode=vaginal placenta=in"}), "10:14", advise_causes)),
            Lines{"unknown ask_birth_time"});
  EXPECT_EQ(lines_of(advice_of(ToldCase({"10:00 opened birth_mode=undelivered placenta=in"}), "10:14", advise_causes)),
            Lines{});
}

TEST(Causes, advice_on_the_placenta_changes_when_it_is_retained) {
  const ToldCase told({"10:00 opened birth_at=09:45 birth_mode=vaginal placenta=in"});
  EXPECT_EQ(advice_of(told, "10:10", advise_causes).next_change, clock("10:15"));
}

TEST(Causes, tissue_left_is_removed_while_she_bleeds) {
  EXPECT_EQ(advised({"10:01 finding what=placenta value=incomplete"}, "10:02"),
            (Lines{"due remove_tissue high due", "due answer_causes low due"}));
}

// Source: WHO, Managing complications in pregnancy and childbirth, 2017 (from memory).
TEST(Causes, manual_removal_brings_one_antibiotic) {
  ToldCase told({"10:00 manoeuvre what=manual_removal"});
  EXPECT_EQ(lines_of(advice_of(told, "10:01", advise_causes)), Lines{"due give_antibiotic low due"});
  told.tell("10:02 drug drug=antibiotic_prophylaxis dose=1 unit=dose route=iv_slow");
  EXPECT_EQ(lines_of(advice_of(told, "10:03", advise_causes)), Lines{});
}

TEST(Causes, clotting_is_looked_at_when_she_does_not_settle) {
  EXPECT_EQ(advised({"10:01 loss method=drape level_ml=1000"}, "10:02"),
            (Lines{"due answer_causes low due", "due do_clot_test low due"}));
  EXPECT_EQ(
      advised({"10:01 loss method=drape level_ml=1000", "10:01 finding what=cause_thrombin value=excluded"}, "10:02"),
      Lines{"due answer_causes low due"})
      << "answered already";
  EXPECT_EQ(advised({"10:01 loss method=drape level_ml=1000", "10:01 manoeuvre what=clot_test"}, "10:02"),
            (Lines{"due read_clot_test medium soon", "due answer_causes low due"}));
  EXPECT_EQ(advised({"10:01 manoeuvre what=clot_test"}, "10:08"),
            (Lines{"due read_clot_test medium due", "due answer_causes low due"}));
  EXPECT_EQ(advised({"10:01 lab clot_test_min=null"}, "10:08"),
            (Lines{"due answer_causes low due", "notice coagulopathy_suspected high"}));
}

TEST(Causes, nothing_is_asked_once_bleeding_has_stopped) {
  EXPECT_EQ(advised({"10:01 lab clot_test_min=null", "10:02 outcome what=bleeding_stopped"}, "10:08"), Lines{});
}

TEST(Causes, json_says_state_and_signs) {
  const Json out = to_json(judged(ToldCase({"10:00 finding what=tone value=soft"}), "10:00"));
  EXPECT_EQ(out["tone"]["state"], "suspected");
  EXPECT_EQ(out["tone"]["signs"], Json{"uterus_soft"});
  EXPECT_EQ(out["unanswered"].size(), 4U);
  EXPECT_EQ(out["coagulopathy"], "unknown");
}

}  // namespace
}  // namespace stanch::care

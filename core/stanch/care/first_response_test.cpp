#include "stanch/care/first_response.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/advice_lines.hpp"

namespace stanch::care {
namespace {

using support::advice_of;
using support::clock;
using support::lines_of;
using support::ToldCase;
using Lines = std::vector<std::string>;
using enum ResponsePart;

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

ResponseClocks clocks(const DoneTimes& done, std::string_view now, std::optional<Moment> birth = clock("09:45")) {
  return response_clocks(clock("10:00"), birth, done, clock(now), shipped());
}

Timing timing(ResponsePart part, std::string_view done_at) {
  DoneTimes done;
  of(done, part) = clock(done_at);
  return clocks(done, "14:00").of(part).timing;
}

// Source: Driessen et al. 2011 (from memory): a delay of more than 10 min.
TEST(FirstResponse, uterotonic_is_late_after_ten_minutes) {
  EXPECT_EQ(timing(uterotonic, "10:10"), Timing::on_time);
  EXPECT_EQ(timing(uterotonic, "10:11"), Timing::late);
  EXPECT_EQ(timing(uterotonic, "09:58"), Timing::on_time);
}

TEST(FirstResponse, each_part_has_its_own_late_limit) {
  const struct {
    ResponsePart part;
    std::string_view on_time, late;
  } rows[] = {{call_help, "10:03", "10:03:01"},       {massage, "10:03", "10:03:01"},
              {tranexamic_acid, "12:45", "12:45:01"}, {iv_fluid, "10:15", "10:15:01"},
              {examination, "10:20", "10:20:01"},     {signs, "10:10", "10:10:01"}};
  for (const auto& row : rows) {
    EXPECT_EQ(timing(row.part, row.on_time), Timing::on_time) << word(row.part);
    EXPECT_EQ(timing(row.part, row.late), Timing::late) << word(row.part);
  }
}

// Common practice, no source: the surgeon has looked; afterwards bladder and tract are seen to from the closing on.
TEST(FirstResponse, the_examination_is_counted_from_the_end_of_an_operation_past_the_trigger) {
  const auto timed = [](std::string_view closed_at, std::string_view now) {
    return response_clocks(clock("10:00"), clock("09:45"), {}, clock(now), shipped(), clock(closed_at)).of(examination);
  };
  EXPECT_EQ(timed("10:30", "10:30").due_at, clock("10:45"));
  EXPECT_EQ(timed("10:30", "10:45").timing, Timing::waiting);
  EXPECT_EQ(timed("10:30", "10:50").timing, Timing::overdue);
  EXPECT_EQ(timed("10:30", "10:50:01").timing, Timing::late);
  EXPECT_EQ(timed("09:50", "10:00").due_at, clock("10:15")) << "closed before the trigger";
  const ResponseClocks others = response_clocks(clock("10:00"), {}, {}, clock("10:30"), shipped(), clock("10:30"));
  EXPECT_EQ(others.of(iv_fluid).due_at, clock("10:10")) << "nothing else waits";
}

TEST(FirstResponse, what_is_not_done_goes_from_waiting_to_overdue_to_late) {
  const struct {
    ResponsePart part;
    std::string_view last_waiting, first_overdue, last_overdue, first_late;
  } rows[] = {{call_help, "10:01", "10:01:01", "10:03", "10:03:01"},
              {massage, "10:01", "10:01:01", "10:03", "10:03:01"},
              {uterotonic, "10:05", "10:05:01", "10:10", "10:10:01"},
              {tranexamic_acid, "10:15", "10:15:01", "12:45", "12:45:01"},
              {iv_fluid, "10:10", "10:10:01", "10:15", "10:15:01"},
              {examination, "10:15", "10:15:01", "10:20", "10:20:01"},
              {signs, "10:00", "10:00:01", "10:10", "10:10:01"}};
  for (const auto& row : rows) {
    EXPECT_EQ(clocks({}, row.last_waiting).of(row.part).timing, Timing::waiting) << word(row.part);
    EXPECT_EQ(clocks({}, row.first_overdue).of(row.part).timing, Timing::overdue) << word(row.part);
    EXPECT_EQ(clocks({}, row.last_overdue).of(row.part).timing, Timing::overdue) << word(row.part);
    EXPECT_EQ(clocks({}, row.first_late).of(row.part).timing, Timing::late) << word(row.part);
  }
}

TEST(FirstResponse, tranexamic_acid_is_never_late_while_birth_time_is_unknown) {
  EXPECT_EQ(clocks({}, "20:00", std::nullopt).of(tranexamic_acid).timing, Timing::overdue);
}

DoneTimes bundle_at(std::string_view last) {
  DoneTimes done;
  for (const ResponsePart part : {massage, uterotonic, tranexamic_acid, iv_fluid, examination})
    of(done, part) = clock(last);
  return done;
}

// Source: Mammoliti et al. 2025: the whole bundle within 15 to 20 min.
TEST(FirstResponse, bundle_is_on_time_overdue_or_late) {
  EXPECT_EQ(clocks(bundle_at("10:15"), "11:00").bundle.timing, Timing::on_time);
  EXPECT_EQ(clocks(bundle_at("10:16"), "11:00").bundle.timing, Timing::overdue);
  EXPECT_EQ(clocks(bundle_at("10:20"), "11:00").bundle.timing, Timing::overdue);
  EXPECT_EQ(clocks(bundle_at("10:21"), "11:00").bundle.timing, Timing::late);
}

TEST(FirstResponse, bundle_lasts_until_its_last_part) {
  DoneTimes done = bundle_at("10:01");
  of(done, uterotonic) = clock("10:04");
  of(done, tranexamic_acid) = clock("10:12");
  of(done, iv_fluid) = clock("10:09");
  of(done, examination) = clock("10:13");
  EXPECT_TRUE(clocks(done, "10:30").bundle.complete);
  EXPECT_EQ(clocks(done, "10:30").bundle.minutes, 13);
  of(done, examination) = std::nullopt;
  EXPECT_FALSE(clocks(done, "10:12").bundle.complete);
  EXPECT_FALSE(clocks(done, "10:12").bundle.minutes);
  EXPECT_EQ(clocks(done, "10:15").bundle.timing, Timing::waiting);
  EXPECT_EQ(clocks(done, "10:20").bundle.timing, Timing::overdue);
  EXPECT_EQ(clocks(done, "10:21").bundle.timing, Timing::late);
  EXPECT_EQ(clocks(bundle_at("09:50"), "10:20").bundle.minutes, 0);
}

TEST(FirstResponse, help_and_signs_are_not_parts_of_the_bundle) {
  EXPECT_TRUE(clocks(bundle_at("10:05"), "10:06").bundle.complete);
  DoneTimes none;
  of(none, call_help) = clock("10:00");
  of(none, signs) = clock("10:00");
  EXPECT_FALSE(clocks(none, "10:06").bundle.complete);
}

DoneTimes done(std::initializer_list<std::string_view> lines) {
  return done_times(ToldCase(lines).at("12:00"), clock("10:00"));
}

TEST(FirstResponse, massage_counts_from_shortly_before_the_trigger) {
  EXPECT_FALSE(of(done({"09:56 manoeuvre what=massage"}), massage));
  EXPECT_EQ(of(done({"09:57 manoeuvre what=massage"}), massage), clock("09:57"));
  EXPECT_EQ(of(done({"10:02 manoeuvre what=clots_expelled"}), massage), clock("10:02"));
  EXPECT_FALSE(of(done({"10:02 manoeuvre what=massage done=false"}), massage));
}

TEST(FirstResponse, only_treatment_doses_count) {
  EXPECT_FALSE(of(done({"09:40 drug drug=oxytocin dose=10 unit=IU route=im use=prevention"}), uterotonic));
  EXPECT_EQ(of(done({"10:04 drug drug=oxytocin dose=10 unit=IU route=im"}), uterotonic), clock("10:04"));
  EXPECT_EQ(of(done({"10:04 drug drug=misoprostol dose=800 unit=ug route=sl"}), uterotonic), clock("10:04"));
  EXPECT_FALSE(of(done({"10:04 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow"}), uterotonic));
  EXPECT_EQ(of(done({"10:04 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow"}), tranexamic_acid), clock("10:04"));
  EXPECT_FALSE(of(done({"10:04 drug drug=oxytocin state=finished"}), uterotonic));
  EXPECT_FALSE(of(done({"10:04 drug drug=unheard_of dose=1 unit=g route=iv_slow"}), uterotonic));
}

TEST(FirstResponse, only_crystalloid_is_the_fluid_of_the_bundle) {
  EXPECT_EQ(of(done({"10:06 fluid fluid=saline ml=1000 state=started"}), iv_fluid), clock("10:06"));
  EXPECT_FALSE(of(done({"10:06 fluid fluid=colloid ml=500", "10:06 manoeuvre what=iv_access_1"}), iv_fluid));
}

TEST(FirstResponse, examination_is_the_last_of_bladder_tract_and_placenta) {
  EXPECT_EQ(of(done({"10:06 manoeuvre what=catheter", "10:08 manoeuvre what=tract_examined",
                     "10:12 manoeuvre what=placenta_examined"}),
               examination),
            clock("10:12"));
  EXPECT_EQ(of(done({"09:50 opened placenta=out_complete", "10:09 manoeuvre what=bladder_emptied",
                     "10:08 finding what=tear value=none"}),
               examination),
            clock("10:09"));
  EXPECT_EQ(of(done({"10:04 finding what=placenta value=in", "10:05 manoeuvre what=bladder_emptied",
                     "10:08 manoeuvre what=tract_examined"}),
               examination),
            clock("10:08"));
  EXPECT_FALSE(of(done({"10:06 manoeuvre what=catheter", "10:08 manoeuvre what=tract_examined"}), examination));
  EXPECT_FALSE(of(done({"10:06 manoeuvre what=catheter", "10:08 manoeuvre what=placenta_examined"}), examination));
  EXPECT_FALSE(
      of(done({"10:06 manoeuvre what=tract_examined", "10:08 manoeuvre what=placenta_examined"}), examination));
}

TEST(FirstResponse, signs_count_from_one_interval_before_the_trigger) {
  EXPECT_FALSE(of(done({"09:54:59 vitals pulse=90 bp=110/70"}), signs));
  EXPECT_EQ(of(done({"09:55 vitals pulse=90 bp=110/70"}), signs), clock("09:55"));
  EXPECT_FALSE(of(done({"10:01 vitals pulse=90", "10:02 vitals bp=110/70"}), signs));
}

TEST(FirstResponse, any_call_is_help) {
  EXPECT_EQ(of(done({"10:01 call who=help state=called", "10:02 call who=obstetrician state=called"}), call_help),
            clock("10:01"));
}

// ---- Settling -------------------------------------------------------------------------------------------------------

FirstResponse treated(std::string_view at) {
  FirstResponse response;
  DoneTimes done_at;
  of(done_at, uterotonic) = clock(at);
  response.clocks = clocks(done_at, "11:00");
  return response;
}

Severity severity(double loss_ml, int pulse, int sbp, Tri ongoing) {
  Severity out;
  out.triggered = Tri::yes;
  out.ongoing = ongoing;
  out.loss_ml = loss_ml;
  out.pulse = record::Sought<PulseRate>{PulseRate(pulse)};
  out.sbp = record::Sought<Pressure>{Pressure(sbp)};
  return out;
}

Tri settling(FirstResponse response, const Severity& how, std::optional<Moment> seen) {
  judge_settling(response, how, seen, shipped());
  EXPECT_EQ(response.not_settling == Tri::yes, !response.not_settling_because.empty());
  return response.not_settling;
}

TEST(FirstResponse, not_settling_when_bleeding_goes_on_after_the_uterotonic) {
  EXPECT_EQ(settling(treated("10:04"), severity(600, 80, 120, Tri::yes), clock("10:05")), Tri::yes);
  EXPECT_EQ(settling(treated("10:04"), severity(600, 80, 120, Tri::yes), clock("10:04")), Tri::unknown);
  EXPECT_EQ(settling(treated("10:04"), severity(600, 80, 120, Tri::no), clock("10:05")), Tri::no);
  FirstResponse untreated;
  untreated.clocks = clocks({}, "11:00");
  EXPECT_EQ(settling(untreated, severity(600, 80, 120, Tri::yes), clock("10:05")), Tri::no);
}

// Source: staged guideline (1000 mL); Nathan et al. 2015 (0.9).
TEST(FirstResponse, not_settling_at_severe_loss_or_raised_index) {
  FirstResponse untreated;
  untreated.clocks = clocks({}, "11:00");
  EXPECT_EQ(settling(untreated, severity(1000, 80, 120, Tri::unknown), {}), Tri::yes);
  EXPECT_EQ(settling(untreated, severity(999, 80, 120, Tri::unknown), {}), Tri::no);
  EXPECT_EQ(settling(untreated, severity(600, 90, 100, Tri::unknown), {}), Tri::yes);
  EXPECT_EQ(settling(untreated, severity(600, 89, 100, Tri::unknown), {}), Tri::no);
}

TEST(FirstResponse, settling_is_unknown_without_loss_signs_or_trigger) {
  Severity how = severity(600, 80, 120, Tri::yes);
  how.loss_ml = {};
  EXPECT_EQ(settling(treated("10:04"), how, clock("10:04")), Tri::unknown);
  how = severity(1200, 120, 80, Tri::yes);
  how.triggered = Tri::unknown;
  EXPECT_EQ(settling(treated("10:04"), how, clock("10:05")), Tri::unknown);
  how.triggered = Tri::no;
  EXPECT_EQ(settling(treated("10:04"), how, clock("10:05")), Tri::no);
}

// ---- Advice ---------------------------------------------------------------------------------------------------------

const std::initializer_list<std::string_view> bleed{
    "09:45 opened birth_at=09:45 birth_mode=vaginal cautions=none", "10:00 loss method=drape level_ml=600",
    "10:00 vitals pulse=88 bp=118/72", "10:00 finding what=bleeding value=heavy"};

Lines advised(const ToldCase& told, std::string_view at) {
  return lines_of(advice_of(told, at, advise_first_response));
}

bool mentions(const Lines& lines, std::string_view id) {
  return std::any_of(lines.begin(), lines.end(),
                     [&](const std::string& line) { return line.find(id) != std::string::npos; });
}

TEST(FirstResponse, everything_is_due_from_the_trigger_on) {
  EXPECT_EQ(
      advised(ToldCase(bleed), "10:00"),
      (Lines{"due call_help medium due", "due massage_uterus medium due", "due give_uterotonic:oxytocin medium due",
             "due put_in_line:1 medium due", "due put_in_line:2 medium due", "due give_crystalloid medium due",
             "due take_bloods medium due", "due give_tranexamic medium due", "due empty_bladder medium due",
             "due examine_tract medium due", "due examine_placenta medium due"}));
}

TEST(FirstResponse, a_late_part_is_of_high_priority_and_comes_first) {
  const Lines late = advised(ToldCase(bleed), "10:04");
  EXPECT_EQ(late[0], "due call_help high late");
  EXPECT_EQ(late[1], "due massage_uterus high late");
  EXPECT_EQ(late[2], "due give_uterotonic:oxytocin medium due");
}

TEST(FirstResponse, what_is_recorded_is_not_asked_again) {
  ToldCase told(bleed);
  for (const std::string_view line :
       {"10:00 call who=help state=called", "10:01 manoeuvre what=massage", "10:02 finding what=tone value=firm",
        "10:03 drug drug=oxytocin dose=10 unit=IU route=im", "10:04 manoeuvre what=iv_access_1",
        "10:04 manoeuvre what=iv_access_2", "10:04 manoeuvre what=bloods_taken",
        "10:05 fluid fluid=ringer_lactate ml=1000 state=started",
        "10:06 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow", "10:07 manoeuvre what=bladder_emptied",
        "10:07 manoeuvre what=tract_examined", "10:07 manoeuvre what=placenta_examined"})
    told.tell(line);
  EXPECT_EQ(advised(told, "10:08"), Lines{});
}

TEST(FirstResponse, each_act_takes_away_its_own_row) {
  const struct {
    std::string_view line, gone;
  } rows[] = {{"10:01 manoeuvre what=bladder_emptied", "empty_bladder"},
              {"10:01 manoeuvre what=tract_examined", "examine_tract"},
              {"10:01 manoeuvre what=placenta_examined", "examine_placenta"},
              {"10:01 manoeuvre what=bloods_taken", "take_bloods"},
              {"10:01 lab hb_gl=100", "take_bloods"},
              {"10:01 manoeuvre what=iv_access_1", "put_in_line:1"},
              {"10:01 fluid fluid=saline ml=500", "put_in_line:1"}};
  for (const auto& row : rows) {
    ToldCase told(bleed);
    told.tell(row.line);
    EXPECT_FALSE(mentions(advised(told, "10:01"), row.gone)) << row.line;
    EXPECT_GE(advised(told, "10:01").size(), 9U) << row.line;
  }
}

TEST(FirstResponse, a_soft_uterus_is_massaged_again_until_firm) {
  ToldCase told(bleed);
  told.tell("10:01 manoeuvre what=massage");
  const auto said = [&](std::string_view at) {
    Lines out;
    for (const std::string& line : advised(told, at))
      if (line.find("massage") != std::string::npos || line.find("tone") != std::string::npos) out.push_back(line);
    return out;
  };
  EXPECT_EQ(said("10:02"), Lines{"unknown check_tone"});
  told.tell("10:03 finding what=tone value=soft");
  EXPECT_EQ(said("10:03"), Lines{"due massage_uterus:again high due"});
  told.tell("10:04 manoeuvre what=massage");
  EXPECT_EQ(said("10:04"), Lines{"unknown check_tone"});
  told.tell("10:05 finding what=tone value=unsure");
  EXPECT_EQ(said("10:05"), Lines{"unknown check_tone"});
  told.tell("10:06 finding what=tone value=firm");
  EXPECT_EQ(said("10:06"), Lines{});
}

TEST(FirstResponse, tranexamic_acid_goes_once_its_window_has_closed) {
  const ToldCase told({"09:45 opened birth_at=07:00 birth_mode=vaginal cautions=none",
                       "09:59 loss method=drape level_ml=600", "09:59 finding what=bleeding value=heavy"});
  EXPECT_TRUE(mentions(advised(told, "10:00"), "give_tranexamic"));
  EXPECT_FALSE(mentions(advised(told, "10:00:01"), "give_tranexamic"));
  EXPECT_EQ(*advice_of(told, "10:00", advise_first_response).next_change, clock("10:00") + Duration::milliseconds(1));
}

TEST(FirstResponse, the_row_names_the_first_drug_that_nothing_stops) {
  const auto drug = [](const ToldCase& told) {
    for (const Due& due : advice_of(told, "10:01", advise_first_response).due)
      if (due.id == "give_uterotonic") return due.about;
    return std::string();
  };
  EXPECT_EQ(drug(ToldCase(bleed)), "oxytocin");
  ToldCase allergic(bleed);
  allergic.tell("10:00 opened cautions=allergy:oxytocin");
  EXPECT_NE(drug(allergic), "oxytocin");
  EXPECT_NE(drug(allergic), "");
}

TEST(FirstResponse, with_every_drug_stopped_a_senior_chooses) {
  ToldCase told(bleed);
  told.tell(
      "10:00 opened "
      "cautions=allergy:oxytocin,allergy:ergometrine,allergy:oxytocin_ergometrine,allergy:misoprostol,allergy:"
      "carboprost");
  EXPECT_TRUE(mentions(advised(told, "10:01"), "choose_uterotonic"));
  EXPECT_FALSE(mentions(advised(told, "10:01"), "give_uterotonic"));
}

TEST(FirstResponse, at_an_open_operation_the_surgeon_looks) {
  ToldCase told(bleed);
  told.tell("10:00 surgery state=knife_to_skin what=caesarean");
  EXPECT_FALSE(mentions(advised(told, "10:01"), "examine_tract"));
  EXPECT_FALSE(mentions(advised(told, "10:01"), "empty_bladder"));
  EXPECT_TRUE(mentions(advised(told, "10:01"), "examine_placenta"));
  told.tell("10:05 surgery state=closed what=caesarean");
  EXPECT_TRUE(mentions(advised(told, "10:06"), "examine_tract"));
}

TEST(FirstResponse, a_raised_index_alone_does_not_mean_the_first_steps_failed) {
  ToldCase told({"09:45 opened birth_at=09:45 birth_mode=vaginal cautions=none", "10:00 loss method=drape level_ml=600",
                 "10:00 vitals pulse=110 bp=112/72", "10:00 finding what=bleeding value=heavy"});
  const auto judged = [&](std::string_view at) { return picture_of(told.at(at)).first_response; };
  EXPECT_EQ(judged("10:00").not_settling, Tri::yes);
  EXPECT_EQ(judged("10:00").first_steps_failed, Tri::no);
  told.tell("10:03 drug drug=oxytocin dose=10 unit=IU route=im");
  EXPECT_EQ(judged("10:04").first_steps_failed, Tri::unknown);
  told.tell("10:08 finding what=bleeding value=heavy");
  EXPECT_EQ(judged("10:08").first_steps_failed, Tri::yes);
}

TEST(FirstResponse, what_must_not_be_given_is_not_asked_for) {
  ToldCase inverted(bleed);
  inverted.tell("10:01 finding what=inversion value=seen");
  EXPECT_FALSE(mentions(advised(inverted, "10:02"), "give_uterotonic"));
  ToldCase allergic(bleed);
  allergic.tell("10:00 opened cautions=allergy:tranexamic_acid");
  EXPECT_FALSE(mentions(advised(allergic, "10:02"), "give_tranexamic"));
}

TEST(FirstResponse, silent_before_the_trigger_and_once_it_is_over) {
  EXPECT_EQ(advised(ToldCase({"09:45 opened birth_at=09:45 birth_mode=vaginal", "10:00 loss method=drape level_ml=200",
                              "10:00 vitals pulse=80 bp=120/70"}),
                    "10:10"),
            Lines{});
  for (const std::string_view over :
       {"10:05 outcome what=bleeding_stopped", "10:05 outcome what=died", "10:05 outcome what=recovered"}) {
    ToldCase told(bleed);
    told.tell(over);
    EXPECT_EQ(advised(told, "10:30"), Lines{}) << over;
  }
  ToldCase moved(bleed);
  moved.tell("10:05 outcome what=transferred");
  EXPECT_NE(advised(moved, "10:30"), Lines{});
}

TEST(FirstResponse, before_birth_only_what_helps_before_birth) {
  const ToldCase told({"09:45 opened birth_mode=undelivered cautions=none", "10:00 loss method=drape level_ml=600",
                       "10:00 vitals pulse=88 bp=118/72", "10:00 finding what=bleeding value=heavy"});
  EXPECT_EQ(advised(told, "10:00"),
            (Lines{"due call_help medium due", "due put_in_line:1 medium due", "due put_in_line:2 medium due",
                   "due give_crystalloid medium due", "due take_bloods medium due"}));
}

TEST(FirstResponse, json_names_every_part) {
  const Json out = to_json(picture_of(ToldCase(bleed).at("10:02")).first_response);
  EXPECT_EQ(out["call_help"]["timing"], "overdue");
  EXPECT_EQ(out["uterotonic"]["timing"], "waiting");
  EXPECT_EQ(out["bundle"]["timing"], "waiting");
  EXPECT_EQ(out["signs"]["timing"], "on_time");
  EXPECT_EQ(out["complete"], false);
  EXPECT_FALSE(out.contains("bundle_min"));
}

}  // namespace
}  // namespace stanch::care

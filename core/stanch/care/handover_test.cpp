#include "stanch/care/handover.hpp"

#include <gtest/gtest.h>

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

const protocol::Protocol& shipped() { return protocol::Protocol::shipped(); }

KeptTimes everything() {
  KeptTimes out;
  out.birth = out.tranexamic = out.uterotonic = out.garment_on = out.balloon_in = clock("10:00");
  out.garment_worn = out.balloon_present = true;
  out.loss_ml = 1200;
  return out;
}

Lines missing(const KeptTimes& times, const std::vector<std::string>& none = {}) {
  Lines out;
  for (const KeptItem& item : kept_items(times, none, shipped()))
    if (item.kept == Kept::missing) out.push_back(item.id);
  return out;
}

// Common practice, no source: the clocks that must not be lost.
TEST(Handover, each_clock_is_missed_by_itself) {
  EXPECT_EQ(missing(everything()), Lines{});
  const auto without = [](auto forget) {
    KeptTimes times = everything();
    forget(times);
    return missing(times);
  };
  EXPECT_EQ(without([](KeptTimes& t) { t.birth.reset(); }), Lines{"birth_time"});
  EXPECT_EQ(without([](KeptTimes& t) { t.tranexamic.reset(); }), Lines{"txa1_start"});
  EXPECT_EQ(without([](KeptTimes& t) { t.uterotonic.reset(); }), Lines{"uterotonic_last"});
  EXPECT_EQ(without([](KeptTimes& t) { t.garment_on.reset(); }), Lines{"garment_on"});
  EXPECT_EQ(without([](KeptTimes& t) { t.balloon_in.reset(); }), Lines{"balloon_in"});
  EXPECT_EQ(without([](KeptTimes& t) { t.loss_ml.reset(); }), Lines{"loss_at_departure"});
}

TEST(Handover, what_is_not_there_is_not_missed) {
  KeptTimes bare = everything();
  bare.garment_on.reset();
  bare.balloon_in.reset();
  bare.garment_worn = bare.balloon_present = false;
  EXPECT_EQ(missing(bare), Lines{});
  bare.tranexamic.reset();
  EXPECT_EQ(missing(bare, {"txa1_start"}), Lines{});
  EXPECT_EQ(missing(bare, {"birth_time"}), Lines{"txa1_start"});
}

const std::initializer_list<std::string_view> moved{
    "09:30 opened label=\"bed 2\" age_y=24 birth_at=09:45 birth_mode=vaginal cautions=none",
    "10:00 loss method=drape level_ml=900",
    "10:00 vitals pulse=118 bp=92/50",
    "10:00 finding what=bleeding value=heavy",
    "10:05 drug drug=oxytocin dose=10 unit=IU route=im",
    "10:08 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow"};

ToldCase told(std::initializer_list<std::string_view> more) {
  ToldCase out(moved);
  for (const std::string_view line : more) out.tell(line);
  return out;
}

Handover judged(const ToldCase& told, std::string_view at) { return picture_of(told.at(at)).handover; }

TEST(Handover, the_move_goes_from_stage_to_stage) {
  const ToldCase move = told(
      {"10:10 place where=clinic state=arrived level=primary", "10:20 place where=clinic state=decided to=hospital",
       "10:30 place where=ambulance state=left to=hospital", "10:31 place where=ambulance state=arrived",
       "11:00 place where=hospital state=arrived", "11:05 place where=hospital state=handed_over"});
  const auto stage = [&](std::string_view at) { return std::string(word(judged(move, at).stage)); };
  EXPECT_EQ(stage("10:15"), "none");
  EXPECT_EQ(stage("10:20"), "decided");
  EXPECT_EQ(stage("10:30"), "on_the_road");
  EXPECT_EQ(stage("10:40"), "on_the_road");
  EXPECT_EQ(stage("11:00"), "arrived");
  EXPECT_EQ(stage("11:05"), "handed_over");
  EXPECT_EQ(judged(move, "11:05").left_at, clock("10:30"));
  EXPECT_EQ(judged(move, "11:05").arrived_at, clock("11:00"));
}

TEST(Handover, a_hand_over_without_a_move_is_none) {
  EXPECT_EQ(judged(told({"10:10 place where=ward state=handed_over"}), "10:20").stage, MoveStage::none);
}

TEST(Handover, loss_is_that_of_the_departure) {
  const ToldCase move = told({"10:20 place where=ward state=decided", "10:30 place where=ward state=left",
                              "10:40 loss method=drape level_ml=1100"});
  const auto loss = [&](std::string_view at) { return judged(move, at).items.back().ml; };
  EXPECT_EQ(loss("10:25"), 900);
  EXPECT_EQ(loss("10:45"), 900);
  EXPECT_EQ(judged(move, "10:45").items.back().kept, Kept::known);
}

TEST(Handover, the_garment_she_wears_counts_and_one_taken_off_does_not) {
  ToldCase worn = told({"10:12 garment action=placed", "10:13 garment action=close segment=ankle"});
  EXPECT_EQ(judged(worn, "10:20").items[3].at, clock("10:12"));
  worn.tell("10:30 garment action=off");
  EXPECT_EQ(judged(worn, "10:30").items[3].kept, Kept::none);
  EXPECT_EQ(judged(told({"10:12 garment action=check tension=ok"}), "10:20").items[3].kept, Kept::none);
}

TEST(Handover, an_item_can_be_said_to_be_none) {
  ToldCase bare({"10:00 loss method=drape level_ml=900", "10:00 finding what=bleeding value=heavy"});
  EXPECT_EQ(judged(bare, "10:10").missing, (Lines{"birth_time", "txa1_start", "uterotonic_last"}));
  bare.tell("10:11 finding what=txa1_start value=not_given");
  bare.tell("10:11 finding what=uterotonic_last value=none");
  EXPECT_EQ(judged(bare, "10:11").missing, Lines{"birth_time"});
}

TEST(Handover, what_is_in_her_must_be_said) {
  EXPECT_EQ(judged(told({"10:10 manoeuvre what=balloon_in ml=300"}), "10:20").must_state.size(), 1U);
  EXPECT_EQ(judged(told({"10:10 manoeuvre what=packing"}), "10:20").must_state.front(), "packing");
  EXPECT_TRUE(judged(told({}), "10:20").must_state.empty());
}

TEST(Handover, complete_only_when_read_back_after_arrival) {
  ToldCase move = told({"10:20 place where=ward state=left", "10:25 finding what=read_back value=ok",
                        "10:50 place where=hospital state=arrived", "10:55 place where=hospital state=handed_over"});
  EXPECT_FALSE(judged(move, "10:56").complete);
  move.tell("10:57 finding what=read_back value=not_ok by=receiver");
  EXPECT_FALSE(judged(move, "10:57").complete);
  move.tell("10:58 finding what=read_back value=ok by=unclaimed");
  EXPECT_FALSE(judged(move, "10:58").complete);
  move.tell("10:59 finding what=read_back value=ok by=receiver");
  EXPECT_TRUE(judged(move, "10:59").complete);
}

TEST(Handover, never_complete_with_a_clock_missing_or_before_it_is_handed_over) {
  const auto complete = [](std::initializer_list<std::string_view> lines) {
    return judged(ToldCase(lines), "11:30").complete;
  };
  EXPECT_FALSE(complete({"10:00 loss method=drape level_ml=900", "10:20 place where=ward state=left",
                         "10:50 place where=hospital state=arrived", "10:55 place where=hospital state=handed_over",
                         "10:56 finding what=read_back value=ok"}));
  EXPECT_FALSE(judged(told({"10:20 place where=ward state=left", "10:50 place where=hospital state=arrived",
                            "10:56 finding what=read_back value=ok"}),
                      "11:30")
                   .complete);
}

TEST(Handover, the_referral_form_names_what_cannot_be_filled) {
  EXPECT_EQ(judged(told({}), "10:20").referral_missing, Lines{"cause"});
  EXPECT_EQ(judged(told({"10:10 finding what=tone value=soft"}), "10:20").referral_missing, Lines{});
  EXPECT_EQ(judged(ToldCase({"10:00 vitals pulse=90"}), "10:20").referral_missing,
            (Lines{"name", "age", "birth_time", "cause", "bleeding_start", "loss"}));
}

// ---- Advice ---------------------------------------------------------------------------------------------------------

Lines advised(const ToldCase& told, std::string_view at) { return lines_of(advice_of(told, at, advise_handover)); }

TEST(Handover, leaving_has_a_list_that_empties) {
  ToldCase move = told({"10:20 place where=ward state=decided to=hospital"});
  EXPECT_EQ(
      advised(move, "10:20"),
      (Lines{"due confirm_before_leaving:consent low due", "due confirm_before_leaving:receiver_confirmed low due",
             "due confirm_before_leaving:documents low due", "due confirm_before_leaving:catheter low due",
             "due confirm_before_leaving:oxygen low due", "due confirm_before_leaving:two_lines_running low due",
             "due confirm_before_leaving:escort low due"}));
  for (const std::string_view line :
       {"10:21 finding what=consent value=yes", "10:21 finding what=receiver_confirmed value=yes",
        "10:21 finding what=documents value=done", "10:21 manoeuvre what=catheter", "10:21 manoeuvre what=oxygen",
        "10:21 manoeuvre what=iv_access_1", "10:21 manoeuvre what=iv_access_2"})
    move.tell(line);
  EXPECT_EQ(advised(move, "10:22"), Lines{"due confirm_before_leaving:escort low due"});
  move.tell("10:23 finding what=escort value=no");
  EXPECT_EQ(advised(move, "10:23"), Lines{"due confirm_before_leaving:escort low due"});
  move.tell("10:24 finding what=escort value=ok");
  EXPECT_EQ(advised(move, "10:24"), Lines{});
}

TEST(Handover, a_balloon_is_guarded_and_written_down) {
  ToldCase move = told({"10:10 manoeuvre what=balloon_in ml=300", "10:10 manoeuvre what=packing",
                        "10:20 place where=ward state=decided to=hospital"});
  const Lines lines = advised(move, "10:20");
  EXPECT_NE(std::find(lines.begin(), lines.end(), "due confirm_before_leaving:devices_written_down low due"),
            lines.end());
  EXPECT_NE(std::find(lines.begin(), lines.end(), "guard take_out:balloon needs_override"), lines.end());
  EXPECT_NE(std::find(lines.begin(), lines.end(), "guard take_out:packing needs_override"), lines.end());
  move.tell("10:30 place where=ward state=left");
  move.tell("11:00 place where=hospital state=arrived");
  const Lines there = advised(move, "11:00");
  EXPECT_EQ(there, (Lines{"due read_back medium due", "due hand_over medium due"}));
}

// Common practice, no source: 1.4, or no pulse.
TEST(Handover, an_unstable_woman_is_announced) {
  const auto calls = [](const char* vitals, const char* call) {
    return advised(told({vitals, "10:30 place where=ward state=left", call}), "10:40");
  };
  constexpr const char* before = "10:29 call who=hospital state=called";
  EXPECT_EQ(calls("10:20 vitals pulse=140 bp=100/60", before), Lines{"due call_ahead high due"});
  EXPECT_EQ(calls("10:20 vitals pulse=139 bp=100/60", before), Lines{});
  EXPECT_EQ(calls("10:20 vitals pulse=unrecordable", before), Lines{"due call_ahead high due"});
  EXPECT_EQ(calls("10:20 vitals pulse=140 bp=100/60", "10:30 call who=hospital state=called"), Lines{});
}

TEST(Handover, the_road_asks_for_a_pressure_when_none_was_taken) {
  const ToldCase move({"09:45 opened birth_at=09:45 birth_mode=vaginal", "10:00 loss method=drape level_ml=900",
                       "10:00 drug drug=oxytocin dose=10 unit=IU route=im",
                       "10:00 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow",
                       "10:30 place where=ward state=left"});
  EXPECT_EQ(advised(move, "10:31"), Lines{"unknown take_bp"});
}

TEST(Handover, missing_clocks_are_asked_for_until_the_end) {
  ToldCase move({"09:45 opened birth_mode=vaginal", "10:00 loss method=drape level_ml=900",
                 "10:00 vitals pulse=90 bp=120/70", "10:00 drug drug=oxytocin dose=10 unit=IU route=im",
                 "10:30 place where=ward state=left", "10:50 place where=hospital state=arrived",
                 "10:51 place where=hospital state=handed_over"});
  EXPECT_EQ(advised(move, "10:52"),
            (Lines{"due read_back medium due", "due state:birth_time low due", "due state:txa1_start low due"}));
  move.tell("10:53 finding what=read_back value=ok");
  move.tell("10:53 opened birth_at=09:45");
  move.tell("10:53 finding what=txa1_start value=not_given");
  EXPECT_EQ(advised(move, "10:54"), Lines{});
}

TEST(Handover, silent_without_a_move_or_a_bleed) {
  EXPECT_EQ(advised(told({}), "10:20"), Lines{});
  EXPECT_EQ(advised(ToldCase({"10:00 loss method=drape level_ml=200", "10:00 vitals pulse=80 bp=120/70",
                              "10:20 place where=ward state=decided"}),
                    "10:20"),
            Lines{});
}

// Sources: Shah et al. 2016; Iedema et al. 2012.
TEST(Handover, the_story_has_its_order_and_pauses) {
  Lines order;
  for (const StorySection& section : story(StoryStyle::imist, shipped())) order.push_back(section.id);
  EXPECT_EQ(order, (Lines{"identification", "mechanism", "information", "signs", "treatment", "questions", "allergies",
                          "medication", "background", "other", "questions"}));
  const auto sbar = story(StoryStyle::sbar, shipped());
  ASSERT_EQ(sbar.size(), 4U);
  EXPECT_EQ(sbar[0].facts.front(), "label");
  EXPECT_EQ(sbar[3].id, "request");
  EXPECT_EQ(sbar[3].facts.size(), 3U);
}

TEST(Handover, json_lists_items_and_gaps) {
  const Json out = to_json(judged(told({"10:20 place where=ward state=decided"}), "10:25"));
  EXPECT_EQ(out["stage"], "decided");
  EXPECT_EQ(out["items"][1]["id"], "txa1_start");
  EXPECT_EQ(out["items"][1]["kept"], "known");
  EXPECT_EQ(out["items"][4]["kept"], "none");
  EXPECT_EQ(out["items"][5]["ml"], 900);
}

}  // namespace
}  // namespace stanch::care

#include "stanch/care/move_story.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

ToldCase moved() {
  return {"09:30 opened label=\"bed 2\" age_y=24 birth_at=09:45 birth_mode=vaginal",
          "09:50 place where=facility:wren_health_post state=arrived level=primary",
          "10:00 loss method=drape level_ml=900",
          "10:00 vitals pulse=118 bp=92/50",
          "10:00 finding what=bleeding value=heavy",
          "10:02 finding what=tone value=soft",
          "10:05 drug drug=oxytocin dose=10 unit=IU route=im",
          "10:08 drug drug=tranexamic_acid dose=1 unit=g route=iv_slow",
          "10:09 manoeuvre what=massage",
          "10:12 garment action=placed garment_id=G-07",
          "10:13 garment action=close segment=ankle",
          "10:20 place where=facility:wren_health_post state=decided to=facility:sorrel_district_hospital "
          "minutes_to_care=41",
          "10:21 call who=receiving_hospital state=called",
          "10:22 finding what=receiver_answered value=\"Dr N.\"",
          "10:23 finding what=receiver_confirmed value=yes",
          "10:30 place where=ambulance state=left to=facility:sorrel_district_hospital",
          "10:31 loss method=estimate amount_ml=200"};
}

MoveStory told(const ToldCase& story, std::string_view at) {
  const View view = story.at(at);
  return move_story(view, picture_of(view));
}

const StoryPart& part(const MoveStory& story, std::string_view id) {
  return *std::find_if(story.parts.begin(), story.parts.end(), [&](const StoryPart& p) { return p.id == id; });
}

std::vector<std::string> ids(const StoryPart& part) {
  std::vector<std::string> out;
  for (const StoryRow& row : part.rows) out.push_back(row.id + (row.about.empty() ? "" : ":" + row.about));
  return out;
}

const StoryRow& row(const StoryPart& part, std::string_view id) {
  return *std::find_if(part.rows.begin(), part.rows.end(), [&](const StoryRow& r) { return r.id == id; });
}

using Lines = std::vector<std::string>;

bool has(const Lines& lines, std::string_view line) { return std::ranges::find(lines, line) != lines.end(); }

// The order is the brief's: cause, loss, now, given, garment, due, ask, gaps.
TEST(MoveStory, its_order_is_fixed) {
  Lines order;
  for (const StoryPart& part : told(moved(), "10:40").parts) order.push_back(part.id);
  EXPECT_EQ(order, (Lines{"who", "cause", "loss", "now", "given", "garment", "done", "clocks", "ask", "gaps"}));
}

TEST(MoveStory, every_row_of_the_record_is_told_once) {
  std::multiset<std::string> listed;
  for (const StoryPart& part : told(moved(), "10:40").parts)
    for (const Id& id : part.entries) listed.insert(to_text(id));
  EXPECT_EQ(listed.size(), 17U);
  EXPECT_EQ(std::set<std::string>(listed.begin(), listed.end()).size(), 17U);
  EXPECT_EQ(part(told(moved(), "10:01"), "done").entries.size(), 2U) << "later rows have not happened yet";
}

TEST(MoveStory, of_many_sets_the_last_twelve_are_told) {
  ToldCase many{"09:30 opened label=a"};
  for (int minute = 10; minute < 30; ++minute) many.tell("10:" + std::to_string(minute) + " vitals pulse=100 bp=90/60");
  EXPECT_EQ(part(told(many, "10:40"), "now").entries.size(), 12U);
}

TEST(MoveStory, sums_what_was_lost_and_given) {
  ToldCase twice = moved();
  twice.tell("10:35 drug drug=oxytocin dose=10 unit=IU route=im");
  const MoveStory story = told(twice, "10:40");
  EXPECT_EQ(row(part(story, "loss"), "loss_total").value, 1100);  // 900 in the drape and 200 by eye
  EXPECT_EQ(row(part(story, "loss"), "loss_total").at, clock("10:31"));
  const StoryRow& oxytocin = row(part(story, "given"), "drug_total");
  EXPECT_EQ(oxytocin.about, "oxytocin");
  EXPECT_EQ(oxytocin.value, 20);
  EXPECT_EQ(oxytocin.count, 2);
  EXPECT_EQ(oxytocin.at, clock("10:35"));
  twice.tell("10:36 drug drug=oxytocin route=im");
  EXPECT_EQ(row(part(told(twice, "10:40"), "given"), "drug_total_at_least").value, 20);
  EXPECT_EQ(row(part(story, "now"), "shock_index").value, 118.0 / 92.0);
  EXPECT_EQ(ids(part(story, "cause")), (Lines{"cause:tone"}));
}

// The second gram: half an hour after the first at the earliest, up to a day after it (WHO 2017, as the protocol says).
TEST(MoveStory, names_the_clocks_that_run) {
  const MoveStory story = told(moved(), "10:32");
  const StoryPart& clocks = part(story, "clocks");
  EXPECT_EQ(row(clocks, "second_tranexamic_from").at, clock("10:38"));
  EXPECT_TRUE(row(clocks, "next_vitals").at.has_value());
  EXPECT_TRUE(row(clocks, "garment_check").at.has_value());
  EXPECT_EQ(ids(part(told(ToldCase{"09:30 opened label=a"}, "10:00"), "ask")), Lines{});
}

TEST(MoveStory, a_drip_is_named_until_its_end) {
  ToldCase drip = moved();
  drip.tell("10:30 drug drug=oxytocin dose=20 unit=IU route=iv_infusion state=started infusion=1000ml/240min");
  const auto runs = [&](std::string_view at) {
    const auto all = ids(part(told(drip, at), "clocks"));
    return std::count(all.begin(), all.end(), "drip:oxytocin");
  };
  EXPECT_EQ(runs("10:40"), 1);
  EXPECT_EQ(row(part(told(drip, "10:40"), "clocks"), "drip").at, clock("14:30"));
  EXPECT_EQ(runs("14:31"), 0);
}

TEST(MoveStory, the_way_is_told_with_its_clock) {
  const Journey before = told(moved(), "10:25").journey;
  EXPECT_EQ(before.to, "facility:sorrel_district_hospital");
  EXPECT_EQ(before.minutes, 41);
  EXPECT_FALSE(before.arrival_at);
  EXPECT_EQ(before.called_at, clock("10:21"));
  EXPECT_EQ(before.answered_by, "Dr N.");
  EXPECT_EQ(before.accepted, Tri::yes);
  EXPECT_EQ(told(moved(), "10:30").journey.arrival_at, clock("11:11"));
  EXPECT_EQ(told(moved(), "10:22").journey.accepted, Tri::unknown);
}

TEST(MoveStory, asks_for_what_must_stay_and_what_must_be_ready) {
  ToldCase filled = moved();
  EXPECT_TRUE(has(ids(part(told(filled, "10:40"), "ask")), "keep_garment_on"));
  filled.tell("10:41 manoeuvre what=balloon_in ml=400");
  EXPECT_TRUE(has(ids(part(told(filled, "10:42"), "ask")), "leave_in:balloon"));
  filled.tell("10:43 garment action=off");
  EXPECT_FALSE(has(ids(part(told(filled, "10:44"), "ask")), "keep_garment_on"));
}

TEST(MoveStory, says_what_nobody_has_told) {
  ToldCase story = moved();
  const auto gap = [&](const std::string& name) { return has(ids(part(told(story, "10:50"), "gaps")), "gap:" + name); };
  EXPECT_TRUE(gap("temperature"));
  EXPECT_TRUE(gap("allergies"));
  EXPECT_TRUE(gap("haemoglobin"));
  EXPECT_FALSE(gap("age"));
  story.tell("10:41 vitals pulse=120 bp=90/50 temp_c=36.4");
  story.tell("10:42 opened cautions=none hb_gl=92 blood_group=O+");
  for (const char* name : {"temperature", "allergies", "haemoglobin", "blood_group"}) EXPECT_FALSE(gap(name)) << name;
}

TEST(MoveStory, the_garment_goes_back_where_it_was_put_on) {
  const MoveStory story = told(moved(), "10:40");
  EXPECT_EQ(story.garment_id, "G-07");
  EXPECT_EQ(story.garment_home, "facility:wren_health_post");
  EXPECT_EQ(told(moved(), "10:11").garment_home, "");
}

TEST(MoveStory, packs_what_the_protocol_lists) {
  const MoveStory story = told(moved(), "10:40");
  ASSERT_EQ(story.pack.size(), 8U);
  const auto confirmed = std::ranges::count_if(story.pack, &PackItem::confirmed);
  EXPECT_EQ(confirmed, 2) << "the receiver has agreed, and nothing is in her that must be written down";
}

}  // namespace
}  // namespace stanch::care

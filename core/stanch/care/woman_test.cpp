#include "stanch/care/woman.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using record::Placenta;
using support::clock;
using support::ToldCase;

TEST(Woman, later_openings_add_and_replace_single_fields) {
  const ToldCase c{"08:00 opened label=A weight_kg=50 birth_at=07:00",
                   "08:10 opened weight_kg=55 birth_estimated=true"};
  const Woman early = woman(c.at("08:05"));
  EXPECT_EQ(early.weight_kg, 50);
  EXPECT_FALSE(early.birth_estimated);
  const Woman late = woman(c.at("08:10"));
  EXPECT_EQ(late.weight_kg, 55);
  EXPECT_EQ(late.label, "A");
  EXPECT_TRUE(late.birth_estimated);
  EXPECT_EQ(late.birth_at, clock("07:00"));
}

TEST(Woman, cautions_never_asked_are_unknown) {
  const ToldCase asked{"08:00 opened cautions=asthma"};
  EXPECT_EQ(woman(asked.at("08:00")).has("asthma"), Tri::yes);
  EXPECT_EQ(woman(asked.at("08:00")).has("thrombosis"), Tri::no);
  EXPECT_EQ(woman(ToldCase{"08:00 opened label=A"}.at("08:00")).has("asthma"), Tri::unknown);
}

TEST(Woman, born_is_unknown_until_told) {
  EXPECT_EQ(woman(ToldCase({}).at("08:00")).born(), Tri::unknown);
  EXPECT_EQ(woman(ToldCase{"08:00 opened birth_mode=undelivered"}.at("08:00")).born(), Tri::no);
  EXPECT_EQ(woman(ToldCase{"08:00 opened birth_mode=vaginal"}.at("08:00")).born(), Tri::yes);
  EXPECT_EQ(woman(ToldCase{"08:00 opened birth_at=07:00"}.at("08:00")).born(), Tri::yes);
}

TEST(Woman, the_newest_word_about_the_placenta_counts) {
  const ToldCase c{"08:00 opened placenta=in",
                   "08:10 manoeuvre what=placenta_removed",
                   "08:20 finding what=placenta value=incomplete",
                   "08:30 manoeuvre what=manual_removal",
                   "08:40 manoeuvre what=manual_removal done=false",
                   "08:50 finding what=placenta value=in",
                   "09:00 opened placenta=out_complete"};
  EXPECT_EQ(woman(c.at("08:05")).placenta, Placenta::in);
  EXPECT_EQ(woman(c.at("08:10")).placenta, Placenta::out_complete);
  EXPECT_EQ(woman(c.at("08:20")).placenta, Placenta::out_incomplete);
  EXPECT_EQ(woman(c.at("08:30")).placenta, Placenta::out_complete);
  EXPECT_EQ(woman(c.at("08:50")).placenta, Placenta::in);
  EXPECT_EQ(woman(c.at("09:00")).placenta, Placenta::out_complete);
}

TEST(Whereabouts, a_decision_to_go_moves_nobody) {
  const ToldCase c{"08:00 place where=ward state=arrived level=primary minutes_to_care=40",
                   "08:20 place where=ward state=decided to=hospital", "08:30 place where=ambulance state=left",
                   "09:10 place where=hospital state=arrived level=hospital"};
  EXPECT_EQ(whereabouts(c.at("07:00")).where, "");
  EXPECT_EQ(whereabouts(c.at("08:20")).where, "ward");
  EXPECT_FALSE(whereabouts(c.at("08:20")).on_the_road());
  EXPECT_TRUE(whereabouts(c.at("08:30")).on_the_road());
  EXPECT_EQ(whereabouts(c.at("08:30")).minutes_to_care, 40);
  const Whereabouts there = whereabouts(c.at("09:10"));
  EXPECT_FALSE(there.on_the_road());
  EXPECT_EQ(there.level, record::CareLevel::hospital);
  EXPECT_FALSE(there.minutes_to_care);  // what was told for another place says nothing here
  EXPECT_EQ(there.since, clock("09:10"));
}

TEST(Whereabouts, a_ward_that_was_left_is_the_road) {
  EXPECT_TRUE(whereabouts(ToldCase{"08:00 place where=ward state=left"}.at("08:00")).on_the_road());
}

TEST(Whereabouts, the_site_itself_is_the_level_until_one_is_recorded) {
  const ToldCase told({"10:00 place where=ward state=arrived", "10:10 place where=clinic state=arrived level=primary"});
  const auto level = [&](std::string_view at, const protocol::Protocol& protocol) {
    return record::word(care_level(whereabouts(told.at(at)), protocol));
  };
  EXPECT_EQ(level("10:05", protocol::Protocol::shipped()), "hospital");
  EXPECT_EQ(level("10:05", support::ward_protocol(R"({"site.level": "primary"})")), "primary");
  EXPECT_EQ(level("10:10", protocol::Protocol::shipped()), "primary");
}

TEST(Bleeding, newest_word_counts_and_unseen_is_unknown) {
  const ToldCase c{"08:00 finding what=bleeding value=heavy",  "08:10 outcome what=bleeding_stopped",
                   "08:20 finding what=bleeding value=light",  "08:30 finding what=bleeding value=none",
                   "08:40 finding what=bleeding value=unseen", "08:50 finding what=bleeding value=ongoing"};
  EXPECT_EQ(bleeding(c.at("07:59")).ongoing, Tri::unknown);
  EXPECT_EQ(bleeding(c.at("08:00")).ongoing, Tri::yes);
  EXPECT_EQ(bleeding(c.at("08:10")).ongoing, Tri::no);
  EXPECT_EQ(bleeding(c.at("08:20")).ongoing, Tri::yes);
  EXPECT_EQ(bleeding(c.at("08:30")).ongoing, Tri::no);
  EXPECT_EQ(bleeding(c.at("08:40")).ongoing, Tri::unknown);
  EXPECT_EQ(bleeding(c.at("08:50")).ongoing, Tri::yes);
  EXPECT_EQ(bleeding(c.at("08:10")).at, clock("08:10"));
}

TEST(Bleeding, a_stop_told_in_the_same_minute_as_a_finding_counts) {
  const ToldCase c{"08:00 finding what=bleeding value=light", "08:00 outcome what=bleeding_stopped"};
  EXPECT_EQ(bleeding(c.at("08:00")).ongoing, Tri::no);
}

}  // namespace
}  // namespace stanch::care

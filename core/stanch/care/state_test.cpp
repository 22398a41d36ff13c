#include "stanch/care/state.hpp"

#include <gtest/gtest.h>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::clock;
using support::ToldCase;

TEST(View, sees_up_to_and_including_now) {
  const ToldCase c{"10:00 vitals pulse=80", "10:10 vitals pulse=90", "10:10 vitals pulse=91"};
  EXPECT_EQ(c.at("09:59:59").all<record::Vitals>().size(), 0U);
  EXPECT_EQ(c.at("10:00").all<record::Vitals>().size(), 1U);
  EXPECT_EQ(c.at("10:09:59").all<record::Vitals>().size(), 1U);
  EXPECT_EQ(c.at("10:10").all<record::Vitals>().size(), 3U);
  EXPECT_EQ(c.at("10:10").last<record::Vitals>()->what.pulse->value, PulseRate(91));
  EXPECT_EQ(c.at("09:00").last<record::Vitals>(), nullptr);
  EXPECT_EQ(c.at("10:10").at(clock("10:00")).all<record::Vitals>().size(), 1U);
}

TEST(View, finds_first_and_last_by_claim) {
  const ToldCase c{"10:00 finding what=tone value=soft", "10:05 finding what=bleeding value=heavy",
                   "10:10 finding what=tone value=firm"};
  const auto is_tone = [](const record::Finding& f) { return f.what == "tone"; };
  EXPECT_EQ(c.at("11:00").first_where<record::Finding>(is_tone)->what.value, "soft");
  EXPECT_EQ(c.at("11:00").last_where<record::Finding>(is_tone)->what.value, "firm");
  EXPECT_EQ(c.at("11:00").last_where<record::Finding>([](const record::Finding& f) { return f.what == "tear"; }),
            nullptr);
}

TEST(State, a_late_entry_takes_its_place_in_time) {
  const ToldCase c{"10:10 vitals pulse=90", "10:00 vitals pulse=80 written=10:20"};
  const auto all = c.at("11:00").all<record::Vitals>();
  EXPECT_EQ(all[0].what.pulse->value, PulseRate(80));
  EXPECT_EQ(all[0].recorded, clock("10:20"));
}

TEST(State, as_known_at_leaves_out_what_was_not_yet_written) {
  const ToldCase c{"10:00 #a vitals pulse=80", "10:05 vitals pulse=85 written=10:20", "10:10 strike strikes=#a"};
  const State early(as_known_at(c.state().entries(), clock("10:09")));
  EXPECT_EQ(early.facts().of<record::Vitals>().size(), 1U);
  const State later(as_known_at(c.state().entries(), clock("10:10")));
  EXPECT_EQ(later.facts().of<record::Vitals>().size(), 0U);
  const State all(as_known_at(c.state().entries(), clock("10:20")));
  EXPECT_EQ(all.facts().of<record::Vitals>().size(), 1U);
}

}  // namespace
}  // namespace stanch::care

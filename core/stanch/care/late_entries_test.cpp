#include "stanch/care/late_entries.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/support/told_case.hpp"

// Expected behaviour: common practice, no source.
namespace stanch::care {
namespace {

using support::ToldCase;

Advice advice_of(const ToldCase& told, std::string_view now) {
  const View view = told.at(now);
  AdviceBuilder out(view.now());
  advise_late_entries(told.state().entries(), view, picture_of(view), out);
  return std::move(out).finish();
}

/// "changed_shock_band usual>high, low": reasons and priority of each notice.
std::string shown(const Advice& advice) {
  std::string out;
  for (const Notice& notice : advice.notices) {
    for (const Reason& reason : notice.reasons) out += reason.id + " " + reason.about + ", ";
    out += std::string(word(notice.priority)) + "; ";
  }
  return out;
}

const std::initializer_list<std::string_view> retro{
    "10:00 vitals pulse=100 sbp=120", "10:02 vitals sbp=80 written=10:40", "10:35 vitals pulse=88 sbp=118"};

TEST(LateEntries, a_late_pressure_that_changed_the_past_band_is_told_and_ranks_low) {
  EXPECT_EQ(shown(advice_of(ToldCase(retro), "10:39")), "");
  const Advice advice = advice_of(ToldCase(retro), "10:40");
  EXPECT_EQ(shown(advice), "changed_shock_band usual>high, low; ");
  const Notice& notice = advice.notices.at(0);
  EXPECT_EQ(notice.id, "answer_changed");
  EXPECT_TRUE(parse_id(notice.about).has_value());
  EXPECT_EQ(notice.reasons[0].rule, "CLOCK-2");
  EXPECT_EQ(notice.reasons[0].seen, 38.0);
  EXPECT_EQ(notice.reasons[0].at, support::clock("10:02"));
}

TEST(LateEntries, one_that_is_worse_now_ranks_medium) {
  const ToldCase told({"10:00 vitals pulse=100 sbp=120", "10:02 vitals sbp=80 written=10:05"});
  EXPECT_EQ(shown(advice_of(told, "10:05")), "changed_shock_band usual>high, medium; ");
}

TEST(LateEntries, one_that_is_better_now_ranks_low) {
  const ToldCase told({"10:00 vitals pulse=130 sbp=80", "10:02 vitals pulse=90 sbp=120 written=10:05"});
  EXPECT_EQ(shown(advice_of(told, "10:05")), "changed_shock_band very_high>usual, low; ");
}

TEST(LateEntries, two_minutes_late_is_on_time) {
  EXPECT_EQ(
      shown(advice_of(ToldCase({"10:00 vitals pulse=100 sbp=120", "10:02 vitals sbp=80 written=10:04"}), "10:04")), "");
  EXPECT_NE(shown(advice_of(ToldCase({"10:00 vitals pulse=100 sbp=120", "10:02 vitals sbp=80 written=10:04:01"}),
                            "10:04:01")),
            "");
}

TEST(LateEntries, what_changes_nothing_is_not_told) {
  EXPECT_EQ(shown(advice_of(ToldCase({"10:00 vitals pulse=100 sbp=120", "10:02 vitals sbp=119 written=10:40",
                                      "10:03 urine amount_ml=30 written=10:40"}),
                            "10:40")),
            "");
}

TEST(LateEntries, it_is_told_for_half_an_hour_and_wakes_at_its_ends) {
  EXPECT_EQ(advice_of(ToldCase(retro), "10:39").next_change, support::clock("10:40"));
  EXPECT_EQ(advice_of(ToldCase(retro), "10:40").next_change, support::clock("11:10"));
  EXPECT_NE(shown(advice_of(ToldCase(retro), "11:10")), "");
  EXPECT_EQ(advice_of(ToldCase(retro), "11:10").next_change, support::clock("11:10") + Duration::milliseconds(1));
  EXPECT_EQ(shown(advice_of(ToldCase(retro), "11:10:01")), "");
}

TEST(LateEntries, it_is_not_told_again_once_somebody_answered) {
  const ToldCase before(retro);
  const std::string entry = advice_of(before, "10:40").notices.at(0).about;
  ToldCase told(retro);
  told.tell("10:41 advice_shown advice=answer_changed:" + entry);
  EXPECT_NE(shown(advice_of(told, "10:40")), "");
  EXPECT_EQ(shown(advice_of(told, "10:41")), "");
  ToldCase other(retro);
  other.tell("10:41 advice_shown advice=answer_changed:someone_else");
  EXPECT_NE(shown(advice_of(other, "10:41")), "");
}

TEST(LateEntries, a_late_correction_is_compared_with_what_it_corrects) {
  const ToldCase same({"10:00 vitals pulse=100 sbp=120", "10:02 #typo vitals pulse=101 sbp=80",
                       "10:02 vitals pulse=102 sbp=80 strikes=#typo written=10:20"});
  EXPECT_EQ(shown(advice_of(same, "10:20")), "");
  const ToldCase differs({"10:00 vitals pulse=100 sbp=120", "10:02 #typo vitals pulse=100 sbp=80",
                          "10:02 vitals pulse=100 sbp=118 strikes=#typo written=10:20"});
  EXPECT_EQ(shown(advice_of(differs, "10:20")), "changed_shock_band high>usual, low; ");
}

TEST(KeyAnswers, an_unknown_band_is_named_unknown) {
  const ToldCase none({});
  const auto answers = key_answers(picture_of(none.at("10:00")));
  ASSERT_FALSE(answers.empty());
  EXPECT_EQ(answers[0].name, "shock_band");
  EXPECT_EQ(answers[0].word, "unknown");
}

}  // namespace
}  // namespace stanch::care

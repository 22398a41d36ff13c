#include "stanch/care/early_warning.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "stanch/care/picture.hpp"
#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

using support::ToldCase;

EarlyWarning judged(const ToldCase& told, std::string_view chart, std::string_view at) {
  const View view = told.at(at);
  return early_warning_by(chart, view, signs(view));
}

bool asks(const EarlyWarning& warning, std::string_view id) {
  return std::find(warning.ask.begin(), warning.ask.end(), id) != warning.ask.end();
}

TEST(EarlyWarning, a_sign_that_was_not_taken_leaves_it_open_and_is_asked_for) {
  const ToldCase told({"08:10 vitals pulse=84 bp=118/72 rr=16 spo2=98"});
  const EarlyWarning warning = judged(told, "single_2014", "08:10");
  EXPECT_EQ(warning.trigger, Tri::unknown);
  EXPECT_FALSE(asks(warning, "take_pulse"));
  EXPECT_EQ(judged(ToldCase({"08:10 vitals pulse=84 bp=118/72 rr=16 spo2=98 avpu=A"}), "single_2014", "08:10").trigger,
            Tri::no);
}

TEST(EarlyWarning, one_bad_sign_decides_whatever_is_missing) {
  EXPECT_EQ(judged(ToldCase({"08:10 vitals pulse=121"}), "single_2014", "08:10").trigger, Tri::yes);
  EXPECT_EQ(judged(ToldCase({"08:10 vitals pulse=49"}), "single_2014", "08:10").trigger, Tri::yes);
  EXPECT_EQ(judged(ToldCase({"08:10 vitals pulse=50"}), "single_2014", "08:10").trigger, Tri::unknown);
  EXPECT_EQ(judged(ToldCase({"08:10 vitals sbp=unrecordable"}), "single_2014", "08:10").trigger, Tri::yes);
  EXPECT_EQ(judged(ToldCase({"08:10 vitals avpu=C"}), "single_2014", "08:10").trigger, Tri::yes);
}

TEST(EarlyWarning, two_weak_signs_make_a_strong_one) {
  EXPECT_EQ(judged(ToldCase({"08:10 vitals pulse=110 sbp=95"}), "chart_2012", "08:10").trigger, Tri::yes);
  EXPECT_EQ(judged(ToldCase({"08:10 vitals sbp=89"}), "chart_2012", "08:10").trigger, Tri::yes);
  EXPECT_NE(judged(ToldCase({"08:10 vitals sbp=95"}), "chart_2012", "08:10").trigger, Tri::yes);
}

TEST(EarlyWarning, every_chart_is_named) {
  for (const std::string_view chart : {"single_2014", "chart_2012", "tool_2016", "staged"})
    EXPECT_EQ(judged(ToldCase({}), chart, "08:10").chart, chart);
}

}  // namespace
}  // namespace stanch::care

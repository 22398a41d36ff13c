#include "stanch/care/early_warning.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <sstream>
#include <string>

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

// A set of signs within every chart's limits, with some of them changed: "sbp=89 dbp=60". "-temp_c" leaves one out.
std::string set_with(std::string_view at, std::string_view changes) {
  std::map<std::string, std::string> signs{{"pulse", "80"}, {"sbp", "118"},     {"dbp", "72"}, {"rr", "16"},
                                           {"spo2", "98"},  {"temp_c", "36.8"}, {"avpu", "A"}};
  std::istringstream words{std::string(changes)};
  for (std::string word; words >> word;) {
    const auto equals = word.find('=');
    if (equals == std::string::npos)
      signs.erase(word.substr(1));
    else
      signs[word.substr(0, equals)] = word.substr(equals + 1);
  }
  std::string line = std::string(at) + " vitals";
  for (const auto& [sign, value] : signs) line += " " + sign + "=" + value;
  return line;
}

// "yes: strong sbp_low, weak rr_high; asks take_bp"
std::string told_of(const EarlyWarning& warning) {
  std::string out(word(warning.trigger));
  for (const Reason& reason : warning.present)
    out += (&reason == warning.present.data() ? ": " : ", ") + reason.about + " " + reason.id;
  for (const std::string_view ask : warning.ask)
    out += (ask == warning.ask.front() ? "; asks " : ", ") + std::string(ask);
  return out;
}

// Two sets half an hour apart, so that what has to last has lasted; the limits are the protocol's early_warning values.
std::string charted(std::string_view chart, std::string_view changes) {
  const std::string first = set_with("08:00", changes);
  const std::string second = set_with("08:21", changes);
  return told_of(judged(ToldCase({first, second}), chart, "08:21"));
}

struct Row {
  const char* changes;
  const char* told;
};

void expect_rows(std::string_view chart, std::initializer_list<Row> rows) {
  for (const Row& row : rows) EXPECT_EQ(charted(chart, row.changes), row.told) << chart << " " << row.changes;
}

TEST(EarlyWarning, single_signs_at_their_limits) {  // EW-1
  expect_rows("single_2014", {{"", "no"},
                              {"sbp=90", "no"},
                              {"sbp=89", "yes: strong sbp_low"},
                              {"sbp=160", "no"},
                              {"sbp=161", "yes: strong sbp_high"},
                              {"dbp=100", "no"},
                              {"dbp=101", "yes: strong dbp_high"},
                              {"pulse=50", "no"},
                              {"pulse=49", "yes: strong pulse_low"},
                              {"pulse=120", "no"},
                              {"pulse=121", "yes: strong pulse_high"},
                              {"rr=10", "no"},
                              {"rr=9", "yes: strong rr_low"},
                              {"rr=30", "no"},
                              {"rr=31", "yes: strong rr_high"},
                              {"spo2=95", "no"},
                              {"spo2=94.9", "yes: strong spo2_low"},
                              {"temp_c=40", "no"},
                              {"avpu=C", "yes: strong mind"},
                              {"avpu=U", "yes: strong mind"},
                              {"pulse=unrecordable", "yes: strong pulse_low"},
                              {"sbp=unrecordable -dbp", "yes: strong sbp_low"}});
}

TEST(EarlyWarning, the_older_chart_at_its_limits) {  // EW-2
  expect_rows("chart_2012", {{"", "no"},
                             {"sbp=101", "no"},
                             {"sbp=100", "no: weak sbp_low"},
                             {"sbp=90", "no: weak sbp_low"},
                             {"sbp=89", "yes: strong sbp_low"},
                             {"sbp=149", "no"},
                             {"sbp=150", "no: weak sbp_high"},
                             {"sbp=160", "no: weak sbp_high"},
                             {"sbp=161", "yes: strong sbp_high"},
                             {"dbp=89", "no"},
                             {"dbp=90", "no: weak dbp_high"},
                             {"dbp=100", "no: weak dbp_high"},
                             {"dbp=101", "yes: strong dbp_high"},
                             {"pulse=51", "no"},
                             {"pulse=50", "no: weak pulse_low"},
                             {"pulse=40", "no: weak pulse_low"},
                             {"pulse=39", "yes: strong pulse_low"},
                             {"pulse=99", "no"},
                             {"pulse=100", "no: weak pulse_high"},
                             {"pulse=120", "no: weak pulse_high"},
                             {"pulse=121", "yes: strong pulse_high"},
                             {"rr=10", "no"},
                             {"rr=9", "yes: strong rr_low"},
                             {"rr=20", "no"},
                             {"rr=21", "no: weak rr_high"},
                             {"rr=30", "no: weak rr_high"},
                             {"rr=31", "yes: strong rr_high"},
                             {"spo2=95", "no"},
                             {"spo2=94.9", "yes: strong spo2_low"},
                             {"temp_c=36.1", "no"},
                             {"temp_c=36", "no: weak temp_low"},
                             {"temp_c=35", "no: weak temp_low"},
                             {"temp_c=34.9", "yes: strong temp_low"},
                             {"temp_c=38", "no"},
                             {"temp_c=38.1", "yes: strong temp_high"},
                             {"avpu=C", "no"},
                             {"avpu=V", "no: weak mind"},
                             {"avpu=P", "yes: strong mind"},
                             {"avpu=U", "yes: strong mind"},
                             {"rr=21 avpu=V", "yes: weak rr_high, weak mind"}});
}

TEST(EarlyWarning, the_trigger_tool_at_its_limits) {  // EW-3
  expect_rows("tool_2016", {{"", "no"},
                            {"sbp=85", "no"},
                            {"sbp=84", "no: weak sbp_low"},
                            {"sbp=160", "no"},
                            {"sbp=161", "no: weak sbp_high"},
                            {"dbp=45", "no"},
                            {"dbp=44", "no: weak dbp_low"},
                            {"dbp=110", "no"},
                            {"dbp=111", "no: weak dbp_high"},
                            {"sbp=85 dbp=40", "no: weak dbp_low"},  // a mean of exactly 55
                            {"sbp=85 dbp=39", "yes: strong mean_low, weak dbp_low"},
                            {"pulse=50", "no"},
                            {"pulse=49", "no: weak pulse_low"},
                            {"pulse=110", "no"},
                            {"pulse=111", "no: weak pulse_high"},
                            {"pulse=130", "no: weak pulse_high"},
                            {"pulse=131", "yes: strong pulse_high"},
                            {"rr=10", "no"},
                            {"rr=9", "no: weak rr_low"},
                            {"rr=24", "no"},
                            {"rr=25", "no: weak rr_high"},
                            {"rr=30", "no: weak rr_high"},
                            {"rr=31", "yes: strong rr_high"},
                            {"spo2=93", "no"},
                            {"spo2=92.9", "no: weak spo2_low"},
                            {"spo2=90", "no: weak spo2_low"},
                            {"spo2=89.9", "yes: strong spo2_low"},
                            {"temp_c=36", "no"},
                            {"temp_c=35.9", "no: weak temp_low"},
                            {"temp_c=38", "no"},
                            {"temp_c=38.1", "no: weak temp_high"},
                            {"avpu=C", "no: weak mind"},
                            {"avpu=V temp_c=38.1", "yes: weak temp_high, weak mind"}});
}

TEST(EarlyWarning, the_staged_guideline_at_its_limits) {  // EW-4
  expect_rows("staged", {{"", "no"},
                         {"pulse=70 sbp=86", "no"},
                         {"pulse=70 sbp=85", "yes: strong sbp_low"},
                         {"dbp=46", "no"},
                         {"dbp=45", "yes: strong dbp_low"},
                         {"sbp=130 pulse=109", "no"},
                         {"sbp=130 pulse=110", "yes: strong pulse_high"},
                         {"spo2=95", "no"},
                         {"spo2=94.9", "yes: strong spo2_low"},
                         {"sbp=110 pulse=98", "no"},
                         {"sbp=110 pulse=99", "yes: strong shock_index_high"},
                         {"avpu=V", "yes: strong mind"},
                         {"sbp=unrecordable -dbp", "yes: strong sbp_low, strong dbp_low, strong shock_index_high"},
                         {"pulse=unrecordable", "yes: strong shock_index_high"}});
}

TEST(EarlyWarning, what_was_not_taken_is_asked_for_once_and_leaves_it_open) {
  for (const char* chart : {"single_2014", "chart_2012", "tool_2016"}) {
    EXPECT_EQ(charted(chart, "-sbp -dbp"), "unknown; asks take_bp") << chart;
    EXPECT_EQ(charted(chart, "-pulse"), "unknown; asks take_pulse") << chart;
    EXPECT_EQ(charted(chart, "-rr"), "unknown; asks take_rr") << chart;
    EXPECT_EQ(charted(chart, "-spo2"), "unknown; asks take_spo2") << chart;
  }
  EXPECT_EQ(charted("staged", "-pulse"), "unknown; asks take_pulse");
  EXPECT_EQ(charted("staged", "-sbp -dbp"), "unknown; asks take_bp");
  EXPECT_EQ(charted("staged", "-avpu"), "unknown; asks check_consciousness");
  EXPECT_EQ(charted("chart_2012", "-temp_c"), "unknown; asks take_temperature");
  // Of the trigger tool temperature and response are weak: one of them alone could not make it enough.
  EXPECT_EQ(charted("tool_2016", "-temp_c"), "no; asks take_temperature");
  EXPECT_EQ(charted("tool_2016", "-avpu"), "no; asks check_consciousness");
  EXPECT_EQ(charted("tool_2016", "-avpu -temp_c"), "unknown; asks take_temperature, check_consciousness");
  EXPECT_EQ(charted("tool_2016", "-temp_c pulse=111"), "unknown: weak pulse_high; asks take_temperature");
}

TEST(EarlyWarning, agitation_is_a_finding_and_counts_in_the_single_chart_only) {
  const auto agitated = [](std::string_view chart, std::string_view finding) {
    return told_of(judged(ToldCase({set_with("08:21", ""), finding}), chart, "08:21"));
  };
  EXPECT_EQ(agitated("single_2014", "08:20 finding what=mental value=agitation"), "yes: strong mind");
  EXPECT_EQ(agitated("single_2014", "08:20 finding what=mental value=calm"), "no");
  EXPECT_EQ(agitated("staged", "08:20 finding what=mental value=agitation"), "no");
}

TEST(EarlyWarning, a_sign_of_the_tool_has_to_last_without_a_break) {
  const auto tool = [](std::initializer_list<std::string> lines, std::string_view at) {
    ToldCase told({});
    for (const std::string& line : lines) told.tell(line);
    return told_of(judged(told, "tool_2016", at));
  };
  const auto fast = [](std::string_view at) { return set_with(at, "pulse=131"); };
  EXPECT_EQ(tool({fast("08:00"), fast("08:20")}, "08:20"), "no");
  EXPECT_EQ(tool({fast("08:00"), fast("08:20")}, "08:21"), "yes: strong pulse_high");
  EXPECT_EQ(tool({fast("08:00"), set_with("08:10", ""), fast("08:21")}, "08:21"), "no");
  EXPECT_EQ(tool({fast("08:00"), set_with("08:10", "-pulse"), fast("08:21")}, "08:21"), "yes: strong pulse_high");
}

}  // namespace
}  // namespace stanch::care

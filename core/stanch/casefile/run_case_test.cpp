#include "stanch/casefile/run_case.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::casefile {
namespace {

Json run(const char* text) { return run_case_text(text, protocol::Protocol::shipped()); }

std::string differences(const Json& result) {
  std::string out;
  for (const Json& c : result["cases"])
    for (const Json& d : c["differences"])
      out += std::to_string(d["line"].get<int>()) + ": " + d["what"].get<std::string>() + "\n";
  for (const Json& p : result["problems"]) out += p.get<std::string>() + "\n";
  return out;
}

TEST(RunCase, a_right_expectation_passes_and_a_wrong_one_says_what_was_found) {
  const Json result =
      run("case: minutes\n"
          "source: arithmetic\n"
          "ask minutes_between from=10:00 to=25:30:30\n"
          "  minutes = 930.5\n"
          "  minutes = 930 +- 0.5\n"
          "  minutes = 930 +- 0.4\n"
          "  hours is absent\n"
          "  minutes is absent\n");
  EXPECT_EQ(differences(result),
            "6: expected minutes = 930 +- 0.4, found 930.5\n"
            "8: expected no minutes, found 930.5\n");
}

TEST(RunCase, figures_lists_and_times_of_an_answer_are_reached_by_path) {
  const Json result =
      run("case: who she is\n"
          "source: invented\n"
          "given\n"
          "  08:00 opened birth_at=07:30 birth_mode=vaginal cautions=asthma,hypertension\n"
          "  08:10 #a finding what=bleeding value=heavy\n"
          "at 08:05\n"
          "  known.woman.birth_at = 07:30\n"
          "  woman.minutes_since_birth = 35\n"
          "  woman.cautions includes asthma\n"
          "  woman.cautions lacks thrombosis\n"
          "  bleeding.ongoing = unknown\n"
          "at 08:10\n"
          "  bleeding.ongoing = yes\n"
          "  protocol.approved = null\n");
  EXPECT_EQ(differences(result), "");
}

TEST(RunCase, a_struck_line_has_no_effect) {
  const Json result =
      run("case: struck\n"
          "source: invented\n"
          "given\n"
          "  08:10 #a finding what=bleeding value=heavy\n"
          "  08:11 strike strikes=#a reason=wrong_value\n"
          "at 08:12\n"
          "  bleeding.ongoing = unknown\n");
  EXPECT_EQ(differences(result), "");
}

TEST(RunCase, bad_lines_are_named_with_their_number) {
  const Json result =
      run("check: C001\n"
          "case: bad lines\n"
          "source: invented\n"
          "  stray\n"
          "given\n"
          "  8 vitals pulse=80\n"
          "  08:00 vitals colour=red\n"
          "  08:00 vitals pulse=900\n"
          "  08:01 strike strikes=#nobody\n"
          "frobnicate\n"
          "at 09:00\n"
          "  phase ~ x\n");
  EXPECT_EQ(
      differences(result),
      "2: entry 1: Field pulse is 900; allowed is a whole number from 0 to 300 /min, or unrecordable.\n"
      "11: nothing is expected of this step\n"
      "Line 1: This line is not understood: check: C001; expected case: and its name first.\n"
      "Line 4: This line is not understood: stray; expected given, at, may or ask above it.\n"
      "Line 6: This line is not understood: 8; expected a clock time like 10:05.\n"
      "Line 7: This line is not understood: colour=red; expected a field of vitals.\n"
      "Line 9: This line is not understood: strikes=#nobody; expected the #label of an earlier line.\n"
      "Line 10: This line is not understood: frobnicate; expected case:, source:, check:, rule:, protocol, given, at "
      "TIME, may TIME KIND ... or ask TOPIC ....\n"
      "Line 12: This line is not understood: ~; expected =, includes, lacks or is absent.\n");
}

TEST(RunCase, a_protocol_line_changes_the_ward_values_within_limits) {
  EXPECT_EQ(differences(
                run("case: local\nsource: invented\nprotocol unwrap.pulse_ceiling = 95\nat 08:00\n  phase is absent\n"))
                .find("ward may set"),
            std::string::npos);
  EXPECT_NE(
      differences(
          run("case: local\nsource: invented\nprotocol unwrap.pulse_ceiling = 9000\nat 08:00\n  phase is absent\n"))
          .find("ward may set"),
      std::string::npos);
}

TEST(RunCase, refusals_of_a_question_are_answers_too) {
  const Json result =
      run("case: refused\n"
          "source: invented\n"
          "ask minutes_between from=late hours=3\n"
          "  problems includes ask.input_unknown:hours\n"
          "  problems includes ask.input_missing:to\n"
          "ask minutes_between from=late to=10:00\n"
          "  problems includes ask.input_impossible:from\n"
          "ask no_such_topic\n"
          "  problems includes ask.topic_unknown:topic\n");
  EXPECT_EQ(differences(result), "");
}

TEST(RunCase, a_case_that_asks_nothing_does_not_pass) {
  EXPECT_EQ(differences(run("case: empty\nsource: invented\ngiven\n  08:00 vitals pulse=80\n")),
            "1: the case asks nothing\n");
}

}  // namespace
}  // namespace stanch::casefile

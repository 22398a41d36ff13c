#include "stanch/host/call.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "stanch/base/json.hpp"

namespace stanch::host {
namespace {

TEST(Call, every_answer_is_json_even_to_nonsense) {
  for (const char* request : {"", "nonsense", "[]", "{}", "{\"do\":\"fly\"}", "{\"do\":\"advise\"}",
                              "{\"do\":\"advise\",\"now\":\"2031-05-06T08:00:00Z\",\"entries\":[1]}",
                              "{\"do\":\"ask\",\"topic\":\"none\"}", "{\"do\":\"topics\",\"ward\":{}}",
                              "{\"do\":\"need\"}", R"({"do":"need","facilities":"facility\nA","target_percent":0})",
                              R"({"do":"need","facilities":"facility\nA","garments":1e300})"}) {
    const auto answer = parse_json(call(request));
    ASSERT_TRUE(answer) << request;
    EXPECT_TRUE(answer->contains("problems")) << request;
  }
}

TEST(Call, answers_advice_verdicts_questions_and_cases) {
  EXPECT_EQ((*parse_json(call(R"({"do":"advise","now":"2031-05-06T08:00:00Z","entries":[]})")))["format"],
            "stanch.advice/1");
  EXPECT_EQ((*parse_json(
                call(R"({"do":"ask","topic":"minutes_between","inputs":{"from":"10:00","to":"10:20"}})")))["minutes"],
            20);
  EXPECT_GE((*parse_json(call(R"({"do":"topics"})"))).size(), 1U);
  EXPECT_EQ(
      (*parse_json(call(
          R"({"do":"need","facilities":"facility,women_per_year,days_out\nA,12,14","target_percent":1})")))["need"]
                                                                                                           ["value"],
      4);
  EXPECT_TRUE((*parse_json(call(
      R"({"do":"try","text":"case: x\nsource: y\nat 08:00\n  protocol.approved = null\n"})")))["cases"][0]["passed"]
                  .get<bool>());
}

}  // namespace
}  // namespace stanch::host

#include "stanch/host/call.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "stanch/base/json.hpp"

namespace stanch::host {
namespace {

/// Entries of one case: each is an id number, the minute it happened and was written, and the rest as JSON fields.
class Written {
 public:
  std::string add(int minute, const std::string& fields, int written_after = 0) {
    const std::string number = std::to_string(10 + n_++);
    const std::string id = "018f0000-0000-7000-8000-0000000000" + number;
    const auto time = [](int m) {
      const std::string min = std::to_string(100 + m % 60).substr(1);
      return "\"2031-05-06T" + std::to_string(100 + 8 + m / 60).substr(1) + ":" + min + ":00Z\"";
    };
    text_ += std::string(text_.empty() ? "" : ",") + R"({"case":"018f0000-0000-7000-8000-000000000001","by":"x",)" +
             R"("from":"d1","id":")" + id + R"(","at":)" + time(minute) +
             ",\"written\":" + time(minute + written_after) + "," + fields + "}";
    return id;
  }
  [[nodiscard]] Json course(const std::string& now) const {
    return *parse_json(call(R"({"do":"course","now":")" + now + R"(","entries":[)" + text_ + "]}"));
  }

 private:
  int n_ = 0;
  std::string text_;
};

constexpr const char* birth = R"("kind":"opened","birth_at":"2031-05-06T08:00:00Z")";
constexpr const char* noon = "2031-05-06T12:00:00Z";

TEST(Course, points_lie_at_minutes_from_birth_and_a_set_gives_its_index) {
  Written w;
  w.add(0, birth);
  const std::string set = w.add(10, R"("kind":"vitals","pulse":120,"sbp":80,"dbp":50)");
  const Json out = w.course(noon);
  EXPECT_TRUE(out["from_birth"].get<bool>());
  const Json& pulse = out["signs"]["pulse"][0];
  EXPECT_EQ(pulse["min"], 10);
  EXPECT_EQ(pulse["value"], 120);
  EXPECT_EQ(pulse["entry"], set);
  EXPECT_EQ(out["signs"]["dbp"][0]["value"], 50);
  EXPECT_EQ(out["signs"]["shock_index"][0]["value"], 1.5);
}

TEST(Course, no_index_is_made_of_two_sets) {
  Written w;
  w.add(0, birth);
  w.add(10, R"("kind":"vitals","pulse":120)");
  w.add(12, R"("kind":"vitals","sbp":80)");
  EXPECT_TRUE(w.course(noon)["signs"]["shock_index"].empty());
}

TEST(Course, a_long_silence_leaves_a_gap_and_a_short_one_does_not) {
  Written w;
  w.add(0, birth);
  w.add(5, R"("kind":"loss","method":"drape","level_ml":900)");
  w.add(6, R"("kind":"vitals","pulse":120,"sbp":80)");
  w.add(9, R"("kind":"vitals","pulse":122,"sbp":82)");
  w.add(129, R"("kind":"vitals","pulse":100,"sbp":100)");
  const Json pulse = w.course(noon)["signs"]["pulse"];
  ASSERT_EQ(pulse.size(), 3U);
  EXPECT_FALSE(pulse[1].contains("gap"));
  EXPECT_TRUE(pulse[2]["gap"].get<bool>());
}

// Source: Williams Obstetrics, 26th ed., 2022: the true loss is 1.5 to 3 times an estimate by eye (BL-19).
TEST(Course, an_eye_estimate_carries_its_band_and_a_measured_step_does_not) {
  Written w;
  w.add(0, birth);
  w.add(5, R"("kind":"loss","method":"drape","level_ml":400)");
  w.add(10, R"("kind":"loss","method":"estimate","amount_ml":200)");
  const Json loss = w.course(noon)["loss"];
  EXPECT_FALSE(loss[0].contains("low_ml"));
  EXPECT_EQ(loss[1]["total_ml"], 600);
  EXPECT_TRUE(loss[1]["by_eye"].get<bool>());
  EXPECT_EQ(loss[1]["low_ml"], 700);
  EXPECT_EQ(loss[1]["high_ml"], 1000);
}

TEST(Course, a_bag_runs_until_it_is_said_to_be_finished) {
  Written w;
  w.add(0, birth);
  w.add(5, R"("kind":"fluid","fluid":"ringers","ml":1000,"state":"started")");
  const Json open = w.course(noon)["given"][0]["items"][0];
  EXPECT_TRUE(open["running"].get<bool>());
  w.add(35, R"("kind":"fluid","fluid":"ringers","ml":800,"state":"finished")");
  const Json lane = w.course(noon)["given"][0];
  ASSERT_EQ(lane["items"].size(), 1U);
  EXPECT_EQ(lane["items"][0]["until_min"], 35);
  EXPECT_EQ(lane["items"][0]["amount"], 800);
  EXPECT_FALSE(lane["items"][0].contains("running"));
  EXPECT_EQ(lane["total"], 800);
}

TEST(Course, a_corrected_row_is_struck_and_its_value_is_out_of_the_series) {
  Written w;
  w.add(0, birth);
  const std::string wrong = w.add(10, R"("kind":"vitals","pulse":210,"sbp":80)");
  w.add(10, R"("kind":"vitals","pulse":120,"sbp":80,"strikes":")" + wrong + "\"", 6);
  const Json out = w.course(noon);
  ASSERT_EQ(out["signs"]["pulse"].size(), 1U);
  EXPECT_EQ(out["signs"]["pulse"][0]["value"], 120);
  EXPECT_TRUE(out["rows"][1]["struck"].get<bool>());
  EXPECT_EQ(out["rows"][2]["corrects"], wrong);
  EXPECT_EQ(out["rows"][2]["written_after_min"], 6);
}

TEST(Course, an_opened_segment_ends_its_span_and_starts_a_wait) {
  Written w;
  w.add(0, birth);
  w.add(5, R"("kind":"garment","action":"placed")");
  w.add(6, R"("kind":"garment","action":"close")");
  w.add(100, R"("kind":"garment","action":"open","segment":"ankle","reason":"unwrap")");
  const Json garment = w.course(noon)["garment"];
  const Json& ankle = garment["segments"][0];
  ASSERT_EQ(ankle["spans"].size(), 2U);
  EXPECT_EQ(ankle["spans"][0]["state"], "on");
  EXPECT_EQ(ankle["spans"][0]["until_min"], 100);
  EXPECT_EQ(ankle["spans"][1]["state"], "open");
  EXPECT_EQ(garment["segments"][1]["spans"].size(), 1U);
  ASSERT_EQ(garment["waits"].size(), 1U);
  EXPECT_EQ(garment["waits"][0]["opened_min"], 100);
}

TEST(Course, every_line_names_its_source) {
  const Json lines = Written().course(noon)["lines"];
  ASSERT_EQ(lines.size(), 8U);
  for (const Json& line : lines) EXPECT_FALSE(line["source"].get<std::string>().empty()) << line["id"];
}

TEST(Course, the_sentence_has_the_range_and_the_last_reading) {
  Written w;
  EXPECT_EQ(w.course(noon)["summary"]["id"], "nothing");
  w.add(0, birth);
  w.add(10, R"("kind":"vitals","pulse":120,"sbp":80)");
  w.add(15, R"("kind":"vitals","pulse":100,"sbp":95)");
  const Json told = w.course(noon)["summary"];
  EXPECT_EQ(told["id"], "signs");
  EXPECT_EQ(told["arguments"]["pulse_low"], 100);
  EXPECT_EQ(told["arguments"]["pulse_high"], 120);
  EXPECT_EQ(told["arguments"]["sbp_last"], 95);
}

}  // namespace
}  // namespace stanch::host

#include "stanch/host/choices.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "stanch/host/call.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::host {
namespace {

const Json& shipped() {
  static const Json all = choices(protocol::Protocol::shipped());
  return all;
}

const Json& by_id(const Json& list, const std::string& id) {
  const auto it = std::find_if(list.begin(), list.end(), [&](const Json& row) { return row["id"] == id; });
  EXPECT_NE(it, list.end()) << id;
  return *it;
}

Json entry_of(const std::string& kind, Json payload) {
  Json out{{"id", "01c2b7e9-4000-7000-8000-000000000001"},
           {"case", "01c2b631-cc00-7000-8000-000000000000"},
           {"at", "2031-05-06T08:02:00Z"},
           {"written", "2031-05-06T08:02:00Z"},
           {"by", "unclaimed"},
           {"from", "phone-1"},
           {"kind", kind}};
  out.update(payload);
  return out;
}

TEST(Choices, the_request_answers_with_them) { EXPECT_EQ(*parse_json(call(R"({"do":"choices"})")), shipped()); }

TEST(Choices, a_usual_dose_is_the_wards_own_style_only) {
  const Json& usual = by_id(shipped()["drugs"], "oxytocin")["usual"];
  EXPECT_EQ(by_id(usual, "who_infusion")["infusion"]["ml"], 1000);
  EXPECT_TRUE(std::none_of(usual.begin(), usual.end(), [](const Json& row) { return row["id"] == "uk_infusion"; }));

  const auto ward = protocol::Protocol::shipped().with_ward_file(
      Json{{"protocol", {{"name", "ward"}, {"version", "1"}}},
           {"approved", {{"by", "S. Orin"}, {"role", "lead midwife"}, {"on", "2031-01-01"}}},
           {"values", {{"drug.oxytocin.regimen", "uk"}}}});
  ASSERT_TRUE(ward);
  EXPECT_EQ(by_id(by_id(choices(*ward)["drugs"], "oxytocin")["usual"], "uk_slow")["dose"], 5);
}

TEST(Choices, a_drug_that_the_ward_names_itself_is_one_dose_by_each_of_its_routes) {
  const Json& antibiotic = by_id(shipped()["drugs"], "antibiotic_prophylaxis");
  ASSERT_EQ(antibiotic["usual"].size(), antibiotic["routes"].size());
  for (std::size_t i = 0; i < antibiotic["usual"].size(); ++i) {
    EXPECT_EQ(antibiotic["usual"][i]["dose"], 1);
    EXPECT_EQ(antibiotic["usual"][i]["unit"], "dose");
    EXPECT_EQ(antibiotic["usual"][i]["route"], antibiotic["routes"][i]);
    EXPECT_EQ(antibiotic["usual"][i]["default"], i == 0);
  }
}

TEST(Choices, every_drug_has_a_usual_dose) {
  for (const Json& drug : shipped()["drugs"]) EXPECT_FALSE(drug["usual"].empty()) << drug["id"];
}

TEST(Choices, the_infusion_says_how_fast_it_runs) {
  const Json& usual = by_id(shipped()["drugs"], "oxytocin")["usual"];
  EXPECT_EQ(by_id(usual, "who_infusion")["drops_per_min"], 60);
  EXPECT_EQ(by_id(usual, "who_continue")["drops_per_min"], 40);
  EXPECT_EQ(by_id(usual, "who_continue")["follows"], "who_infusion");
}

TEST(Choices, every_usual_dose_is_a_whole_entry) {
  for (const Json& drug : shipped()["drugs"])
    for (const Json& usual : drug["usual"]) {
      Json payload{{"drug", drug["id"]},
                   {"dose", usual["dose"]},
                   {"unit", usual["unit"]},
                   {"use", usual["use"]},
                   {"route", usual["route"]}};
      if (usual.contains("infusion")) payload["infusion"] = usual["infusion"];
      EXPECT_TRUE(record::parse_entry(entry_of("drug", payload))) << payload;
    }
}

TEST(Choices, every_finding_word_is_a_whole_entry_and_none_is_offered_twice) {
  std::set<std::string> seen;
  for (const Json& finding : shipped()["findings"]) {
    EXPECT_TRUE(seen.insert(finding["id"].get<std::string>()).second) << finding;
    for (const Json& value : finding["values"])
      EXPECT_TRUE(record::parse_entry(entry_of("finding", {{"what", finding["id"]}, {"value", value}})));
  }
}

TEST(Choices, a_field_tells_what_it_holds_and_what_is_likely) {
  const Json& pulse = shipped()["fields"]["vitals"]["pulse"];
  EXPECT_EQ(pulse["type"], "whole");
  EXPECT_EQ(pulse["low"], 0);
  EXPECT_EQ(pulse["high"], 300);
  EXPECT_EQ(pulse["usual_low"], protocol::Protocol::shipped().number(protocol::key::plausible_pulse_warn_low));
  EXPECT_EQ(pulse["words"], Json::array({"unrecordable"}));
  EXPECT_EQ(shipped()["fields"]["loss"]["level_ml"]["usual_high"],
            protocol::Protocol::shipped().number(protocol::key::plausible_loss_ml_warn_high));
}

TEST(Choices, the_ladder_calls_nobody_who_cannot_be_chosen) {
  const auto& protocol = protocol::Protocol::shipped();
  const Json& roles = shipped()["roles"];
  for (const std::string& role : protocol.words(protocol::key::escalation_bundle_call))
    EXPECT_EQ(std::count(roles.begin(), roles.end(), Json(role)), 1) << role;
}

}  // namespace
}  // namespace stanch::host

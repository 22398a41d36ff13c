// A recorded case in the model's terms, the words of a what-if, scenarios, and the request as hosts make it.
#include "stanch/foresee/foresee.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "stanch/care/state.hpp"
#include "stanch/foresee/scenario.hpp"
#include "stanch/host/call.hpp"

namespace stanch::foresee {
namespace {

int serial = 0;

Json entry(const char* at, const char* kind, Json fields) {
  char id[37];
  std::snprintf(id, sizeof id, "01c2b7e9-4000-7000-8000-%012d", ++serial);
  fields.update(Json{{"id", id},
                     {"case", "01c2b631-cc00-7000-8000-000000000000"},
                     {"at", at},
                     {"written", at},
                     {"by", "S. Orin"},
                     {"from", "phone-1"},
                     {"kind", kind}});
  return fields;
}

Json some_case() {
  return Json::array(
      {entry("2031-05-06T08:00:00Z", "opened",
             {{"weight_kg", 66}, {"birth_at", "2031-05-06T07:50:00Z"}, {"hb_gl", 104}}),
       entry("2031-05-06T08:02:00Z", "vitals", {{"pulse", 104}, {"sbp", 104}, {"dbp", 66}}),
       entry("2031-05-06T08:02:20Z", "loss", {{"method", "drape"}, {"level_ml", 600}}),
       entry("2031-05-06T08:03:00Z", "drug", {{"drug", "oxytocin"}, {"dose", 10}, {"unit", "IU"}, {"route", "im"}}),
       entry("2031-05-06T08:05:00Z", "fluid", {{"fluid", "ringer_lactate"}, {"ml", 500}, {"over_min", 20}}),
       entry("2031-05-06T08:10:00Z", "vitals", {{"pulse", 110}, {"sbp", 100}, {"dbp", 64}}),
       entry("2031-05-06T08:11:00Z", "garment", {{"action", "close"}, {"segment", "calf"}, {"side", "left"}}),
       entry("2031-05-06T08:12:00Z", "garment", {{"action", "close"}, {"segment", "belly_ball"}, {"tension", "loose"}}),
       entry("2031-05-06T08:20:00Z", "loss", {{"method", "estimate"}, {"amount_ml", 200}}),
       entry("2031-05-06T08:21:00Z", "vitals", {{"pulse", 108}, {"sbp", "unrecordable"}})});
}

care::State state_of(const Json& entries) {
  record::Case all;
  for (const Json& one : entries) all.add(*record::parse_entry(one));
  return care::State(std::move(all));
}

RecordedBody recorded(const Json& entries, const char* now = "2031-05-06T08:30:00Z") {
  const auto state = state_of(entries);
  const auto model = body_model(protocol::Protocol::shipped());
  return *recorded_body(care::View(state.facts(), protocol::Protocol::shipped(), *parse_moment(now)), *model);
}

TEST(RecordedBody, starts_at_a_recent_birth_and_gathers_readings_by_minute) {
  const RecordedBody r = recorded(some_case());
  EXPECT_EQ(to_text(r.start), "2031-05-06T07:50:00Z");
  ASSERT_EQ(r.body.sets.size(), 4U);
  EXPECT_EQ(r.body.sets[0].step, 12 * 12);
  EXPECT_EQ(r.body.sets[0].readings.size(), 4U);  // pulse, two pressures and the loss of the same minute
  EXPECT_EQ(r.body.sets[3].readings.back().kind, physiology::ReadingKind::cuff_unreadable);
  const auto& loss = r.body.sets[2].readings[0];
  EXPECT_EQ(loss.value, 600);
  EXPECT_EQ(loss.by_eye, 200);
  // 66 kg after the birth is 60 early in pregnancy; haemoglobin before is known.
  EXPECT_NEAR(r.body.prior.lines[0].centre, 6000, 1e-9);
  EXPECT_EQ(r.body.prior.lines[4].centre, 104);
}

TEST(RecordedBody, an_early_loss_without_a_birth_was_lost_before) {
  Json entries = some_case();
  entries.erase(entries.begin());
  const RecordedBody r = recorded(entries);
  EXPECT_EQ(to_text(r.start), "2031-05-06T08:02:00Z");
  for (const auto& set : r.body.sets)
    for (const auto& reading : set.readings) {
      if (reading.kind != physiology::ReadingKind::loss) continue;
      EXPECT_EQ(reading.value, 0);
      EXPECT_EQ(reading.by_eye, 200);
    }
  EXPECT_NEAR(r.body.prior.lines.back().centre, 600 / 0.7, 1e-9);
}

TEST(RecordedBody, garment_is_the_mean_of_its_sides_and_loose_is_half) {
  const RecordedBody r = recorded(some_case());
  const physiology::GarmentSet* last = nullptr;
  for (const auto& timed : r.body.plan)
    if (const auto* set = std::get_if<physiology::GarmentSet>(&timed.what)) last = set;
  ASSERT_NE(last, nullptr);
  EXPECT_EQ(last->calf, 0.5);
  EXPECT_EQ(last->ankle, 0.0);
  EXPECT_NEAR(*last->abdomen, 0.35, 1e-12);
  EXPECT_EQ(r.body.plan.size(), 4U);  // oxytocin, fluid, two garment entries
}

TEST(RecordedBody, later_entries_are_not_seen) {
  EXPECT_EQ(recorded(some_case(), "2031-05-06T08:09:00Z").body.sets.size(), 1U);
}

TEST(WhatIf, refuses_what_it_does_not_know) {
  const auto model = body_model(protocol::Protocol::shipped());
  for (const char* good : {"garment=on", "garment=open:belly_ball", "bleeding=halved", "fluid=1000", "fluid=500:15",
                           "red_cells=2", "repair=30", "uterotonic=oxytocin"})
    EXPECT_TRUE(changed_plan({}, good, 10, *model)) << good;
  for (const char* bad : {"", "garment", "garment=half", "garment=open:knee", "fluid=-1", "fluid=x", "fluid=500:0",
                          "red_cells=2:3", "repair=999", "walk=yes"}) {
    const auto plan = changed_plan({}, bad, 10, *model);
    ASSERT_FALSE(plan) << bad;
    EXPECT_EQ(plan.error().front().field, "what_if");
  }
  EXPECT_EQ(changed_plan({}, "repair=30", 10, *model)->back().at_min, 40);
}

TEST(Foresee, withholds_below_the_minimum_and_answers_above_it) {
  Json request{{"do", "foresee"}, {"now", "2031-05-06T08:09:00Z"}, {"entries", some_case()}, {"members", 512}};
  Json answer = *parse_json(host::call(canonical_text(request)));
  EXPECT_EQ(answer["withheld"], "too_few_readings");
  EXPECT_FALSE(answer.contains("estimate"));
  request["now"] = "2031-05-06T08:30:00Z";
  request["what_if"] = {"garment=on"};
  const std::string first = host::call(canonical_text(request));
  answer = *parse_json(first);
  ASSERT_TRUE(answer["withheld"].is_null()) << first.substr(0, 300);
  const Json& deficit = answer["estimate"]["deficit_percent"];
  EXPECT_LT(deficit["p5"], deficit["p50"]);
  EXPECT_LT(deficit["p50"], deficit["p95"]);
  EXPECT_EQ(answer["curve"].back()["minute"], 60);
  EXPECT_EQ(answer["what_if"][0]["difference"][0]["minute"], 0);
  EXPECT_EQ(answer["threshold"]["shock_index"], 1.7);
  // A host's memory changes no byte, whether the case is new to it or not.
  host::Memory memory;
  EXPECT_EQ(host::call(canonical_text(request), &memory), first);
  EXPECT_EQ(host::call(canonical_text(request), &memory), first);
  EXPECT_EQ(memory.estimator->reused(), 4U);
}

TEST(Foresee, shuffled_and_doubled_entries_give_the_same_bytes) {
  Json request{{"do", "foresee"}, {"now", "2031-05-06T08:30:00Z"}, {"entries", some_case()}, {"members", 512}};
  const std::string once = host::call(canonical_text(request));
  Json entries = request["entries"];
  std::reverse(entries.begin(), entries.end());
  for (const Json& one : request["entries"]) entries.push_back(one);
  request["entries"] = entries;
  EXPECT_EQ(host::call(canonical_text(request)), once);
}

TEST(Foresee, refuses_a_question_out_of_range) {
  for (const auto& [field, value] :
       {std::pair{"minutes", 400.0}, std::pair{"members", 10.0}, std::pair{"arrive_in_min", -1.0}}) {
    const auto question = question_of(Json{{field, value}});
    ASSERT_FALSE(question) << field;
    EXPECT_EQ(question.error().front().field, field);
  }
}

TEST(Scenario, runs_and_names_what_is_wrong) {
  const auto model = body_model(protocol::Protocol::shipped());
  const auto answer =
      run_scenario(Json{{"minutes", 30}, {"every", 30}, {"events", {{{"at", 0}, {"bleed_ml_min", 50}}}}}, *model);
  ASSERT_TRUE(answer);
  // The reference trajectory R02 at 30 min.
  EXPECT_NEAR((*answer)["rows"][1]["pulse"].get<double>(), 104.764, 0.001);
  EXPECT_NEAR((*answer)["rows"][1]["deficit_percent"].get<double>(), 21.615, 0.001);
  const auto bad =
      run_scenario(Json{{"parameters", {{"V0", 100}, {"XX", 1}}}, {"events", {{{"at", 1}, {"drug", "tea"}}}}}, *model);
  ASSERT_FALSE(bad);
  EXPECT_EQ(bad.error().size(), 3U);
  EXPECT_EQ(bad.error()[0].field, "parameters.V0");
}

}  // namespace
}  // namespace stanch::foresee

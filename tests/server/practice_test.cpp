// The practice ward: what it shows at the moment it is opened.
#include <gtest/gtest.h>

#include <map>

#include "server/practice.hpp"
#include "stanch/host/call.hpp"
#include "tests/server/ward.hpp"

namespace stanch::server {
namespace {

const Moment start = *parse_moment("2026-11-03T21:30:15Z");

std::map<std::string, std::vector<Json>> cases_by_label(Moment at) {
  std::map<std::string, std::vector<Json>> by_case;
  std::istringstream lines(practice_entries(at));
  for (std::string line; std::getline(lines, line);) {
    const Json entry = *parse_json(line);
    by_case[entry["case"].get<std::string>()].push_back(entry);
  }
  std::map<std::string, std::vector<Json>> out;
  for (auto& [id, entries] : by_case) out[entries.front()["label"].get<std::string>()] = std::move(entries);
  return out;
}

Json advice_on(const std::vector<Json>& entries, Moment at) {
  return *parse_json(host::call(canonical_text(Json{{"do", "advise"}, {"entries", entries}, {"now", to_text(at)}})));
}

TEST(Practice, three_women_in_three_beds) {
  const auto cases = cases_by_label(start);
  ASSERT_EQ(cases.size(), 3U);
  EXPECT_TRUE(cases.contains("Bed 1, N.O."));
  EXPECT_TRUE(cases.contains("Bed 2, K.T."));
  EXPECT_TRUE(cases.contains("Bed 4, A.S."));
}

TEST(Practice, the_live_case_has_its_last_entry_now_and_is_bleeding) {
  const auto entries = cases_by_label(start).at("Bed 4, A.S.");
  EXPECT_EQ(entries.back()["at"], to_text(start));
  const Json advice = advice_on(entries, start);
  EXPECT_EQ(advice["known"]["bleeding"]["ongoing"], "yes");
  const Moment trigger = *parse_moment(advice["known"]["recognition"]["t0"].get<std::string>());
  EXPECT_NEAR((start - trigger).in_minutes(), 25.0, 5.0);
}

TEST(Practice, one_is_two_hours_stable_in_a_garment) {
  const Json advice = advice_on(cases_by_label(start).at("Bed 1, N.O."), start);
  EXPECT_EQ(advice["phase"], "wrapped_stable");
  EXPECT_EQ(advice["known"]["garment"]["on"], true);
  EXPECT_GE(advice["known"]["stability"]["stable_min"].get<double>(), 119.0);
}

TEST(Practice, one_has_stopped) {
  const Json advice = advice_on(cases_by_label(start).at("Bed 2, K.T."), start);
  EXPECT_EQ(advice["known"]["bleeding"]["ongoing"], "no");
}

TEST(Practice, the_same_start_gives_the_same_bytes_and_another_gives_other_ids) {
  EXPECT_EQ(practice_entries(start), practice_entries(start));
  std::set<std::string> ids;
  for (const Moment at : {start, start + Duration::seconds(1)})
    for (const auto& [label, entries] : cases_by_label(at))
      for (const Json& entry : entries) EXPECT_TRUE(ids.insert(entry["id"].get<std::string>()).second);
  EXPECT_EQ(ids.size(), 308U);
}

TEST(Practice, two_garments_are_two) {
  std::map<std::string, std::set<std::string>> wearers;
  for (const auto& [label, entries] : cases_by_label(start))
    for (const Json& entry : entries)
      if (entry.contains("garment_id")) wearers[entry["garment_id"].get<std::string>()].insert(label);
  EXPECT_EQ(wearers.size(), 2U);
  for (const auto& [garment, women] : wearers) EXPECT_EQ(women.size(), 1U) << garment;
}

TEST(Practice, health_tells_it_is_practice) {
  const Folder folder;
  auto store = Store::open(folder.path(), Purpose::practice, now(), fresh_id());
  ASSERT_TRUE(store.has_value());
  Enrolment enrolment({}, now(), {}, [](const std::string&) {});
  Log log(stderr);
  Api api(**store, enrolment, log, {});
  Request request;
  request.method = "GET";
  request.path = "/health";
  bool practice = false;
  api.answer(std::move(request),
             [&](const Response& response) { practice = (*parse_json(response.body))["practice"]; });
  EXPECT_TRUE(practice);
}

}  // namespace
}  // namespace stanch::server

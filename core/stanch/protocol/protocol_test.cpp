#include "stanch/protocol/protocol.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace stanch::protocol {
namespace {

Json ward_file(const char* values) {
  Json ward = *parse_json(
      R"({"protocol":{"name":"Ward","version":"3"},"approved":{"by":"A. Senior","role":"obstetrician","on":"2031-04-01"}})");
  ward["values"] = *parse_json(values);
  return ward;
}

std::string first_problem(const Result<Protocol>& result) { return result ? "" : sentence(result.error().front()); }

TEST(Protocol, embedded_rows_are_whole) {
  const auto json = parse_json(default_protocol_json());
  ASSERT_TRUE(json) << sentence(json.error().front());
  const auto loaded = Protocol::from_json(*json);
  if (!loaded)
    for (const Problem& problem : loaded.error()) ADD_FAILURE() << sentence(problem);
}

TEST(Protocol, shipped_default_loads_and_every_key_finds_its_row) {
  const Protocol& p = Protocol::shipped();
  ASSERT_EQ(p.values().size(), key_ids.size());
  for (std::size_t i = 0; i < key_ids.size(); ++i) EXPECT_EQ(p.values()[i].id, key_ids[i]);
  EXPECT_EQ(p.find("unwrap.pulse_ceiling"), key::unwrap_pulse_ceiling);
  EXPECT_FALSE(p.find("unwrap.no_such_value"));
  EXPECT_FALSE(p.approval());
}

TEST(Protocol, every_source_code_of_a_row_is_in_the_list_of_sources) {
  const Protocol& p = Protocol::shipped();
  const auto known = [&](const std::string& code) {
    for (const Source& s : p.sources())
      if (s.code == code) return true;
    return false;
  };
  for (const Value& v : p.values()) {
    if (v.status == Status::practice) continue;
    std::string codes = v.source;
    for (std::size_t end; !codes.empty(); codes = end == std::string::npos ? "" : codes.substr(end + 2)) {
      end = codes.find(", ");
      EXPECT_TRUE(known(codes.substr(0, end))) << v.id << ": " << codes;
    }
  }
}

TEST(Protocol, comparators_are_literal) {
  EXPECT_TRUE(compare(100, Comparator::at_least, 100));
  EXPECT_FALSE(compare(100, Comparator::more, 100));
  EXPECT_TRUE(compare(100, Comparator::at_most, 100));
  EXPECT_FALSE(compare(100, Comparator::less, 100));
  EXPECT_FALSE(compare(100, Comparator::none, 100));
}

TEST(Protocol, a_signed_ward_file_changes_values_and_the_hash) {
  const auto ward = Protocol::shipped().with_ward_file(ward_file(R"({"unwrap.pulse_ceiling": 95})"));
  ASSERT_TRUE(ward) << first_problem(ward);
  EXPECT_EQ(ward->number(key::unwrap_pulse_ceiling), 95);
  EXPECT_NE(ward->hash(), Protocol::shipped().hash());
  EXPECT_EQ(ward->name(), "Ward");
  EXPECT_EQ(ward->changed(), std::vector<Key>{key::unwrap_pulse_ceiling});
  EXPECT_EQ(ward->approval()->by, "A. Senior");
}

TEST(Protocol, a_comparator_changes_only_where_allowed) {
  const auto ward =
      Protocol::shipped().with_ward_file(ward_file(R"({"unwrap.pulse_ceiling": {"value": 100, "compare": "<="}})"));
  ASSERT_TRUE(ward) << first_problem(ward);
  EXPECT_TRUE(ward->met(key::unwrap_pulse_ceiling, PulseRate(100)));
  EXPECT_FALSE(Protocol::shipped().met(key::unwrap_pulse_ceiling, PulseRate(100)));
  EXPECT_EQ(
      first_problem(Protocol::shipped().with_ward_file(ward_file(R"({"unwrap.pulse_ceiling": {"compare": ">"}})"))),
      "Protocol value unwrap.pulse_ceiling uses \">\"; a ward may use < or <=.");
}

TEST(Protocol, refuses_out_of_range_unknown_and_unsigned_all_at_once) {
  Json ward = ward_file(R"({"unwrap.pulse_ceiling": 900, "unwrap.nonsense": 1})");
  ward.erase("approved");
  const auto refused = Protocol::shipped().with_ward_file(ward);
  ASSERT_FALSE(refused);
  ASSERT_EQ(refused.error().size(), 5U);
  EXPECT_EQ(sentence(refused.error()[0]),
            "The ward protocol is not signed: by is missing under [approved]; it must be the name of who approved it.");
  EXPECT_EQ(sentence(refused.error()[3]), "The protocol has no value named unwrap.nonsense.");
  EXPECT_NE(sentence(refused.error()[4]).find("Protocol value unwrap.pulse_ceiling is 900; a ward may set "),
            std::string::npos);
}

TEST(Protocol, a_list_changes_only_where_its_items_are_limited) {
  const auto ward = Protocol::shipped().with_ward_file(
      ward_file(R"({"escalation.bundle_call": ["obstetrician", "porter"], "observe.removal.checks": [5, 15]})"));
  ASSERT_TRUE(ward) << first_problem(ward);
  EXPECT_EQ(ward->value(key::escalation_bundle_call).words, (std::vector<std::string>{"obstetrician", "porter"}));
  EXPECT_EQ(ward->value(key::observe_removal_checks).list, (std::vector<double>{5, 15}));
  EXPECT_NE(ward->hash(), Protocol::shipped().hash());
  EXPECT_EQ(first_problem(Protocol::shipped().with_ward_file(ward_file(R"({"wrap.blocked_by": ["mitral_stenosis"]})"))),
            "Protocol value wrap.blocked_by is [\"mitral_stenosis\"]; a ward may set no other list.");
  EXPECT_EQ(
      first_problem(Protocol::shipped().with_ward_file(ward_file(R"({"observe.removal.checks": [5, 5]})"))),
      "Protocol value observe.removal.checks is [5,5]; a ward may set a list of numbers from 1 to 30, each once.");
  EXPECT_FALSE(Protocol::shipped().with_ward_file(ward_file(R"({"escalation.bundle_call": ["passer_by"]})")));
  EXPECT_FALSE(Protocol::shipped().with_ward_file(ward_file(R"({"escalation.bundle_call": []})")));
}

TEST(Protocol, a_ward_file_for_another_version_is_refused) {
  Json ward = ward_file("{}");
  ward["protocol"]["based_on"] = Protocol::shipped().version();
  EXPECT_TRUE(Protocol::shipped().with_ward_file(ward));
  ward["protocol"]["based_on"] = "0.0.0";
  EXPECT_EQ(first_problem(Protocol::shipped().with_ward_file(ward)),
            "Protocol field protocol.based_on is 0.0.0; it must be " + Protocol::shipped().version() +
                ", the version in use.");
}

TEST(Protocol, refuses_an_impossible_day_of_approval) {
  Json ward = ward_file("{}");
  ward["approved"]["on"] = "2031-02-30";
  EXPECT_EQ(first_problem(Protocol::shipped().with_ward_file(ward)),
            "Protocol field approved.on is 2031-02-30; it must be a day, YYYY-MM-DD.");
}

}  // namespace
}  // namespace stanch::protocol

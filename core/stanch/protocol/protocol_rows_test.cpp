// core/stanch/protocol/protocol_rows_test.cpp
//
// The shipped rows against each other: a value names a rule that exists, a drug a caution that exists, a limit a ward
// may choose contains its own variants. What a wrong row would break at the bedside is caught here.
#include <gtest/gtest.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>
#include <set>

#include "stanch/protocol/protocol.hpp"

namespace stanch::protocol {
namespace {

const Protocol& shipped() { return Protocol::shipped(); }

std::set<std::string> ids_of(const char* table) {
  std::set<std::string> out;
  for (const Json& row : shipped().table(table)) out.insert(row.at("id").get<std::string>());
  return out;
}

std::vector<std::string> split(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t to = std::min(text.find(", ", from), text.size());
    out.push_back(text.substr(from, to - from));
    from = to + 2;
  }
  return out;
}

void expect_known_source(const std::string& row, const std::string& source, Status status) {
  if (source == "common practice, no source") {
    EXPECT_EQ(status, Status::practice) << row;
    return;
  }
  for (const std::string& code : split(source)) {
    const auto& all = shipped().sources();
    EXPECT_TRUE(std::any_of(all.begin(), all.end(), [&](const Source& s) { return s.code == code; }))
        << row << ": " << code;
  }
}

TEST(ProtocolRows, every_source_is_listed_and_practice_says_so) {
  for (const Value& v : shipped().values()) expect_known_source(v.id, v.source, v.status);
  for (const Rule& r : shipped().rules()) expect_known_source(r.id, r.source, r.status);
  for (const Drug& d : shipped().drugs()) {
    for (const Regimen& r : d.regimens) expect_known_source(d.id + " " + r.id, r.source, r.status);
    for (const Exclusion& e : d.exclusions) expect_known_source(d.id + " " + e.when, e.source, e.status);
    for (const NeverRoute& n : d.never_routes) expect_known_source(d.id + " " + n.route, n.source, n.status);
  }
}

TEST(ProtocolRows, every_rule_a_value_names_stands_once) {
  std::multiset<std::string> known;
  for (const char* table : {"rule", "formula", "guidance"})
    for (const Json& row : shipped().table(table)) known.insert(row.at("id").get<std::string>());
  for (const std::string& id : known) EXPECT_EQ(known.count(id), 1U) << id;
  for (const Value& v : shipped().values()) {
    EXPECT_FALSE(v.rules.empty()) << v.id;
    for (const std::string& rule : v.rules) EXPECT_TRUE(known.contains(rule)) << v.id << ": " << rule;
  }
}

TEST(ProtocolRows, a_number_a_ward_may_choose_is_within_its_range) {
  for (const Value& v : shipped().values()) {
    if (v.is_word || v.is_list()) continue;
    EXPECT_LE(v.low, v.number) << v.id;
    EXPECT_LE(v.number, v.high) << v.id;
    for (const std::string& variant : v.variants) {  // a variant that is only a number must be choosable
      double number = 0;
      const auto [end, error] = std::from_chars(variant.data(), variant.data() + variant.size(), number);
      if (error != std::errc() || end != variant.data() + variant.size()) continue;
      EXPECT_LE(v.low, number) << v.id << ": " << variant;
      EXPECT_LE(number, v.high) << v.id << ": " << variant;
    }
    if (!v.comparators_allowed.empty()) {
      const auto& allowed = v.comparators_allowed;
      EXPECT_NE(std::find(allowed.begin(), allowed.end(), v.comparator), allowed.end()) << v.id;
    }
  }
}

TEST(ProtocolRows, drugs_name_cautions_routes_and_drugs_that_exist) {
  const auto cautions = ids_of("caution");
  const auto drugs = ids_of("drug");
  for (const Drug& d : shipped().drugs()) {
    for (const Exclusion& e : d.exclusions) {
      if (e.when.rfind("caution:allergy:", 0) == 0) {
        EXPECT_EQ(e.when.substr(16), d.id);
      } else if (e.when.rfind("caution:", 0) == 0) {
        EXPECT_TRUE(cautions.contains(e.when.substr(8))) << d.id << ": " << e.when;
      }
    }
    for (const Regimen& r : d.regimens) {
      EXPECT_NE(std::find(d.routes.begin(), d.routes.end(), r.route), d.routes.end()) << d.id << " " << r.id;
      EXPECT_EQ(r.unit, d.unit) << d.id << " " << r.id;
      EXPECT_GT(r.dose, 0) << d.id << " " << r.id;
    }
    for (const NeverRoute& n : d.never_routes)
      EXPECT_EQ(std::find(d.routes.begin(), d.routes.end(), n.route), d.routes.end()) << d.id << " " << n.route;
    for (const Part& part : d.contains) EXPECT_TRUE(drugs.contains(part.drug)) << d.id << ": " << part.drug;
  }
}

TEST(ProtocolRows, lists_of_cautions_and_segments_name_rows_that_exist) {
  const auto cautions = ids_of("caution");
  for (const Key k : {key::wrap_blocked_by, key::wrap_blocked_unless_dying, key::wrap_cautioned_by, key::wrap_ask_first,
                      key::wear_breathless_remove_with, key::fluid_cautions, key::shock_index_falsely_low,
                      key::shock_index_falsely_high})
    for (const std::string& c : shipped().value(k).words) EXPECT_TRUE(cautions.contains(c)) << c;
  const auto segments = ids_of("segment");
  for (const Key k : {key::wrap_order, key::unwrap_order, key::unwrap_open_together, key::theatre_may_open,
                      key::theatre_imaging_may_open, key::wear_breathless_first_loosen})
    for (const std::string& s : shipped().value(k).words) EXPECT_TRUE(segments.contains(s)) << s;
  for (const Json& layout : shipped().table("layout")) EXPECT_EQ(layout.at("numbers").size(), segments.size());
}

// The absolute blocks: carboprost never into a vein, tranexamic acid only into a vein. Sources: product use as in RCOG
// 2016 (from memory); WHO recommendation on tranexamic acid 2017.
TEST(ProtocolRows, routes_that_kill_are_never_listed) {
  const Drug* carboprost = shipped().drug("carboprost");
  ASSERT_NE(carboprost, nullptr);
  EXPECT_EQ(carboprost->never_routes.size(), 3U);
  const Drug* tranexamic = shipped().drug("tranexamic_acid");
  ASSERT_NE(tranexamic, nullptr);
  EXPECT_TRUE(tranexamic->only_iv);
  for (const std::string& route : tranexamic->routes) EXPECT_EQ(route.rfind("iv_", 0), 0U) << route;
}

TEST(ProtocolRows, ergot_drugs_share_a_family_and_the_combined_ampoule_holds_both) {
  for (const char* id : {"ergometrine", "methylergometrine", "oxytocin_ergometrine"})
    EXPECT_EQ(shipped().drug(id)->family, "ergot") << id;
  EXPECT_EQ(shipped().drug("oxytocin_ergometrine")->contains.size(), 2U);
  EXPECT_TRUE(shipped().drug("ergometrine")->interval_later_min);
  EXPECT_TRUE(shipped().drug("sulprostone")->ceiling_window);
}

}  // namespace
}  // namespace stanch::protocol

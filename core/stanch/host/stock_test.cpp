#include "stanch/host/stock.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "stanch/host/call.hpp"

namespace stanch::host {
namespace {

int n_made = 0;

Json stamped(const std::string& kind, const std::string& at) {
  const std::string number = std::to_string(100 + ++n_made);
  return Json{{"id", "01c2b7e9-4000-7000-8000-000000000" + number},
              {"at", "2031-05-06T" + at + ":00Z"},
              {"written", "2031-05-06T" + at + ":00Z"},
              {"by", "S. Orin"},
              {"from", "phone-1"},
              {"kind", kind}};
}

Json stock_entry(const std::string& kind, const std::string& at, const Json& more = Json::object()) {
  Json out = stamped(kind, at);
  out["garment"] = "G-07";
  out.update(more);
  return out;
}

Json case_entry(const std::string& kind, const std::string& at, const Json& more) {
  Json out = stamped(kind, at);
  out["case"] = "01c2b631-cc00-7000-8000-000000000000";
  out.update(more);
  return out;
}

Json shelved() {
  const Json good = protocol::Protocol::shipped().words(protocol::key::cleaning_inspection);
  return Json::array({stock_entry("registered", "06:00", {{"where", "fennel_row"}}),
                      stock_entry("inspected", "06:05", {{"good", good}}),
                      stock_entry("stored", "06:06", {{"where", "fennel_row"}})});
}

Json answer(const Json& request) { return *parse_json(call(canonical_text(request))); }

TEST(Stock, a_wrap_on_a_case_moves_the_garment_by_itself) {
  const Json before = answer({{"do", "stock"}, {"entries", shelved()}})["garments"][0];
  EXPECT_EQ(before["place"], "shelf");
  EXPECT_EQ(before["against"], Json::array());
  Json events =
      Json::array({case_entry("garment", "08:00", {{"action", "placed"}, {"garment_id", "G-07"}}),
                   case_entry("place", "09:00", {{"where", "facility:sorrel_hospital"}, {"state", "arrived"}})});
  Json worn = answer({{"do", "stock"}, {"entries", shelved()}, {"case_entries", events}})["garments"][0];
  EXPECT_EQ(worn["place"], "on_woman");
  EXPECT_EQ(worn["where"], "sorrel_hospital");
  EXPECT_EQ(worn["owner"], "fennel_row");
  EXPECT_EQ(worn["uses"], 1);
  events.push_back(case_entry("garment", "14:00", {{"action", "off"}, {"garment_id", "G-07"}}));
  const Json off = answer({{"do", "stock"}, {"entries", shelved()}, {"case_entries", events}})["garments"][0];
  EXPECT_EQ(off["place"], "being_cleaned");
  EXPECT_EQ(off["next"], "washed");
  EXPECT_EQ(off["cleaning_by"], "2031-05-06T15:00:00Z");
}

TEST(Stock, the_wards_own_order_of_cleaning) {
  Json entries = shelved();
  entries.push_back(stock_entry("wrapped", "08:00"));
  entries.push_back(stock_entry("removed", "09:00"));
  const Json ward{{"protocol", {{"name", "ward"}, {"version", "1"}}},
                  {"approved", {{"by", "S. Orin"}, {"role", "lead midwife"}, {"on", "2031-01-01"}}},
                  {"values", {{"cleaning.order", "soak_first"}}}};
  EXPECT_EQ(answer({{"do", "stock"}, {"entries", entries}, {"ward", ward}})["garments"][0]["next"], "soaked");
}

TEST(Stock, a_proposed_pick_up_is_told_what_is_against_it) {
  const Json new_one = Json::array({stock_entry("registered", "06:00", {{"where", "fennel_row"}})});
  const Json request{{"do", "stock"}, {"entries", new_one}, {"entry", stock_entry("wrapped", "08:00")}};
  EXPECT_EQ(answer(request)["against"], Json::array({"not_inspected"}));
}

TEST(Stock, refuses_an_entry_naming_every_field) {
  const Json bad{{"garment", "G-07"}, {"id", "7"}, {"at", "now"}, {"kind", "ironed"}, {"minutes", -1}, {"good", "dry"}};
  const Json refused = answer({{"do", "stock"}, {"entries", Json::array({bad, 3})}});
  std::string fields;
  for (const Json& problem : refused["problems"]) fields += problem["field"].get<std::string>() + " ";
  EXPECT_EQ(fields, "id at written by from kind minutes good  ");
  EXPECT_TRUE(answer({{"do", "stock"}}).contains("problems"));
}

}  // namespace
}  // namespace stanch::host

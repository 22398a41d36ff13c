// Slips by requests, as the phone makes and reads them; the signature is the host's.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "stanch/host/call.hpp"
#include "stanch/slip/base64url.hpp"
#include "tests/support/bleed.hpp"

namespace stanch::host {
namespace {

Json asked(const Json& request) { return parse_json(call(canonical_text(request))).value(); }

// The key of RFC 8037 appendix A.1 and its thumbprint of appendix A.3.
const Json key{{"kty", "OKP"}, {"crv", "Ed25519"}, {"x", "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"}};

Json entries_of(const support::Bleed& bleed) {
  Json out = Json::array();
  for (const auto& e : bleed.entries().all()) out.push_back(*e->whole);
  return out;
}

TEST(SlipRequests, AKeysThumbprintIsThatOfTheStandard) {
  EXPECT_EQ(asked({{"do", "slip_key"}, {"key", key}})["kid"], "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k");
  Json private_key = key;
  private_key["d"] = "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A";
  EXPECT_EQ(asked({{"do", "slip_key"}, {"key", private_key}})["problems"][0]["field"], "slip.key.d");
  EXPECT_TRUE(asked({{"do", "slip_key"}, {"key", 7}}).contains("problems"));
  EXPECT_TRUE(asked({{"do", "slip_key"}}).contains("problems"));
}

TEST(SlipRequests, FromEntriesToSymbolsAndBackToTheSameEntries) {
  const auto bleed = support::bleed_of(60);
  const std::string now = to_text(bleed.now());
  const Json draft = asked({{"do", "slip_draft"},
                            {"entries", entries_of(bleed)},
                            {"now", now},
                            {"key", key},
                            {"sender", "Fennel Row"},
                            {"author", "S. Orin"}});
  EXPECT_EQ(draft["about"]["total"], 60);
  const Json made = asked({{"do", "slip_symbols"},
                           {"signing_input", draft["signing_input"]},
                           {"signature", slip::to_base64url(std::string(64, 's'))}});
  ASSERT_EQ(made["symbols"].size(), 3U);
  Json texts{made["symbols"][2], "a shopping list", made["symbols"][0]};
  const Json some = asked({{"do", "slip_collect"}, {"texts", texts}});
  EXPECT_EQ(some["slips"][0]["missing"], Json::array({2}));
  EXPECT_EQ(some["refused"][0]["field"], "slip.symbol");
  texts.push_back(made["symbols"][1]);
  const Json all = asked({{"do", "slip_collect"}, {"texts", texts}})["slips"][0];
  EXPECT_EQ(all["jws"], made["jws"]);
  EXPECT_EQ(all["signing_input"], draft["signing_input"]);
  const Json read = asked({{"do", "slip_read"}, {"jws", all["jws"]}, {"now", now}});
  EXPECT_EQ(read["about"]["sender"], "Fennel Row");
  EXPECT_EQ(read["warnings"], Json::array());
  record::Case held = bleed.entries();
  for (const Json& e : read["entries"]) EXPECT_FALSE(held.add(record::parse_entry(e).value()).is_new);
  EXPECT_EQ(read["entries"].size(), 60U);
}

TEST(SlipRequests, WhatIsMissingOrWrongIsNamed) {
  const auto field = [](const Json& request) { return asked(request)["problems"][0]["field"]; };
  EXPECT_EQ(field({{"do", "slip_draft"}}), "entries");
  EXPECT_EQ(field({{"do", "slip_draft"}, {"entries", Json::array()}}), "now");
  EXPECT_EQ(field({{"do", "slip_collect"}}), "texts");
  EXPECT_EQ(field({{"do", "slip_read"}, {"now", "2031-05-06T08:00:00Z"}}), "slip.text");
  EXPECT_EQ(field({{"do", "slip_symbols"}, {"signing_input", "e30.AwA"}, {"signature", "AA"}}), "slip.alg");
}

}  // namespace
}  // namespace stanch::host

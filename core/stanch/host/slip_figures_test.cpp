// What the reader of a slip judges by: while nothing of step 7 is left out, sums are those of the whole record.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "stanch/host/call.hpp"
#include "stanch/slip/choose.hpp"
#include "tests/support/bleed.hpp"

namespace stanch::host {
namespace {

Json known(const Json& entries, const std::string& now) {
  const Json request{{"do", "advise"}, {"entries", entries}, {"now", now}};
  return parse_json(call(canonical_text(request))).value()["known"];
}

TEST(SlipFigures, WithoutAllThatMayGoBeforeTotalsSumsAndTheGarmentAreTheSame) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const auto bleed = support::bleed_of(200, seed);
    Json whole = Json::array();
    bleed.entries().each([&](const record::EntryPtr& e) { whole.push_back(*e->whole); });
    std::set<Id> gone;
    for (const slip::Leaving& leaving : slip::leaving_order(bleed.entries()))
      if (leaving.step < slip::Step::totals) gone.insert(leaving.entry->id);
    ASSERT_GT(gone.size(), 100U);
    Json kept = Json::array();
    bleed.entries().each([&](const record::EntryPtr& e) {
      if (!gone.contains(e->id)) kept.push_back(*e->whole);
    });
    const std::string now = to_text(bleed.now());
    const Json all = known(whole, now);
    const Json some = known(kept, now);
    EXPECT_EQ(some["doses"], all["doses"]) << seed;
    EXPECT_EQ(some["loss"]["total_ml"], all["loss"]["total_ml"]) << seed;
    EXPECT_EQ(some["tranexamic"], all["tranexamic"]) << seed;
    EXPECT_EQ(some["woman"], all["woman"]) << seed;
    for (const char* figure : {"clear_ml", "crystalloid_ml", "drips_ml", "blood_ml"})
      EXPECT_EQ(some["fluids"][figure], all["fluids"][figure]) << seed << ' ' << figure;
  }
}

}  // namespace
}  // namespace stanch::host

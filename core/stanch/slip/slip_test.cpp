// From a case to symbols and back: nothing is changed on the way, what has no room is left out in order and said.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

#include "stanch/slip/choose.hpp"
#include "stanch/slip/draft.hpp"
#include "tests/support/bleed.hpp"

namespace stanch::slip {
namespace {

using support::Bleed;
using support::bleed_of;

const record::TimeLimits limits{Duration::minutes(2), Duration::hours(24), Duration::minutes(2)};

Wish wish_at(Moment now) {
  Wish wish;
  wish.now = now;
  wish.until = now + Duration::hours(72);
  wish.sender = "Fennel Row health centre";
  wish.author = "Midwife Arlo";
  wish.rules = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";
  wish.key = std::string(key_id_length, 'A');
  return wish;
}

/// Through symbols in reverse and twice, as a shaky hand reads them.
Received through_symbols(const Draft& draft, Moment now, std::size_t* symbols = nullptr) {
  SignedSlip slip = draft.slip;
  slip.signature = std::string(signature_bytes, '\x5A');
  auto texts = symbols_of(slip.bytes(), Correction::medium).value();
  if (symbols != nullptr) *symbols = texts.size();
  std::reverse(texts.begin(), texts.end());
  texts.push_back(texts.front());
  const Collected collected = collect(texts);
  EXPECT_TRUE(collected.problems.empty());
  EXPECT_EQ(collected.groups.size(), 1U);
  EXPECT_TRUE(collected.groups[0].missing().empty());
  const auto read = read_bytes(collected.groups[0].bytes());
  EXPECT_EQ(read->jws(), slip.jws());
  return receive(contents_of(*read).value(), now, limits);
}

std::set<std::string> bytes_of(const record::Case& entries) {
  std::set<std::string> out;
  entries.each([&](const record::EntryPtr& e) { out.insert(write_entry(*e)); });
  return out;
}

std::set<std::string> bytes_of(const Received& received) {
  std::set<std::string> out;
  for (const record::Entry& e : received.entries) out.insert(write_entry(e));
  return out;
}

TEST(Slip, ACaseOfSixtyEntriesIsWholeInThreeSymbols) {
  const Bleed bleed = bleed_of(60);
  const auto draft = draft_of(bleed.entries(), wish_at(bleed.now()));
  ASSERT_TRUE(draft);
  std::size_t symbols = 0;
  const Received received = through_symbols(*draft, bleed.now(), &symbols);
  EXPECT_EQ(symbols, 3U);
  EXPECT_TRUE(received.refused.empty());
  EXPECT_TRUE(received.warnings.empty());
  EXPECT_EQ(bytes_of(received), bytes_of(bleed.entries()));
  EXPECT_EQ(received.about.head, head_of(bleed.entries()));
  EXPECT_EQ(received.about.rules, "00112233445566778899aabbccddeeff");
  EXPECT_EQ(received.about.sender, "Fennel Row health centre");
  EXPECT_EQ(received.about.until, bleed.now() + Duration::hours(72));
}

TEST(Slip, ACaseOfThreeHundredLeavesOutVitalsFirstAndSaysSo) {
  const Bleed bleed = bleed_of(300);
  const auto draft = draft_of(bleed.entries(), wish_at(bleed.now()));
  ASSERT_TRUE(draft);
  std::size_t symbols = 0;
  const Received received = through_symbols(*draft, bleed.now(), &symbols);
  EXPECT_EQ(symbols, 3U);
  EXPECT_EQ(received.about.total, 300U);
  EXPECT_EQ(received.warnings, std::vector<std::string>{"incomplete"});
  EXPECT_LT(received.about.step, static_cast<int>(Step::totals));  // what sums are made of is there
  std::size_t left_out = 0;
  for (const auto& [kind, n] : received.about.left_out) left_out += n;
  EXPECT_EQ(left_out + received.entries.size(), 300U);
  const auto all = bytes_of(bleed.entries());
  for (const std::string& text : bytes_of(received)) EXPECT_TRUE(all.contains(text));
}

TEST(Slip, OneEntryMoreWouldNotHaveHadRoom) {
  const Bleed bleed = bleed_of(300);
  const auto draft = draft_of(bleed.entries(), wish_at(bleed.now())).value();
  const std::size_t used = draft.slip.bytes().size() + signature_bytes;
  EXPECT_LE(used, 3 * symbol_bytes(Correction::medium));
  EXPECT_GT(used, 3 * symbol_bytes(Correction::medium) - 40);
}

TEST(Slip, TheSameCaseGivesTheSameBytesWhateverTheOrderOfItsEntries) {
  const Bleed bleed = bleed_of(80);
  record::Case backwards;
  auto all = bleed.entries().all();
  std::reverse(all.begin(), all.end());
  for (const auto& e : all) backwards.add(e);
  const Wish wish = wish_at(bleed.now());
  EXPECT_EQ(draft_of(backwards, wish)->slip.bytes(), draft_of(bleed.entries(), wish)->slip.bytes());
}

TEST(Slip, StrikesTravelAndWhatTheyStrikeGoesFirst) {
  Bleed bleed = bleed_of(299);
  bleed.next({{"kind", "vitals"}, {"pulse", 240}});
  const std::string wrong = bleed.last()["id"];
  bleed.next({{"kind", "strike"}, {"strikes", wrong}, {"reason", "wrong_value"}});
  const std::string strike = bleed.last()["id"];
  EXPECT_EQ(to_text(leaving_order(bleed.entries()).front().entry->id) == wrong ||
                leaving_order(bleed.entries()).front().step == Step::struck,
            true);
  const Received received = through_symbols(*draft_of(bleed.entries(), wish_at(bleed.now())), bleed.now());
  const auto has = [&](const std::string& id) {
    return std::any_of(received.entries.begin(), received.entries.end(),
                       [&](const record::Entry& e) { return to_text(e.id) == id; });
  };
  EXPECT_FALSE(has(wrong));
  EXPECT_TRUE(has(strike));
}

TEST(Slip, UnknownKindsFieldsAndSpellingsComeBackAsTheyWere) {
  Bleed bleed = bleed_of(5);
  bleed.next({{"kind", "weather"}, {"sky", {{"what", Json::array({"12", "@0", "#x", "=y", nullptr, true, -0.5})}}}});
  bleed.next({{"kind", "vitals"}, {"pulse", "unrecordable"}, {"note", "12 hands\nno pulse"}, {"second", "S. Orin"}});
  bleed.next({{"kind", "vitals"}, {"pulse", 90}, {"at", "2031-05-06T13:30:00+05:30"}, {"skew_ms", -4200}});
  bleed.next({{"kind", "vitals"}, {"pulse", 91}, {"id", "01C2B7E9-4000-7000-8000-00000000ABCD"}});
  bleed.next({{"kind", "claim"}, {"entries", {bleed.last()["id"], "01c2b7e9-4000-7000-8000-0000000000ff"}}});
  const Received received = through_symbols(*draft_of(bleed.entries(), wish_at(bleed.now())), bleed.now());
  EXPECT_TRUE(received.refused.empty());
  EXPECT_EQ(bytes_of(received), bytes_of(bleed.entries()));
}

TEST(Slip, ReadTwiceOrAfterTheRecordItAddsNothing) {
  const Bleed bleed = bleed_of(40);
  const Received received = through_symbols(*draft_of(bleed.entries(), wish_at(bleed.now())), bleed.now());
  record::Case held = bleed.entries();
  for (const record::Entry& e : received.entries) EXPECT_FALSE(held.add(e).is_new);
  EXPECT_TRUE(held.conflicts().empty());
}

TEST(Slip, PracticeSaysSo) {
  const Bleed bleed = bleed_of(5);
  Wish wish = wish_at(bleed.now());
  EXPECT_FALSE(through_symbols(draft_of(bleed.entries(), wish).value(), wish.now).about.practice);
  wish.practice = true;
  EXPECT_TRUE(through_symbols(draft_of(bleed.entries(), wish).value(), wish.now).about.practice);
}

TEST(Slip, AnEmptyCaseIsRefused) { EXPECT_FALSE(draft_of(record::Case(), wish_at(Moment::at_ms(0)))); }

TEST(Slip, WhatIsNeverLeftOutAndHasNoRoomIsRefusedWithItsSize) {
  Bleed bleed = bleed_of(2);
  std::string words;
  support::Chance chance(3);
  while (words.size() < 1500) words += static_cast<char>('!' + chance.from_to(0, 90));
  bleed.next({{"kind", "opened"}, {"note", words}});
  Wish wish = wish_at(bleed.now());
  EXPECT_TRUE(draft_of(bleed.entries(), wish));
  wish.symbols = 1;
  const auto refused = draft_of(bleed.entries(), wish);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().code, ProblemCode::value_out_of_range);
}

// A phone that is 7 min ahead shows a slip: without setting its clock right its last entries would lie in the future.
TEST(Slip, ASendersClockThatIsAheadIsSetRight) {
  const Bleed bleed = bleed_of(30);
  const Duration ahead = Duration::minutes(7);
  const Received received = through_symbols(*draft_of(bleed.entries(), wish_at(bleed.now())), bleed.now() - ahead);
  EXPECT_TRUE(received.refused.empty());
  EXPECT_EQ(received.entries.size(), 30U);
  EXPECT_EQ(received.warnings, std::vector<std::string>{"clock_ahead"});
  for (const record::Entry& e : received.entries) EXPECT_LE(e.recorded(), bleed.now() - ahead);
}

TEST(Slip, AnEntryAfterTheSlipItselfIsRefusedAndTheOthersTaken) {
  Bleed bleed = bleed_of(20);
  const Moment now = bleed.now();
  bleed.next({{"kind", "vitals"}, {"pulse", 90}, {"at", "2031-05-07T09:00:00.000Z"}});
  const Received received = through_symbols(*draft_of(bleed.entries(), wish_at(now)), now);
  EXPECT_EQ(received.entries.size(), 20U);
  ASSERT_EQ(received.refused.size(), 1U);
  EXPECT_EQ(received.refused[0].code, ProblemCode::time_in_future);
}

TEST(Slip, ExpiredAndOddTextsAreWarnedOfAndTaken) {
  Bleed bleed = bleed_of(3);
  bleed.next({{"kind", "vitals"},
              {"pulse", 90},
              {"by",
               "\xE2\x80\xAE"
               "olrA efiwdiM"}});
  const Received received =
      through_symbols(*draft_of(bleed.entries(), wish_at(bleed.now())), bleed.now() + Duration::hours(73));
  EXPECT_EQ(received.entries.size(), 4U);
  EXPECT_EQ(received.warnings, (std::vector<std::string>{"odd_text", "expired"}));
}

}  // namespace
}  // namespace stanch::slip

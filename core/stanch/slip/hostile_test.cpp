// What a hostile or broken slip could say: each is refused by name, or taken as far as it is right, and nothing stops
// the program. The list is the interchange notes'.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "stanch/slip/base45.hpp"
#include "stanch/slip/base64url.hpp"
#include "stanch/slip/crc32.hpp"
#include "stanch/slip/deflate.hpp"
#include "stanch/slip/draft.hpp"
#include "tests/support/bleed.hpp"

namespace stanch::slip {
namespace {

const record::TimeLimits limits{Duration::minutes(2), Duration::hours(24), Duration::minutes(2)};

Draft draft_of_thirty(std::uint64_t seed = 1) {
  const auto bleed = support::bleed_of(30, seed);
  Wish wish;
  wish.now = bleed.now();
  wish.sender = "Fennel Row health centre";
  wish.author = "S. Orin";
  wish.key = std::string(key_id_length, 'A');
  return draft_of(bleed.entries(), wish).value();
}

SignedSlip slip_of_thirty(std::uint64_t seed = 1) {
  SignedSlip slip = draft_of_thirty(seed).slip;
  slip.signature = std::string(signature_bytes, 's');
  return slip;
}

std::vector<std::string> symbols_of_thirty(std::uint64_t seed = 1) {
  return symbols_of(slip_of_thirty(seed).bytes(), Correction::medium).value();
}

/// A symbol whose checksum is right, whatever it says.
std::string symbol(const std::string& prefix, const std::string& slice) {
  const std::uint32_t crc = crc32(prefix + slice);
  std::string sum;
  for (unsigned shift = 32; shift > 0;) sum += static_cast<char>(crc >> (shift -= 8) & 0xFFU);
  return prefix + to_base45(slice + sum);
}

/// The field of the only problem of one text; empty when it is taken.
std::string refused(const std::string& text) {
  const Collected collected = collect({text});
  if (collected.problems.empty()) return {};
  EXPECT_FALSE(sentence(collected.problems.front()).empty());
  return collected.problems.front().field;
}

std::string header_problem(const std::string& header) {
  const SignedSlip slip = slip_of_thirty();
  const auto read =
      read_jws(to_base64url(header) + "." + to_base64url(slip.payload) + "." + to_base64url(slip.signature));
  return read ? std::string() : read.error().front().field;
}

std::string contents_problem(const std::string& payload_text) {
  SignedSlip slip = slip_of_thirty();
  slip.payload = deflate(payload_text);
  const auto contents = contents_of(slip);
  return contents ? std::string() : contents.error().front().field + contents.error().front().value;
}

Json payload_of_thirty() {
  const auto bleed = support::bleed_of(30);
  About about;
  about.case_id = bleed.entries().all().front()->case_id;
  about.made = bleed.now();
  about.head = about.rules = std::string(32, '0');
  return pack(about, bleed.entries().all());
}

TEST(HostileSymbol, EveryFlippedCharacterIsNoticed) {
  const std::string text = symbols_of_thirty()[0];
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string flipped = text;
    flipped[i] = flipped[i] == 'A' ? 'B' : 'A';
    EXPECT_NE(refused(flipped), "") << i;
  }
}

TEST(HostileSymbol, NumbersThatAreNone) {
  EXPECT_EQ(refused(symbol("STANCH1/1/0/ABCD/", "x")), "slip.symbol.number");
  EXPECT_EQ(refused(symbol("STANCH1/2/3/ABCD/", "x")), "slip.symbol.number");
  EXPECT_EQ(refused(symbol("STANCH1/0/1/ABCD/", "x")), "slip.symbol.total");
  EXPECT_EQ(refused(symbol("STANCH1/4/1/ABCD/", "x")), "slip.symbol.total");
  EXPECT_EQ(refused(symbol("STANCH1/999/1/ABCD/", "x")), "slip.symbol.total");
  EXPECT_EQ(refused(symbol("STANCH1/9999/1/ABCD/", "x")), "slip.symbol.total");
  EXPECT_EQ(refused(symbol("STANCH1/3/3/ABCD/", "x")), "");
}

TEST(HostileSymbol, OtherTextsAreNamedAsThat) {
  for (const char* text : {"", "http://192.0.2.1/", "STANCH2/1/1/ABCD/BB8", "\xFF\xFE", "stanch1/1/1/abcd/bb8"})
    EXPECT_EQ(refused(text), "slip.symbol") << text;
  EXPECT_EQ(refused("STANCH1/1/1/ABCD/"), "slip.symbol.length");
  EXPECT_EQ(refused("STANCH1/1/1/ABCD/" + std::string(5000, 'A')), "slip.symbol.length");
  EXPECT_EQ(refused("STANCH1/1/1/ab!d/BB8BB8BB8"), "slip.symbol.group");
  EXPECT_EQ(refused("STANCH1/1/1/ABCD/:::"), "slip.symbol.slice");
  EXPECT_EQ(refused("STANCH1/1/1/ABCD/bb8bb8bb8"), "slip.symbol.slice");
}

TEST(HostileSymbol, TwoSlipsAreKeptApartAndEachIsRead) {
  auto texts = symbols_of_thirty(1);
  for (const std::string& other : symbols_of_thirty(2)) texts.push_back(other);
  const Collected collected = collect(texts);
  ASSERT_EQ(collected.groups.size(), 2U);
  EXPECT_EQ(read_bytes(collected.groups[0].bytes())->jws(), slip_of_thirty(1).jws());
  EXPECT_EQ(read_bytes(collected.groups[1].bytes())->jws(), slip_of_thirty(2).jws());
}

TEST(HostileSymbol, ASecondSliceOfTheSameNumberIsToldAndTheFirstStays) {
  const Collected collected = collect({symbol("STANCH1/2/1/ABCD/", "first"), symbol("STANCH1/2/1/ABCD/", "other")});
  ASSERT_EQ(collected.problems.size(), 1U);
  EXPECT_EQ(collected.problems[0].code, ProblemCode::fields_conflict);
  EXPECT_EQ(collected.problems[0].line, 2U);
  EXPECT_EQ(collected.groups[0].slices[0], "first");
  EXPECT_EQ(collected.groups[0].missing(), std::vector<std::size_t>{2});
}

TEST(HostileHeader, OnlyTheTwoAlgorithmsAThumbprintAndDeflate) {
  const std::string kid = R"("kid":")" + std::string(43, 'A') + R"(")";
  EXPECT_EQ(header_problem(R"({"alg":"EdDSA",)" + kid + R"(,"zip":"DEF"})"), "");
  for (const char* alg : {"none", "None", "HS256", "RS256", "ES256K", "", "EdDSA "})
    EXPECT_EQ(header_problem(R"({"alg":")" + std::string(alg) + R"(",)" + kid + R"(,"zip":"DEF"})"), "slip.alg") << alg;
  EXPECT_EQ(header_problem(R"({"alg":["EdDSA"],)" + kid + R"(,"zip":"DEF"})"), "slip.alg");
  EXPECT_EQ(header_problem(R"({"alg":"EdDSA",)" + kid + R"(})"), "slip.zip");
  EXPECT_EQ(header_problem(R"({"alg":"EdDSA","kid":"../../etc","zip":"DEF"})"), "slip.kid");
  EXPECT_EQ(header_problem(R"({"alg":"EdDSA",)" + kid + R"(,"zip":"DEF","crit":["b64"]})"), "slip.header");
  EXPECT_EQ(header_problem(R"({"alg":"EdDSA",)" + kid + R"(,"zip":"DEF","jwk":{}})"), "slip.header");
  EXPECT_EQ(header_problem(R"({"alg":"EdDSA","alg":"none",)" + kid + R"(,"zip":"DEF"})"), "slip.header");
  EXPECT_EQ(header_problem("[]"), "slip.header");
}

TEST(HostileText, CutOffOrPaddedAnywhere) {
  const std::string whole = slip_of_thirty().jws();
  EXPECT_TRUE(read_jws(whole));
  for (const std::string& text : {whole + "=", whole + ".x", whole.substr(0, 100), whole.substr(0, whole.size() - 2),
                                  std::string(), std::string(".."), std::string(70000, 'A')})
    EXPECT_FALSE(read_jws(text));
  const std::string bytes = slip_of_thirty().bytes();
  for (std::size_t n = 0; n < 140; ++n) EXPECT_FALSE(read_bytes(bytes.substr(0, n))) << n;
}

TEST(HostilePayload, BombsTrailingBytesAndDepthAreRefused) {
  EXPECT_EQ(contents_problem(std::string(most_bytes + 1, ' ')), "slip.payloadlonger");
  SignedSlip slip = slip_of_thirty();
  slip.payload += "x";
  EXPECT_EQ(contents_of(slip).error().front().value, "DEFLATE with more after it");
  slip.payload = "not deflate";
  EXPECT_EQ(contents_of(slip).error().front().value, "not DEFLATE");
  EXPECT_NE(contents_problem(std::string(60000, '[') + std::string(60000, ']')), "");
  EXPECT_NE(contents_problem("[]"), "");
  EXPECT_NE(contents_problem(""), "");
}

// Every member taken away, and replaced by every type of value: refused by that member's name or read without it.
TEST(HostilePayload, NoMemberIsTrusted) {
  const Json whole = payload_of_thirty();
  ASSERT_TRUE(unpack(whole));
  const std::vector<Json> others{nullptr,
                                 true,
                                 -1,
                                 1e300,
                                 18446744073709551615ULL,
                                 "",
                                 "zz",
                                 Json::array(),
                                 Json::array({Json::array()}),
                                 Json::object(),
                                 Json::array({-9007199254740992LL})};
  for (auto it = whole.begin(); it != whole.end(); ++it) {
    Json without = whole;
    without.erase(it.key());
    EXPECT_FALSE(unpack(without)) << it.key();
    for (const Json& other : others) {
      Json changed = whole;
      changed[it.key()] = other;
      const auto read = unpack(changed);
      if (!read) {
        EXPECT_TRUE(read.error().front().field.starts_with("slip.")) << it.key();
      } else {
        EXPECT_LE(receive(*read, read->about.made, limits).entries.size(), 30U);
      }
    }
  }
}

// The same for every value inside the lists.
TEST(HostilePayload, NoValueInAListIsTrusted) {
  const Json whole = payload_of_thirty();
  const std::vector<Json> others{nullptr, -1, 400, 1.5, "@99", "#x", "999", Json::array(), Json::object()};
  for (const char* list : {"w", "a", "d", "n", "k", "x"}) {
    if (!whole[list].is_array()) continue;
    for (std::size_t i = 0; i < whole[list].size(); ++i)
      for (const Json& other : others) {
        Json changed = whole;
        changed[list][i] = other;
        if (const auto read = unpack(changed)) (void)receive(*read, read->about.made, limits);
        for (std::size_t k = 0; whole[list][i].is_array() && k < whole[list][i].size(); ++k) {
          changed = whole;
          changed[list][i][k] = other;
          if (const auto read = unpack(changed)) (void)receive(*read, read->about.made, limits);
        }
      }
  }
}

TEST(HostilePayload, AnEntryOfAnotherCaseOrOutOfRangeIsRefusedAloneByName) {
  auto bleed = support::bleed_of(5);
  About about;
  about.case_id = bleed.entries().all().front()->case_id;
  about.made = bleed.now();
  Contents contents = unpack(pack(about, bleed.entries().all())).value();
  contents.entries[1]["case"] = "01c2b631-cc00-7a3d-9e51-4b0c77d2f08b";
  contents.entries[2]["kind"] = "vitals";
  contents.entries[2]["pulse"] = 999;
  contents.entries[3]["at"] = "2199-01-01T00:00:00Z";
  const Received received = receive(contents, bleed.now(), limits);
  EXPECT_EQ(received.entries.size(), 2U);
  ASSERT_EQ(received.refused.size(), 3U);
  EXPECT_EQ(received.refused[0].code, ProblemCode::wrong_case);
  EXPECT_EQ(received.refused[1].code, ProblemCode::value_out_of_range);
  EXPECT_EQ(received.refused[2].code, ProblemCode::time_in_future);
  EXPECT_EQ(received.refused[2].line, 4U);
}

}  // namespace
}  // namespace stanch::slip

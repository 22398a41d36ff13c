// Base45, base64url and CRC-32 against what their standards print.
#include <gtest/gtest.h>

#include <string>

#include "stanch/slip/base45.hpp"
#include "stanch/slip/base64url.hpp"
#include "stanch/slip/crc32.hpp"
#include "stanch/slip/words.hpp"

namespace stanch::slip {
namespace {

// RFC 9285 sections 4.3 and 4.4.
TEST(Base45, WritesAndReadsWhatTheStandardPrints) {
  EXPECT_EQ(to_base45("AB"), "BB8");
  EXPECT_EQ(to_base45("Hello!!"), "%69 VD92EX0");
  EXPECT_EQ(to_base45("base-45"), "UJCLQE7W581");
  EXPECT_EQ(from_base45("QED8WEX0"), "ietf!");
  EXPECT_EQ(from_base45(""), "");
}

TEST(Base45, TheGreatestTripleAndPairAreReadAndTheNextRefused) {
  EXPECT_EQ(from_base45("FGW"), "\xFF\xFF");  // RFC 9285 section 4.4 prints it
  EXPECT_FALSE(from_base45("GGW"));           // 65536, printed there as an error
  EXPECT_FALSE(from_base45(":::"));
  EXPECT_EQ(from_base45("U5"), "\xFF");
  EXPECT_FALSE(from_base45("V5"));
}

TEST(Base45, LowerCaseOtherCharactersAndImpossibleLengthsAreRefused) {
  EXPECT_FALSE(from_base45("bb8"));
  EXPECT_FALSE(from_base45("B;8"));
  EXPECT_FALSE(from_base45("B"));
  EXPECT_FALSE(from_base45("BB8A"));
  EXPECT_FALSE(
      from_base45(std::string("B\0"
                              "8",
                              3)));
}

TEST(Base45, EveryByteComesBack) {
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  EXPECT_EQ(from_base45(to_base45(all)), all);
  EXPECT_EQ(from_base45(to_base45(all + "x")), all + "x");
}

// RFC 4648 section 10, without padding; RFC 7515 appendix C for the two last characters of the alphabet.
TEST(Base64Url, WritesAndReadsWhatTheStandardPrints) {
  EXPECT_EQ(to_base64url("f"), "Zg");
  EXPECT_EQ(to_base64url("fo"), "Zm8");
  EXPECT_EQ(to_base64url("foobar"), "Zm9vYmFy");
  EXPECT_EQ(to_base64url("\x03\xEC\xFF\xE0\xC1"), "A-z_4ME");
  EXPECT_EQ(from_base64url("A-z_4ME"), "\x03\xEC\xFF\xE0\xC1");
  EXPECT_EQ(from_base64url(""), "");
}

TEST(Base64Url, OneTextForTheSameBytes) {
  EXPECT_FALSE(from_base64url("Zg=="));
  EXPECT_FALSE(from_base64url("Zh"));  // stray bits at the end
  EXPECT_FALSE(from_base64url("Zm9"));
  EXPECT_FALSE(from_base64url("A+z/4ME"));
  EXPECT_FALSE(from_base64url("Z"));
  EXPECT_FALSE(from_base64url("Zg\n"));
}

TEST(Crc32, TheUsualCheckValue) {  // of "123456789", in every description of this CRC
  EXPECT_EQ(crc32("123456789"), 0xCBF43926U);
  EXPECT_EQ(crc32(""), 0U);
}

// The table is part of the format: this is the checksum of its words with a space between, as the page prints them.
TEST(Words, AreThoseOfVersionOne) {
  std::string all;
  for (std::size_t i = 0; i < n_words; ++i) {
    all += (i == 0 ? "" : " ") + std::string(word_numbered(i));
    EXPECT_EQ(number_of_word(word_numbered(i)), i);
  }
  EXPECT_EQ(crc32(all), 0xDC35CF01U);
  EXPECT_EQ(number_of_word("zebra"), std::nullopt);
  EXPECT_EQ(number_of_word(""), std::nullopt);
}

}  // namespace
}  // namespace stanch::slip

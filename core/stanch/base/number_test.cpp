#include "stanch/base/number.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cstdint>

namespace stanch {
namespace {

// RFC 8785, appendix B: sample numbers as IEEE-754 bits and their text.
TEST(Number, writes_the_samples_of_rfc_8785) {
  const struct {
    std::uint64_t bits;
    const char* text;
  } samples[] = {
      {0x0000000000000000, "0"},
      {0x8000000000000000, "0"},
      {0x0000000000000001, "5e-324"},
      {0x8000000000000001, "-5e-324"},
      {0x7fefffffffffffff, "1.7976931348623157e+308"},
      {0xffefffffffffffff, "-1.7976931348623157e+308"},
      {0x4340000000000000, "9007199254740992"},
      {0xc340000000000000, "-9007199254740992"},
      {0x4430000000000000, "295147905179352830000"},
      {0x44b52d02c7e14af5, "9.999999999999997e+22"},
      {0x44b52d02c7e14af6, "1e+23"},
      {0x44b52d02c7e14af7, "1.0000000000000001e+23"},
      {0x444b1ae4d6e2ef4e, "999999999999999700000"},
      {0x444b1ae4d6e2ef4f, "999999999999999900000"},
      {0x444b1ae4d6e2ef50, "1e+21"},
      {0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
      {0x3eb0c6f7a0b5ed8d, "0.000001"},
      {0x41b3de4355555553, "333333333.3333332"},
      {0x41b3de4355555554, "333333333.33333325"},
      {0x41b3de4355555555, "333333333.3333333"},
      {0x41b3de4355555556, "333333333.3333334"},
      {0x41b3de4355555557, "333333333.33333343"},
      {0xbecbf647612f3696, "-0.0000033333333333333333"},
      {0x43143ff3c1cb0959, "1424953923781206.2"},
  };
  for (const auto& sample : samples) EXPECT_EQ(number_text(std::bit_cast<double>(sample.bits)), sample.text);
}

TEST(Number, reads_whole_texts_only) {
  EXPECT_EQ(parse_number("12"), 12.0);
  EXPECT_EQ(parse_number("-3.5"), -3.5);
  EXPECT_EQ(parse_number("1e3"), 1000.0);
  for (const char* text : {"", "12x", " 12", "+1", "nan", "inf", "1e999", "0x10", "1,5"}) {
    EXPECT_FALSE(parse_number(text)) << text;
  }
}

TEST(Number, whole_is_exact) {
  EXPECT_TRUE(is_whole(120));
  EXPECT_TRUE(is_whole(9007199254740991.0));
  EXPECT_FALSE(is_whole(9007199254740992.0));
  EXPECT_FALSE(is_whole(36.5));
}

}  // namespace
}  // namespace stanch

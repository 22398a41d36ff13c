#include "stanch/base/id.hpp"

#include <gtest/gtest.h>

namespace stanch {
namespace {

// RFC 9562 appendix A.6: the worked version 7 example.
TEST(Id, reads_and_makes_the_example_of_rfc_9562) {
  const auto id = parse_id("017F22E2-79B0-7CC3-98C4-DC0C0C07398F");
  ASSERT_TRUE(id);
  EXPECT_EQ(to_text(*id), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
  EXPECT_EQ(make_id(Moment::at_ms(0x017F22E279B0), 0xCC3, 0x18C4DC0C0C07398F), *id);
}

TEST(Id, refuses_other_versions_and_shapes) {
  EXPECT_FALSE(parse_id("919108f7-52d1-4320-9bac-f847db4148a8"));  // version 4 (RFC 9562 A.3)
  EXPECT_FALSE(parse_id("017f22e2-79b0-7cc3-18c4-dc0c0c07398f"));  // wrong variant
  EXPECT_FALSE(parse_id("017f22e279b07cc398c4dc0c0c07398f"));
  EXPECT_FALSE(parse_id("017f22e2-79b0-7cc3-98c4-dc0c0c07398g"));
  EXPECT_FALSE(parse_id("017f22e2-79b0-7cc3-98c4_dc0c0c07398f"));
  EXPECT_FALSE(parse_id(""));
}

TEST(Id, order_follows_time) {
  EXPECT_LT(make_id(Moment::at_ms(1000), ~0ULL, ~0ULL), make_id(Moment::at_ms(1001), 0, 0));
}

}  // namespace
}  // namespace stanch

#include "stanch/base/input_check.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace stanch {
namespace {

TEST(InputCheck, tells_all_problems_at_once) {
  InputCheck check;
  check.require(false, "sigma_mmhg", -1.5, "it must be above 0 mmHg");
  check.require(true, "fine", 1.0, "anything");
  check.require(false, "unit", "mmol/L", "it must be umol/L");
  ASSERT_TRUE(check.failed());
  const Problems problems = check.refusal().value();
  ASSERT_EQ(problems.size(), 2u);
  EXPECT_EQ(problems[0].field, "sigma_mmhg");
  EXPECT_EQ(problems[0].value, "-1.5");
  EXPECT_EQ(problems[0].allowed, "it must be above 0 mmHg");
  EXPECT_EQ(problems[1].value, "mmol/L");
  EXPECT_EQ(problems[1].code, ProblemCode::input_impossible);
}

TEST(InputCheck, passes_when_every_claim_holds) {
  InputCheck check;
  check.require_finite("x", -1e308);
  EXPECT_FALSE(check.failed());
}

TEST(InputCheck, names_numbers_that_are_not_finite) {
  InputCheck check;
  check.require_finite("a", std::numeric_limits<double>::quiet_NaN());
  check.require_finite("b", std::numeric_limits<double>::infinity());
  check.require_finite("c", -std::numeric_limits<double>::infinity());
  const Problems problems = check.refusal().value();
  ASSERT_EQ(problems.size(), 3u);
  EXPECT_EQ(problems[0].value, "not a number");
  EXPECT_EQ(problems[1].value, "infinite");
  EXPECT_EQ(problems[2].value, "minus infinite");
}

}  // namespace
}  // namespace stanch

// Sources: WOMAN Trial Collaborators, Lancet 2017;389:2105-16 (155 of 10036 against 191 of 9985 bleeding deaths: RR
// 0.81, 0.65 to 1.00); Gayet-Ageron et al., Lancet 2018;391:125-32 (10 percent less for every 15 min, none after 3 h).
#include "stanch/care/tranexamic_benefit.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/told_case.hpp"

namespace stanch::care {
namespace {

BenefitLeft left(double delay) { return *tranexamic_benefit_left(delay, protocol::Protocol::shipped()); }

TEST(TranexamicBenefit, both_curves_at_the_published_delays) {
  EXPECT_EQ(left(0).multiplicative, 1);
  EXPECT_EQ(left(0).linear, 1);
  EXPECT_NEAR(left(30).multiplicative, 0.810, 0.0005);
  EXPECT_NEAR(left(150).multiplicative, 0.349, 0.0005);
  EXPECT_NEAR(left(180).multiplicative, 0.282, 0.0005);
  EXPECT_EQ(left(181).multiplicative, 0);
  EXPECT_NEAR(left(30).linear, 0.80, 1e-12);
  EXPECT_NEAR(left(150).linear, 0, 1e-12);
  EXPECT_GE(left(180).linear, 0);
  EXPECT_EQ(left(180).linear, 0);
  EXPECT_EQ(left(181).linear, 0);
}

TEST(TranexamicBenefit, the_ward_chooses_which_curve_is_drawn) {
  EXPECT_EQ(left(30).by_ward, left(30).multiplicative);
  const auto ward = support::ward_protocol(R"({"tranexamic.decay_rule": "linear"})");
  EXPECT_NEAR(tranexamic_benefit_left(30, ward)->by_ward, 0.8, 1e-12);
}

TEST(TranexamicBenefit, a_negative_or_infinite_delay_is_refused) {
  EXPECT_FALSE(tranexamic_benefit_left(-0.1, protocol::Protocol::shipped()));
  EXPECT_FALSE(tranexamic_benefit_left(std::numeric_limits<double>::infinity(), protocol::Protocol::shipped()));
}

TEST(RelativeRisk, of_the_trial_agrees_with_what_was_printed) {
  const auto rr = relative_risk(155, 10036, 191, 9985);
  ASSERT_TRUE(rr);
  EXPECT_NEAR(rr->ratio, 0.807, 0.0005);
  EXPECT_NEAR(rr->low, 0.65, 0.005);
  EXPECT_NEAR(rr->high, 1.00, 0.005);
}

// Worked by hand: 10 of 20 against 5 of 25; the variance of the logarithm is 1/10 - 1/20 + 1/5 - 1/25 = 0.21.
TEST(RelativeRisk, of_small_counts_by_hand) {
  const auto rr = relative_risk(10, 20, 5, 25);
  ASSERT_TRUE(rr);
  EXPECT_NEAR(rr->ratio, 2.5, 1e-12);
  EXPECT_NEAR(rr->low, 2.5 / std::exp(1.959963984540054 * std::sqrt(0.21)), 1e-9);
  EXPECT_NEAR(rr->high, 2.5 * std::exp(1.959963984540054 * std::sqrt(0.21)), 1e-9);
}

TEST(RelativeRisk, counts_that_cannot_be_are_refused) {
  EXPECT_FALSE(relative_risk(0, 10, 1, 10));
  EXPECT_FALSE(relative_risk(1, 0, 1, 10));
  EXPECT_FALSE(relative_risk(11, 10, 1, 10));
  EXPECT_FALSE(relative_risk(1, 10, 0, 10));
  EXPECT_FALSE(relative_risk(1, 10, 11, 10));
  EXPECT_FALSE(relative_risk(1, std::numeric_limits<double>::infinity(), 1, 10));
  EXPECT_TRUE(relative_risk(10, 10, 10, 10));
}

}  // namespace
}  // namespace stanch::care

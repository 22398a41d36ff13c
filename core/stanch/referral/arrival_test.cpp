#include "stanch/referral/arrival.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace stanch::referral {
namespace {

const std::vector<Possibility> four{{0.25, 30}, {0.25, 60}, {0.25, 120}, {0.25, never}};
constexpr TravelTime to_a{40, 0.3};
constexpr TravelTime to_b{75, 0.25};
constexpr TravelTime care{30, 0.5};

// Source: B01, B02: SciPy's normal distribution; recomputed by tests/reference/where_to_send.py.
TEST(Arrival, before_critical) {
  EXPECT_NEAR(*arrives_in_time(four, 10, to_a), 0.6953905568, 1e-9);
  EXPECT_NEAR(*arrives_in_time(four, 10, to_b), 0.4974129096, 1e-9);
}

// Source: B03 by hand: F(20) + F(80) = 1, because 40 is their geometric mean; the others by SciPy.
TEST(Arrival, leaving_later) {
  EXPECT_NEAR(*arrives_in_time(four, 40, to_a), 0.5, 1e-12);
  EXPECT_NEAR(*arrives_in_time(four, 20, to_a), 0.6247, 5e-5);
  EXPECT_NEAR(*arrives_in_time(four, 30, to_a), 0.5413, 5e-5);
}

// Source: B04, closed form: Phi(ln 2 / sqrt(0.45)).
TEST(Arrival, critical_that_is_lognormal_too) {
  EXPECT_NEAR(arrives_before({60, 0.3}, {120, 0.6}), 0.8492642152, 1e-9);
}

// Source: B05, B06, SciPy's quadrature and a simulation of four million (0.34850 for the first).
TEST(Arrival, care_in_time) {
  const Journey b{10, to_b, care, 1.0};
  EXPECT_NEAR(*care_in_time(four, b, 150), 0.3485752519, 1e-6);
  EXPECT_NEAR(*care_in_time(four, b, 240), 0.3822936515, 1e-6);
  EXPECT_NEAR(*care_in_time(four, {10, to_b, care, 0.5}, 240), 0.5 * 0.3822936515, 1e-6);
}

// Source: B07, SciPy's quadrature; a simulation of four million gave 0.41633.
TEST(Arrival, a_stop_for_blood_on_the_way) {
  const StopOver way{10, to_a, 15, 0.8, {45, 45, 45, 45}, {45, 0.25}, care};
  EXPECT_NEAR(*care_with_stop(four, way, 240), 0.4162864, 1e-5);
}

// Source: B09 by hand (5 + 25/0.5 ...) and SciPy; the other cuts by SciPy.
TEST(Arrival, the_garment_puts_critical_off) {
  const auto wrapped = with_garment(four, 5, 0.5);
  ASSERT_TRUE(wrapped);
  EXPECT_EQ((*wrapped)[0].critical_min, 55);
  EXPECT_EQ((*wrapped)[1].critical_min, 115);
  EXPECT_EQ((*wrapped)[2].critical_min, 235);
  EXPECT_EQ((*wrapped)[3].critical_min, never);
  EXPECT_NEAR(*arrives_in_time(*wrapped, 10, to_b), 0.7328341, 1e-7);
  const double chance[] = {0.5627, 0.6486, 0.8922};
  const double cut[] = {0.2, 0.35, 0.7};
  for (std::size_t i = 0; i < 3; ++i)
    EXPECT_NEAR(*arrives_in_time(*with_garment(four, 5, cut[i]), 10, to_b), chance[i], 5e-5) << cut[i];
  EXPECT_EQ((*with_garment(std::vector<Possibility>{{1, 3}}, 5, 0.5))[0].critical_min, 3);
}

// Source: B11 by hand: 1 / (0.16 + 0.09 + 0.04 + 0.01).
TEST(Arrival, effective_number_of_possibilities) {
  const std::vector<Possibility> weighted{{0.4, 1}, {0.3, 1}, {0.2, 1}, {0.1, 1}};
  EXPECT_NEAR(effective_number(weighted), 3.3333, 1e-4);
}

// Source: B13, the definition.
TEST(Arrival, critical_before_she_can_leave) {
  const std::vector<Possibility> soon{{0.5, 0}, {0.5, 10}};
  EXPECT_EQ(*arrives_in_time(soon, 10, to_a), 0.0);
  EXPECT_EQ(*care_in_time(soon, {10, to_a, care, 1.0}, 240), 0.0);
}

// Source: by hand. A capability seen a whole theta ago keeps 1/e of its news.
TEST(Arrival, a_capability_ages_towards_what_is_usual) {
  EXPECT_NEAR(capability_now(0.5, 1.0, 24, 24), 0.5 + 0.5 / 2.718281828459045, 1e-12);
  EXPECT_EQ(capability_now(0.5, 1.0, 0, 24), 1.0);
}

TEST(Arrival, refuses_what_cannot_be) {
  EXPECT_FALSE(arrives_in_time(std::vector<Possibility>{{0.5, 30}}, 10, to_a));
  EXPECT_FALSE(arrives_in_time(four, -1, to_a));
  EXPECT_FALSE(care_in_time(four, {10, {0, 0.3}, care, 1.5}, 0));
  EXPECT_FALSE(care_with_stop(four, {10, to_a, 15, 0.8, {45}, {45, 0.25}, care}, 240));
  EXPECT_FALSE(with_garment(four, 5, 1.0));
}

}  // namespace
}  // namespace stanch::referral

// Ends of the range, special values, and the bits that every host must give.
#include "stanch/base/elementary.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

namespace stanch::elementary {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

TEST(Elementary, exp_at_the_ends) {
  EXPECT_EQ(exp(0.0), 1.0);
  EXPECT_EQ(exp(-infinity), 0.0);
  EXPECT_EQ(exp(infinity), infinity);
  EXPECT_EQ(exp(710.0), infinity);
  EXPECT_EQ(exp(-745.14), 0.0);
  EXPECT_GT(exp(-745.13), 0.0);
  EXPECT_LT(exp(709.78), infinity);
  EXPECT_TRUE(std::isnan(exp(not_a_number)));
}

TEST(Elementary, expm1_keeps_a_tiny_argument_and_its_sign) {
  EXPECT_EQ(expm1(1e-300), 1e-300);
  EXPECT_TRUE(std::signbit(expm1(-0.0)));
  EXPECT_EQ(expm1(-infinity), -1.0);
  EXPECT_EQ(expm1(infinity), infinity);
  EXPECT_TRUE(std::isnan(expm1(not_a_number)));
}

TEST(Elementary, log_refuses_a_negative_argument) {
  EXPECT_EQ(log(1.0), 0.0);
  EXPECT_EQ(log(0.0), -infinity);
  EXPECT_EQ(log(-0.0), -infinity);
  EXPECT_EQ(log(infinity), infinity);
  EXPECT_TRUE(std::isnan(log(-1.0)));
  EXPECT_TRUE(std::isnan(log(not_a_number)));
  EXPECT_NEAR(log(std::numeric_limits<double>::denorm_min()), -744.4400719213812, 1e-12);
}

TEST(Elementary, log1p_at_the_ends) {
  EXPECT_EQ(log1p(-1.0), -infinity);
  EXPECT_EQ(log1p(infinity), infinity);
  EXPECT_TRUE(std::isnan(log1p(-1.0000001)));
  EXPECT_TRUE(std::signbit(log1p(-0.0)));
  EXPECT_EQ(log1p(1e-20), 1e-20);
}

TEST(Elementary, pow_follows_ieee_754_at_the_ends) {
  EXPECT_EQ(pow(not_a_number, 0.0), 1.0);
  EXPECT_EQ(pow(1.0, not_a_number), 1.0);
  EXPECT_TRUE(std::isnan(pow(2.0, not_a_number)));
  EXPECT_TRUE(std::isnan(pow(-2.0, 0.5)));
  EXPECT_EQ(pow(-2.0, 3.0), -8.0);
  EXPECT_EQ(pow(-2.0, 4.0), 16.0);
  EXPECT_EQ(pow(-0.0, -3.0), -infinity);
  EXPECT_EQ(pow(-0.0, -2.0), infinity);
  EXPECT_TRUE(std::signbit(pow(-0.0, 3.0)));
  EXPECT_EQ(pow(0.0, 0.5), 0.0);
  EXPECT_EQ(pow(-1.0, infinity), 1.0);
  EXPECT_EQ(pow(0.5, infinity), 0.0);
  EXPECT_EQ(pow(0.5, -infinity), infinity);
  EXPECT_EQ(pow(-infinity, 3.0), -infinity);
  EXPECT_EQ(pow(-infinity, -3.0), -0.0);
  EXPECT_EQ(pow(-1.0, 1e300), 1.0);
  EXPECT_EQ(pow(std::nextafter(1.0, 0.0), 1e300), 0.0);
  EXPECT_EQ(pow(std::nextafter(1.0, 2.0), 1e300), infinity);
  EXPECT_EQ(pow(std::nextafter(1.0, 2.0), -1e300), 0.0);
}

TEST(Elementary, pow_of_whole_numbers_is_exact) {
  EXPECT_EQ(pow(3.0, 20.0), 3486784401.0);
  EXPECT_EQ(pow(10.0, 15.0), 1e15);
  EXPECT_EQ(pow(4.0, 0.5), 2.0);
  EXPECT_EQ(pow(2.0, -1074.0), std::numeric_limits<double>::denorm_min());
}

TEST(Elementary, error_function_at_the_ends) {
  EXPECT_EQ(erf(infinity), 1.0);
  EXPECT_EQ(erf(-infinity), -1.0);
  EXPECT_TRUE(std::signbit(erf(-0.0)));
  EXPECT_EQ(erfc(0.0), 1.0);
  EXPECT_EQ(erfc(infinity), 0.0);
  EXPECT_EQ(erfc(-infinity), 2.0);
  EXPECT_TRUE(std::isnan(erf(not_a_number)));
  EXPECT_TRUE(std::isnan(erfc(not_a_number)));
}

// Source: Abramowitz and Stegun, table 7.1 (from memory).
TEST(Elementary, error_function_of_one_as_tabulated) { EXPECT_NEAR(erf(1.0), 0.8427007929, 5e-11); }

TEST(Elementary, normal_distribution_at_the_ends) {
  EXPECT_EQ(normal_cdf(0.0), 0.5);
  EXPECT_EQ(normal_cdf(infinity), 1.0);
  EXPECT_EQ(normal_cdf(-infinity), 0.0);
  EXPECT_EQ(normal_quantile(0.0), -infinity);
  EXPECT_EQ(normal_quantile(1.0), infinity);
  EXPECT_EQ(normal_quantile(0.5), 0.0);
  EXPECT_TRUE(std::isnan(normal_quantile(-1e-300)));
  EXPECT_TRUE(std::isnan(normal_quantile(1.0000001)));
  EXPECT_TRUE(std::isnan(normal_quantile(not_a_number)));
}

// Source: any table of the normal distribution; common practice, no source.
TEST(Elementary, normal_quantile_gives_the_usual_1_96) { EXPECT_NEAR(normal_quantile(0.975), 1.959963985, 5e-10); }

// One number that changes if any bit of any answer does, over arguments made by whole-number steps.
std::uint64_t hash_of_answers() {
  std::uint64_t hash = 14695981039346656037u;
  const auto take = [&hash](double answer) { hash = (hash ^ std::bit_cast<std::uint64_t>(answer)) * 1099511628211u; };
  std::uint64_t state = 1;
  for (int i = 0; i < 20000; ++i) {
    state = state * 6364136223846793005u + 1442695040888963407u;
    const double unit = static_cast<double>(state >> 11) * 0x1p-53;
    take(exp(1400.0 * unit - 700.0));
    take(expm1(4.0 * unit - 2.0));
    take(log(unit));
    take(log1p(3.0 * unit - 1.0));
    take(pow(10.0 * unit, 40.0 * unit - 20.0));
    take(erf(6.0 * unit - 3.0));
    take(erfc(20.0 * unit));
    take(normal_cdf(20.0 * unit - 10.0));
    take(normal_density(20.0 * unit - 10.0));
    take(normal_quantile(unit));
  }
  return hash;
}

// Seen with g++ 12 (-O0, -O2, -O3 -march=native) and, built for WebAssembly by clang 22, in node (-Oz, -O3 -msimd128).
TEST(Elementary, answers_have_the_same_bits_on_every_host) { EXPECT_EQ(hash_of_answers(), 3847127231412533737u); }

}  // namespace
}  // namespace stanch::elementary

#include "stanch/base/quadrature.hpp"

#include <gtest/gtest.h>

#include "stanch/base/elementary.hpp"

namespace stanch {
namespace {

double power(double x, int n) {
  double product = 1.0;
  for (int i = 0; i < n; ++i) product *= x;
  return product;
}

// The n-point Gauss rule is exact up to degree 2n - 1: with ten points up to 19, not 20. Tolerance: rounding only.
TEST(Quadrature, one_panel_is_exact_up_to_degree_19) {
  for (int degree = 0; degree <= 19; ++degree) {
    const auto f = [degree](double x) { return power(x, degree); };
    EXPECT_NEAR(integrate(f, 0.0, 1.0, 1), 1.0 / (degree + 1), 1e-15) << degree;
  }
  const auto too_high = [](double x) { return power(x, 20); };
  EXPECT_GT(2.0 / 21.0 - integrate(too_high, -1.0, 1.0, 1), 1e-7);
}

TEST(Quadrature, normal_density_integrates_to_one) {
  EXPECT_NEAR(integrate(elementary::normal_density, -9.0, 9.0, 18), 1.0, 1e-15);
}

TEST(Quadrature, swapping_the_ends_changes_the_sign) {
  const auto f = [](double x) { return x * x + 1.0; };
  EXPECT_DOUBLE_EQ(integrate(f, 2.0, -1.0, 3), -6.0);
}

TEST(Quadrature, an_empty_range_gives_zero) {
  const auto f = [](double x) { return 1.0 / x; };
  EXPECT_EQ(integrate(f, 2.0, 2.0, 4), 0.0);
}

// Half-circle area: a root at the ends converges slowly; more panels must help.
TEST(Quadrature, more_panels_come_closer) {
  const auto f = [](double x) { return __builtin_sqrt(1.0 - x * x); };
  constexpr double half_pi = 1.5707963267948966;
  const double coarse = integrate(f, -1.0, 1.0, 1) - half_pi;
  const double fine = integrate(f, -1.0, 1.0, 64) - half_pi;
  EXPECT_LT(fine * fine, coarse * coarse / 1e4);
}

}  // namespace
}  // namespace stanch

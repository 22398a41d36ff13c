// Compares the elementary functions with MPFR, an independent library that rounds correctly, over many random arguments
// and asserts the errors that elementary.hpp states. MPFR is linked into the tests only.
#include <gtest/gtest.h>
#include <mpfr.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>

#include "stanch/base/elementary.hpp"

namespace stanch::elementary {
namespace {

// MPFR needs much longer for the error function than for the rest.
constexpr int n_random = 5000;
constexpr int n_random_slow = 500;

// A number of 200 bits.
class Wide {
 public:
  explicit Wide(double x = 0.0) {
    mpfr_init2(value_, 200);
    mpfr_set_d(value_, x, MPFR_RNDN);
  }
  ~Wide() { mpfr_clear(value_); }
  Wide(const Wide&) = delete;
  Wide& operator=(const Wide&) = delete;
  mpfr_ptr get() { return value_; }

 private:
  mpfr_t value_;
};

// |answer - exact| in units of the last place that a double of the exact answer's size has.
double ulps_off(double answer, Wide& exact) {
  const double rounded = mpfr_get_d(exact.get(), MPFR_RNDN);
  if (std::isinf(rounded) || std::isnan(rounded)) return std::isinf(answer) && answer == rounded ? 0.0 : 1e300;
  const int exponent = std::max(rounded == 0.0 ? -1074 : std::ilogb(rounded) - 52, -1074);
  Wide off(answer);
  mpfr_sub(off.get(), off.get(), exact.get(), MPFR_RNDN);
  mpfr_mul_2si(off.get(), off.get(), -exponent, MPFR_RNDN);
  return std::fabs(mpfr_get_d(off.get(), MPFR_RNDN));
}

double any_double(std::mt19937_64& random) {
  const double x = std::bit_cast<double>(random());
  return std::isfinite(x) ? x : any_double(random);
}

double between(std::mt19937_64& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

// Largest error of `ours` against `reference` (which writes into its first argument) over arguments from `draw`.
template <class Ours, class Reference, class Draw>
double worst_error(Ours ours, Reference reference, Draw draw, int n = n_random) {
  std::mt19937_64 random(20240607);
  double worst = 0.0;
  for (int i = 0; i < n; ++i) {
    const double x = draw(random);
    Wide exact(x);
    reference(exact.get());
    worst = std::max(worst, ulps_off(ours(x), exact));
  }
  return worst;
}

template <int (*function)(mpfr_ptr, mpfr_srcptr, mpfr_rnd_t)>
void in_place(mpfr_ptr x) {
  function(x, x, MPFR_RNDN);
}

TEST(ElementaryAgainstMpfr, exp_within_stated_error) {
  const auto near = [](auto& random) { return between(random, -708.0, 709.78); };
  const auto small = [](auto& random) { return between(random, -1.0, 1.0); };
  const auto subnormal = [](auto& random) { return between(random, -746.0, -708.0); };
  EXPECT_LT(worst_error(exp, in_place<mpfr_exp>, near), 0.6);
  EXPECT_LT(worst_error(exp, in_place<mpfr_exp>, small), 0.6);
  EXPECT_LE(worst_error(exp, in_place<mpfr_exp>, subnormal), 1.0);
}

TEST(ElementaryAgainstMpfr, expm1_within_stated_error) {
  const auto wide = [](auto& random) { return between(random, -45.0, 709.78); };
  const auto middle = [](auto& random) { return between(random, -2.0, 2.0); };
  const auto tiny = [](auto& random) {
    return std::ldexp(between(random, -1.0, 1.0), -static_cast<int>(random() % 60));
  };
  EXPECT_LT(worst_error(expm1, in_place<mpfr_expm1>, wide), 1.0);
  EXPECT_LT(worst_error(expm1, in_place<mpfr_expm1>, middle), 1.0);
  EXPECT_LT(worst_error(expm1, in_place<mpfr_expm1>, tiny), 1.0);
}

TEST(ElementaryAgainstMpfr, log_within_stated_error) {
  const auto any = [](auto& random) { return std::fabs(any_double(random)); };
  const auto near_one = [](auto& random) {
    return 1.0 + std::ldexp(between(random, -0.5, 1.0), -static_cast<int>(random() % 52));
  };
  EXPECT_LT(worst_error(log, in_place<mpfr_log>, any), 0.51);
  EXPECT_LT(worst_error(log, in_place<mpfr_log>, near_one), 0.51);
}

TEST(ElementaryAgainstMpfr, log1p_within_stated_error) {
  const auto any = [](auto& random) { return std::fabs(any_double(random)); };
  const auto near_zero = [](auto& random) {
    return std::ldexp(between(random, -1.0, 1.0), -static_cast<int>(random() % 70));
  };
  EXPECT_LT(worst_error(log1p, in_place<mpfr_log1p>, any), 0.51);
  EXPECT_LT(worst_error(log1p, in_place<mpfr_log1p>, near_zero), 0.51);
}

// Largest error of pow where the answer is normal and where it is subnormal.
struct PowErrors {
  double normal = 0.0;
  double subnormal = 0.0;
};

template <class Draw>
PowErrors worst_pow_errors(Draw draw) {
  std::mt19937_64 random(7);
  PowErrors worst;
  for (int i = 0; i < n_random; ++i) {
    const auto [x, y] = draw(random);
    Wide exact(x);
    Wide power(y);
    mpfr_pow(exact.get(), exact.get(), power.get(), MPFR_RNDN);
    const double size = std::fabs(mpfr_get_d(exact.get(), MPFR_RNDN));
    double& seen = size < std::numeric_limits<double>::min() ? worst.subnormal : worst.normal;
    seen = std::max(seen, ulps_off(pow(x, y), exact));
  }
  return worst;
}

TEST(ElementaryAgainstMpfr, pow_within_stated_error) {
  using Pair = std::pair<double, double>;
  const auto any_base = [](auto& random) {
    const double x = std::fabs(any_double(random));
    return Pair{x, between(random, -745.0, 710.0) / std::log(x)};
  };
  const auto near_one = [](auto& random) {
    const double x = 1.0 + std::ldexp(between(random, -0.5, 1.0), -static_cast<int>(random() % 50));
    return Pair{x, between(random, -745.0, 710.0) / std::log(x)};
  };
  const auto whole = [](auto& random) {
    return Pair{between(random, -20.0, 20.0), static_cast<double>(static_cast<int>(random() % 400) - 200)};
  };
  for (const PowErrors& worst : {worst_pow_errors(any_base), worst_pow_errors(near_one), worst_pow_errors(whole)}) {
    EXPECT_LT(worst.normal, 0.6);
    EXPECT_LE(worst.subnormal, 1.0);
  }
}

TEST(ElementaryAgainstMpfr, error_function_within_stated_error) {
  const auto middle = [](auto& random) { return between(random, -7.0, 7.0); };
  const auto tiny = [](auto& random) {
    return std::ldexp(between(random, -1.0, 1.0), -static_cast<int>(random() % 60));
  };
  const auto tail = [](auto& random) { return between(random, 0.4, 27.5); };
  EXPECT_LT(worst_error(erf, in_place<mpfr_erf>, middle, n_random_slow), 2.0);
  EXPECT_LT(worst_error(erf, in_place<mpfr_erf>, tiny, n_random_slow), 2.0);
  EXPECT_LT(worst_error(erfc, in_place<mpfr_erfc>, middle, n_random_slow), 3.0);
  EXPECT_LT(worst_error(erfc, in_place<mpfr_erfc>, tiny, n_random_slow), 3.0);
  EXPECT_LT(worst_error(erfc, in_place<mpfr_erfc>, tail, n_random_slow), 3.0);
}

// Phi(x) = erfc(-x / sqrt 2) / 2, at 200 bits.
void exact_normal_cdf(mpfr_ptr x) {
  Wide root(2.0);
  mpfr_sqrt(root.get(), root.get(), MPFR_RNDN);
  mpfr_div(x, x, root.get(), MPFR_RNDN);
  mpfr_neg(x, x, MPFR_RNDN);
  mpfr_erfc(x, x, MPFR_RNDN);
  mpfr_div_2ui(x, x, 1, MPFR_RNDN);
}

void exact_normal_density(mpfr_ptr x) {
  Wide root;
  mpfr_const_pi(root.get(), MPFR_RNDN);
  mpfr_mul_2ui(root.get(), root.get(), 1, MPFR_RNDN);
  mpfr_sqrt(root.get(), root.get(), MPFR_RNDN);
  mpfr_sqr(x, x, MPFR_RNDN);
  mpfr_div_2ui(x, x, 1, MPFR_RNDN);
  mpfr_neg(x, x, MPFR_RNDN);
  mpfr_exp(x, x, MPFR_RNDN);
  mpfr_div(x, x, root.get(), MPFR_RNDN);
}

TEST(ElementaryAgainstMpfr, normal_distribution_within_stated_error) {
  const auto middle = [](auto& random) { return between(random, -3.0, 8.0); };
  const auto tail = [](auto& random) { return between(random, -38.5, -1.0); };
  EXPECT_LT(worst_error(normal_cdf, exact_normal_cdf, middle, n_random_slow), 5.0);
  EXPECT_LT(worst_error(normal_cdf, exact_normal_cdf, tail, n_random_slow), 5.0);
  EXPECT_LT(worst_error(normal_density, exact_normal_density, middle, n_random_slow), 2.0);
  EXPECT_LT(worst_error(normal_density, exact_normal_density, tail, n_random_slow), 2.0);
}

// Newton at 200 bits from our own answer: if that is within 1e-8, two steps reach the limit of 200 bits.
void exact_normal_quantile(mpfr_ptr p) {
  Wide x(normal_quantile(mpfr_get_d(p, MPFR_RNDN)));
  for (int i = 0; i < 3; ++i) {
    Wide excess;
    Wide density;
    mpfr_set(excess.get(), x.get(), MPFR_RNDN);
    mpfr_set(density.get(), x.get(), MPFR_RNDN);
    exact_normal_cdf(excess.get());
    exact_normal_density(density.get());
    mpfr_sub(excess.get(), excess.get(), p, MPFR_RNDN);
    mpfr_div(excess.get(), excess.get(), density.get(), MPFR_RNDN);
    mpfr_sub(x.get(), x.get(), excess.get(), MPFR_RNDN);
  }
  mpfr_set(p, x.get(), MPFR_RNDN);
}

TEST(ElementaryAgainstMpfr, normal_quantile_within_stated_error) {
  const auto any = [](auto& random) { return between(random, 0.0, 1.0); };
  const auto tail = [](auto& random) {
    return std::ldexp(between(random, 0.5, 1.0), -static_cast<int>(random() % 1000));
  };
  const auto near_half = [](auto& random) {
    return 0.5 + std::ldexp(between(random, -1.0, 1.0), -2 - static_cast<int>(random() % 50));
  };
  EXPECT_LT(worst_error(normal_quantile, exact_normal_quantile, any, n_random_slow), 4.0);
  EXPECT_LT(worst_error(normal_quantile, exact_normal_quantile, tail, n_random_slow), 4.0);
  EXPECT_LT(worst_error(normal_quantile, exact_normal_quantile, near_half, n_random_slow), 4.0);
}

}  // namespace
}  // namespace stanch::elementary

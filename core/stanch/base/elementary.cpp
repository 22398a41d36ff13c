// Exponential, logarithm and power; the error function and the normal distribution are in error_function.cpp.
// Each works on a small argument by a Taylor series whose first terms are carried in double-double, after taking out
// whole powers of two.
#include "stanch/base/elementary.hpp"

#include <bit>
#include <cstdint>
#include <limits>

#include "stanch/base/double_double.hpp"
#include "stanch/base/elementary_steps.hpp"

namespace stanch::elementary {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

// ln 2 in three parts. The first has 33 bits, so that a whole number below 2^20 times it is exact.
constexpr double ln2_high = 0x1.62e42ff000000p-1;
constexpr double ln2_mid = -0x1.718432a1b0e26p-35;
constexpr double ln2_low = -0x1.9ff0342542fc3p-90;
constexpr double log2_e = 0x1.71547652b82fep+0;

double magnitude(double x) {
  return std::bit_cast<double>(std::bit_cast<std::uint64_t>(x) & ~(std::uint64_t{1} << 63));
}

bool is_negative(double x) { return (std::bit_cast<std::uint64_t>(x) >> 63) != 0; }

// 2^k for -1022 <= k <= 1023.
double power_of_two(int k) { return std::bit_cast<double>(static_cast<std::uint64_t>(k + 1023) << 52); }

// x times 2^k for any k; two steps, because 2^k alone may not be a double.
double scaled(double x, int k) {
  const int half = k / 2;
  return x * power_of_two(half) * power_of_two(k - half);
}

// Nearest whole number for |x| < 2^51: adding 1.5 * 2^52 leaves no bits for a fraction.
double nearest_whole(double x) {
  constexpr double shift = 6755399441055744.0;
  return (x + shift) - shift;
}

// x = k ln 2 + remainder, |remainder| <= ln 2 / 2.
struct Reduced {
  int k;
  DoubleDouble remainder;
};

Reduced without_powers_of_two(DoubleDouble x) {
  const double k = nearest_whole(x.hi * log2_e);
  const DoubleDouble high = two_sum(x.hi, -k * ln2_high);
  return {static_cast<int>(k), quick_two_sum(high.hi, high.lo + (x.lo - k * ln2_mid))};
}

// e^r - 1 - r for |r| <= 0.35: r^2/2! + r^3/3! + ... + r^14/14!; the rest is below 1e-19.
double exp_tail(DoubleDouble r) {
  constexpr double inverse_factorials[] = {
      1.0 / 87178291200.0, 1.0 / 6227020800.0, 1.0 / 479001600.0, 1.0 / 39916800.0, 1.0 / 3628800.0,
      1.0 / 362880.0,      1.0 / 40320.0,      1.0 / 5040.0,      1.0 / 720.0,      1.0 / 120.0,
      1.0 / 24.0,          1.0 / 6.0,          1.0 / 2.0};
  double sum = 0.0;
  for (const double coefficient : inverse_factorials) sum = sum * r.hi + coefficient;
  return r.lo * r.hi + r.hi * r.hi * sum;
}

// log(x.hi + x.lo) to about 70 bits, for positive finite x.hi.
// With m = 1 + f in [sqrt(1/2), sqrt(2)] and s = f / (2 + f): log m = 2 (s + s^3/3 + s^5/5 + ...), s^2 <= 0.0295.
DoubleDouble log_of(DoubleDouble x) {
  int k = 0;
  if (x.hi < std::numeric_limits<double>::min()) {
    x.hi *= 0x1p54;  // exact; a subnormal comes without a low part
    k = -54;
  }
  const std::uint64_t bits = std::bit_cast<std::uint64_t>(x.hi);
  int exponent = static_cast<int>(bits >> 52) - 1023;
  double m = std::bit_cast<double>((bits & 0x000fffffffffffff) | 0x3ff0000000000000);
  if (m > 0x1.6a09e667f3bcdp+0) {
    m *= 0.5;
    ++exponent;
  }
  k += exponent;
  const DoubleDouble f = two_sum(m - 1.0, scaled(x.lo, -exponent));
  const DoubleDouble s = divide(f, add(two_sum(2.0, f.hi), {f.lo, 0.0}));
  const DoubleDouble z = multiply(s, s);
  double tail = 0.0;
  for (int odd = 27; odd >= 7; odd -= 2) tail = tail * z.hi + 1.0 / odd;
  constexpr DoubleDouble third{0x1.5555555555555p-2, 0x1.5555555555555p-56};
  constexpr DoubleDouble fifth{0x1.999999999999ap-3, -0x1.999999999999ap-57};
  const DoubleDouble head = multiply(z, add(third, multiply(z, fifth)));
  const DoubleDouble series = add(head, {z.hi * z.hi * z.hi * tail, 0.0});
  const DoubleDouble twice_s{2.0 * s.hi, 2.0 * s.lo};
  const DoubleDouble log_m = add(twice_s, multiply(twice_s, series));
  const DoubleDouble whole = add({k * ln2_high, 0.0}, two_sum(k * ln2_mid, k * ln2_low));
  const DoubleDouble mid_error{two_product(k, ln2_mid).lo, 0.0};
  return add(add(whole, mid_error), log_m);
}

enum class Whole { no, even, odd };

// Whether y is a whole number, and which; every double of 2^53 or more is even.
Whole whole_kind(double y) {
  const double size = magnitude(y);
  if (size >= 0x1p53) return Whole::even;
  const auto integer = static_cast<std::int64_t>(size);
  if (static_cast<double>(integer) != size) return Whole::no;
  return (integer & 1) != 0 ? Whole::odd : Whole::even;
}

// x^y where x is 0 or infinite, or y is infinite; x is taken without its sign.
double pow_at_the_ends(double size_x, double y) {
  if (magnitude(y) == infinity) {
    if (size_x == 1.0) return 1.0;
    return (size_x > 1.0) == (y > 0.0) ? infinity : 0.0;
  }
  return (size_x == 0.0) == (y < 0.0) ? infinity : 0.0;
}

}  // namespace

double exp_of(DoubleDouble x) {
  if (x.hi != x.hi) return x.hi;
  if (x.hi > 709.79) return infinity;
  if (x.hi < -745.2) return 0.0;
  const Reduced reduced = without_powers_of_two(x);
  const DoubleDouble& r = reduced.remainder;
  const DoubleDouble head = quick_two_sum(1.0, r.hi);
  return scaled(head.hi + (head.lo + (r.lo + exp_tail(r))), reduced.k);
}

double exp(double x) { return exp_of({x, 0.0}); }

double expm1(double x) {
  if (x != x || magnitude(x) < 0x1p-54) return x;
  if (x > 40.0) return exp(x);  // the 1 is below half an ulp of e^40
  if (x < -40.0) return -1.0;
  const Reduced reduced = without_powers_of_two({x, 0.0});
  const DoubleDouble& r = reduced.remainder;
  const DoubleDouble less_one = quick_two_sum(r.hi, r.lo + exp_tail(r));
  const double power = power_of_two(reduced.k);
  const DoubleDouble base = two_sum(power, -1.0);
  const DoubleDouble sum = two_sum(base.hi, power * less_one.hi);
  return sum.hi + (sum.lo + (base.lo + power * less_one.lo));
}

double log(double x) {
  if (x != x) return x;
  if (x == 0.0) return -infinity;
  if (x < 0.0) return not_a_number;
  if (x == infinity) return infinity;
  return log_of({x, 0.0}).hi;
}

double log1p(double x) {
  if (x != x || magnitude(x) < 0x1p-54 || x == infinity) return x;
  if (x == -1.0) return -infinity;
  if (x < -1.0) return not_a_number;
  return log_of(two_sum(1.0, x)).hi;
}

double pow(double x, double y) {
  if (y == 0.0 || x == 1.0) return 1.0;
  if (x != x || y != y) return not_a_number;
  const double size = magnitude(x);
  const Whole kind = whole_kind(y);
  const double sign = is_negative(x) && kind == Whole::odd ? -1.0 : 1.0;
  if (size == 0.0 || size == infinity || magnitude(y) == infinity) return sign * pow_at_the_ends(size, y);
  if (x < 0.0 && kind == Whole::no) return not_a_number;
  // |log x| is at least 2^-53 unless x is 1, so that beyond 2^64 any y gives 0 or infinity: clamping keeps the exact
  // product below within range.
  const double bounded_y = y > 0x1p65 ? 0x1p65 : (y < -0x1p65 ? -0x1p65 : y);
  if (size == 1.0) return sign;
  return sign * exp_of(multiply(log_of({size, 0.0}), {bounded_y, 0.0}));
}

}  // namespace stanch::elementary

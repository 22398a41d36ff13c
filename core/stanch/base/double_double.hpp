// Unevaluated sums of two doubles, about 106 bits, from + - * / only. The elementary functions carry their inner steps
// in this form so that the last rounding is nearly the only one. No fused multiply-add is used: not every host has one,
// and the answers must have the same bits everywhere.
//
// Source: Dekker, Numerische Mathematik 18 (1971) 224-242; Knuth, The Art of Computer Programming vol. 2, 4.2.2
// (both from memory).
#pragma once

namespace stanch::elementary {

/// The real number hi + lo, with lo at most half a unit in the last place of hi.
struct DoubleDouble {
  double hi = 0.0;
  double lo = 0.0;
};

/// a + b exactly.
constexpr DoubleDouble two_sum(double a, double b) {
  const double sum = a + b;
  const double b_seen = sum - a;
  return {sum, (a - (sum - b_seen)) + (b - b_seen)};
}

/// a + b exactly; needs |a| >= |b| or a == 0.
constexpr DoubleDouble quick_two_sum(double a, double b) {
  const double sum = a + b;
  return {sum, b - (sum - a)};
}

/// a * b exactly, for |a|, |b| below 1e290 (the split multiplies by 2^27 + 1) and no underflow.
constexpr DoubleDouble two_product(double a, double b) {
  constexpr double splitter = 134217729.0;  // 2^27 + 1
  const double a_wide = splitter * a;
  const double a_high = a_wide - (a_wide - a);
  const double a_low = a - a_high;
  const double b_wide = splitter * b;
  const double b_high = b_wide - (b_wide - b);
  const double b_low = b - b_high;
  const double product = a * b;
  return {product, ((a_high * b_high - product) + a_high * b_low + a_low * b_high) + a_low * b_low};
}

constexpr DoubleDouble add(DoubleDouble a, DoubleDouble b) {
  const DoubleDouble high = two_sum(a.hi, b.hi);
  const DoubleDouble low = two_sum(a.lo, b.lo);
  const DoubleDouble mid = quick_two_sum(high.hi, high.lo + low.hi);
  return quick_two_sum(mid.hi, mid.lo + low.lo);
}

constexpr DoubleDouble multiply(DoubleDouble a, DoubleDouble b) {
  const DoubleDouble product = two_product(a.hi, b.hi);
  return quick_two_sum(product.hi, product.lo + (a.hi * b.lo + a.lo * b.hi));
}

constexpr DoubleDouble divide(DoubleDouble a, DoubleDouble b) {
  const double first = a.hi / b.hi;
  const DoubleDouble taken = multiply(b, {first, 0.0});
  const DoubleDouble left = add(a, {-taken.hi, -taken.lo});
  return quick_two_sum(first, left.hi / b.hi);
}

}  // namespace stanch::elementary

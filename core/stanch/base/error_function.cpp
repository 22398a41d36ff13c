// The error function and the normal distribution of elementary.hpp.
#include <cmath>
#include <iterator>
#include <limits>

#include "stanch/base/double_double.hpp"
#include "stanch/base/elementary.hpp"
#include "stanch/base/elementary_steps.hpp"

namespace stanch::elementary {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double inverse_sqrt_2 = 0x1.6a09e667f3bcdp-1;
constexpr double sqrt_2_pi = 0x1.40d931ff62706p+1;
constexpr double inverse_sqrt_2_pi = 0x1.9884533d43651p-2;

// Below this, erf is summed directly; from here on, erfc is.
constexpr double series_end = 0.5;

// Chebyshev coefficients of (1 + 2x) exp(x^2) erfc(x) in t = (x - 3.75) / (x + 3.75), 0 <= x < infinity.
// Computed to 45 digits at 200 Chebyshev points; tests/reference/error_function_series.py computes them again.
constexpr double series[] = {2.355157869134803508161,       -0.004590054580646477330853,  -0.08424913336651791558351,
                             0.05920993999819189049808,     -0.02665866843530575227739,   0.009074997670705265093879,
                             -0.002413163540417608190943,   0.0004907758365258086322859,  -0.00006916973302501206367096,
                             0.000004139027986073010167534, 7.740383066198490668633e-7,   -2.188640104923439566149e-7,
                             1.076499946567091037714e-8,    4.521959811218286897931e-9,   -7.754400208831351106474e-10,
                             -6.318088340886684494385e-11,  2.868795010930669898142e-11,  1.945586854577734722953e-13,
                             -9.654696748433438905851e-13,  3.252548148148739841542e-14,  3.347811948286805387827e-14,
                             -1.864562880419313101544e-15,  -1.250795053068864708532e-15, 7.418235256624043463048e-17,
                             5.068148904796111316807e-17,   -2.237056659435999597369e-18, -2.187342944303017664995e-18};

// exp(x^2) erfc(x) for x >= 0, by Clenshaw's recurrence.
double scaled_erfc(double x) {
  const double t = (x - 3.75) / (x + 3.75);
  double next = 0.0;
  double after_next = 0.0;
  for (std::size_t i = std::size(series) - 1; i > 0; --i) {
    const double now = 2.0 * t * next - after_next + series[i];
    after_next = next;
    next = now;
  }
  return (0.5 * series[0] + (t * next - after_next)) / (1.0 + 2.0 * x);
}

// exp(-scale x^2), scale a power of two; the square is exact, because in the tail its rounding would be seen.
double exp_of_minus_square(double x, double scale) {
  const DoubleDouble square = two_product(x, x);
  return exp_of({-scale * square.hi, -scale * square.lo});
}

// 2/sqrt(pi) (x - x^3/3 + x^5/10 - x^7/42 + ...), |x| <= 0.5: term n is x^(2n+1) / (n! (2n+1)). Written as x plus a
// correction, so that only the last addition rounds at full size.
double erf_near_zero(double x) {
  constexpr double two_over_sqrt_pi = 0x1.20dd750429b6dp+0;
  constexpr double excess = 0x1.06eba8214db69p-3;  // 2/sqrt(pi) - 1
  constexpr double inverse_terms[] = {1.0 / (479001600.0 * 25.0), -1.0 / (39916800.0 * 23.0), 1.0 / (3628800.0 * 21.0),
                                      -1.0 / (362880.0 * 19.0),   1.0 / (40320.0 * 17.0),     -1.0 / (5040.0 * 15.0),
                                      1.0 / (720.0 * 13.0),       -1.0 / (120.0 * 11.0),      1.0 / (24.0 * 9.0),
                                      -1.0 / (6.0 * 7.0),         1.0 / (2.0 * 5.0),          -1.0 / 3.0};
  const double square = x * x;
  double sum = 0.0;
  for (const double coefficient : inverse_terms) sum = sum * square + coefficient;
  return x + x * (excess + two_over_sqrt_pi * square * sum);
}

double erfc_beyond_series(double x) {
  if (x > 27.3) return 0.0;
  return exp_of_minus_square(x, 1.0) * scaled_erfc(x);
}

// Start within 1e-3 for 0 < p <= 0.5. Abramowitz and Stegun 26.2.23.
double tail_quantile_start(double p) {
  const double t = std::sqrt(-2.0 * log(p));
  const double above = 2.515517 + t * (0.802853 + t * 0.010328);
  const double below = 1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  return above / below - t;
}

// One Halley step on the standard normal distribution: `excess` is how far the distribution function at x is too high.
double halley(double x, double excess) {
  const double step = excess / normal_density(x);
  return x - step / (1.0 + 0.5 * x * step);
}

double quantile_below_quarter(double p) {
  double x = tail_quantile_start(p);
  for (int i = 0; i < 2; ++i) x = halley(x, normal_cdf(x) - p);
  return x;
}

// From the middle, q = p - 1/2 is exact; working on it keeps a small answer's digits.
double quantile_from_middle(double q) {
  const double z = sqrt_2_pi * q;
  const double square = z * z;
  double x = z * (1.0 + square * (1.0 / 6.0 + square * (7.0 / 120.0 + square * (127.0 / 5040.0))));
  for (int i = 0; i < 2; ++i) x = halley(x, 0.5 * erf(x * inverse_sqrt_2) - q);
  return x;
}

}  // namespace

double erf(double x) {
  if (x != x) return x;
  if (x < 0.0) return -erf(-x);
  if (x < series_end) return erf_near_zero(x);
  return 1.0 - erfc_beyond_series(x);
}

double erfc(double x) {
  if (x != x) return x;
  if (x < series_end) return x < -series_end ? 2.0 - erfc_beyond_series(-x) : 1.0 - erf_near_zero(x);
  return erfc_beyond_series(x);
}

double normal_density(double x) {
  if (x != x) return x;
  if (x > 40.0 || x < -40.0) return 0.0;
  return inverse_sqrt_2_pi * exp_of_minus_square(x, 0.5);
}

double normal_cdf(double x) {
  if (x != x) return x;
  if (x > 40.0) return 1.0;
  if (x < -40.0) return 0.0;
  const double size = x < 0.0 ? -x : x;
  const double scaled_size = size * inverse_sqrt_2;
  if (scaled_size < series_end) return 0.5 + 0.5 * erf_near_zero(x * inverse_sqrt_2);
  const double tail = 0.5 * (exp_of_minus_square(size, 0.5) * scaled_erfc(scaled_size));
  return x < 0.0 ? tail : 1.0 - tail;
}

double normal_quantile(double p) {
  if (p != p || p < 0.0 || p > 1.0) return not_a_number;
  if (p == 0.0) return -infinity;
  if (p == 1.0) return infinity;
  if (p < 0.25) return quantile_below_quarter(p);
  if (p > 0.75) return -quantile_below_quarter(1.0 - p);
  return quantile_from_middle(p - 0.5);
}

}  // namespace stanch::elementary

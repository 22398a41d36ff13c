// Exponential, logarithm, power, error function and normal distribution, built from + - * /, square root and bit
// operations only, so that a phone, a server and a command line give the same bits. The C library's versions differ
// between systems and even between processors, and are not to be called in the core.
//
// Errors below are in units in the last place (ulp) of the exact answer, 2^-52 relative at most; each is asserted
// against MPFR in elementary_mpfr_test.cpp. Not-a-number in gives not-a-number out.
#pragma once

namespace stanch::elementary {

/// e^x, within 0.6 ulp (1.0 ulp when the answer is below 2.3e-308). Overflow gives infinity, underflow 0.
[[nodiscard]] double exp(double x);

/// e^x - 1 without cancellation near 0, within 1 ulp.
[[nodiscard]] double expm1(double x);

/// Natural logarithm, within 0.51 ulp. 0 gives -infinity, a negative argument not-a-number.
[[nodiscard]] double log(double x);

/// log(1 + x) without cancellation near 0, within 0.51 ulp. -1 gives -infinity, below it not-a-number.
[[nodiscard]] double log1p(double x);

/// x^y, within 0.6 ulp (1.0 ulp when the answer is below 2.3e-308). Zeros, infinities and negative x as in
/// IEEE 754-2019 9.2 (a negative x needs a whole y, else not-a-number; x^0 and 1^y are 1 whatever the other is).
[[nodiscard]] double pow(double x, double y);

/// Error function, 2/sqrt(pi) times the integral of exp(-t^2) from 0 to x, within 2 ulp.
[[nodiscard]] double erf(double x);

/// 1 - erf(x) without cancellation for large x, within 3 ulp.
/// Source: Shepherd and Laframboise, Mathematics of Computation 36 (1981) 249-253 (form of the series; the
/// coefficients were computed anew to 22 digits).
[[nodiscard]] double erfc(double x);

/// Probability that a standard normal variable is below x, within 5 ulp, also far in the lower tail.
[[nodiscard]] double normal_cdf(double x);

/// Density of the standard normal distribution at x, within 2 ulp.
[[nodiscard]] double normal_density(double x);

/// The x at which normal_cdf(x) = p, within 4 ulp for p of 1e-300 or more. 0 and 1 give -infinity and infinity, outside
/// them not-a-number. Source: start from Abramowitz and Stegun 26.2.23 (from memory), then two Halley steps.
[[nodiscard]] double normal_quantile(double p);

}  // namespace stanch::elementary

#!/usr/bin/python3
"""Recomputes, by SciPy and by other methods than the core's, the figures that these tests compare with:
core/stanch/care/trend_test.cpp, opening_alarm_odds_test.cpp and core/stanch/review/indicators_test.cpp.

Run with the system's Python, which needs python3-scipy: tests/reference/judging_a_series.py
Exit code 0 when all figures agree, 1 when one does not, 77 when SciPy is missing.
"""
import sys

try:
    import numpy as np
    from scipy import integrate, stats
except ImportError:
    print("judging_a_series: skipped, python3-scipy is not installed")
    sys.exit(77)

FALL, GREY_FROM, GREY_TO = 20.0, 12.0, 30.0
phi, Phi = stats.norm.pdf, stats.norm.cdf
results = []


def check(what, found, expected, tolerance):
    good = abs(found - expected) <= tolerance
    results.append(good)
    if not good:
        print(f"{what}: {found!r}, the tests have {expected!r}")


def median3(z):
    return 6 * phi(z) * Phi(z) * Phi(-z)


def averaged(density, alarm):
    return integrate.quad(lambda z: density(z) * alarm(z), -9, 9, epsabs=1e-12, limit=200)[0]


def below(limit, sd, change):
    """Probability that one reading is lower than a baseline of error z by the limit or more, as a function of z."""
    return lambda z: Phi(z - (limit + change) / sd)


def mean_of_two(sd, change):
    def alarm(z):
        low, high = z - (GREY_TO + change) / sd, z - (GREY_FROM + change) / sd
        target = 2 * (z - (FALL + change) / sd)
        return Phi(low) + integrate.quad(lambda e: phi(e) * Phi(target - e), low, high, epsabs=1e-12)[0]

    return averaged(median3, alarm)


def repeat(sd, change):
    one, grey = below(FALL, sd, change), below(GREY_FROM, sd, change)
    return averaged(median3, lambda z: one(z) + (grey(z) - one(z)) * one(z))


def simulated_repeat(sd, change, n=2_000_000):
    random = np.random.default_rng(20240607)
    base = np.median(random.normal(0, sd, (n, 3)), axis=1)
    first = base - random.normal(change, sd, n)
    second = base - random.normal(change, sd, n)
    return np.mean((first >= FALL) | ((first >= GREY_FROM) & (second >= FALL)))


def check_odds():
    check("one reading, last baseline", Phi(-20 / (8 * np.sqrt(2))), 0.0385499, 1e-7)
    check("one reading, median baseline, no change", averaged(median3, below(FALL, 8, 0)), 0.018915, 1e-6)
    check("one reading, median baseline, -25", averaged(median3, below(FALL, 8, -25)), 0.698285, 1e-6)
    both = below(FALL, 8, -25)
    check("both of two, median baseline", averaged(median3, lambda z: both(z) ** 2), 0.527177, 1e-6)
    check("mean of two", mean_of_two(8, -25), 0.73324, 1e-5)
    check("repeat, no change", repeat(6.5, 0), 0.00643, 1e-5)
    check("repeat, -25", repeat(6.5, -25), 0.87259, 1e-5)
    check("repeat, -25, simulated", simulated_repeat(6.5, -25), 0.87259, 1e-3)  # four SDs of the simulation
    check("variance of a median of three", averaged(median3, lambda z: z * z), 0.4486711, 1e-7)
    passed = integrate.quad(lambda z: phi(z) * Phi(z - 20 / 8), -5 / 8, 9, epsabs=1e-12)[0] / Phi(5 / 8)
    check("after passing", passed, 0.0524, 0.5e-4)
    check("strength of a fall", Phi((-20 + 17) / (6.5 * np.sqrt(1 - np.sqrt(3) / np.pi + 0.5))), 0.317800, 1e-6)


AT = np.array([0, 5, 12, 20, 31, 45, 60.0])
INDEX = np.array([98, 102, 101, 108, 112, 118, 121]) / np.array([112, 108, 110, 104, 103, 98, 96])


def check_slopes():
    sen = stats.theilslopes([9, 15, 19, 20, 45, 55, 78], [1, 2, 3, 4, 10, 12, 18], 0.93)
    for found, expected in zip((sen[0], sen[2], sen[3]), (4, 26 / 7, 35 / 8)):
        check("Sen's example", found, expected, 1e-9)
    slope = stats.theilslopes(INDEX, AT / 60, 0.95)
    for found, expected in zip((slope[0], slope[2], slope[3]), (0.3894558, 0.266821, 0.519818)):
        check("slope per hour", found, expected, 1e-6)
    check("tau", stats.kendalltau(AT, INDEX)[0], 0.904762, 1e-6)
    times, values = [0, 0, 1, 2, 3, 3, 5], [1, 2, 2, 5, 4, 6, 6]
    ties = stats.theilslopes(values, times, 0.9)
    for found, expected in zip((ties[0], ties[2], ties[3]), (1, 1 / 3, 5 / 3)):
        check("slope with ties", found, expected, 1e-9)
    check("tau with ties", stats.kendalltau(times, values)[0], 15 / 19, 1e-9)
    times = [0, 3, 6, 6, 9, 12, 15, 15, 18, 21, 24, 27, 30, 33, 33, 36, 39, 42, 45, 48]
    values = [96, 98, 98, 97, 101, 99, 104, 102, 104, 104, 108, 103, 109, 112, 108, 111, 110, 116, 113, 112]
    intervals = {0.5: (4 / 11, 5 / 12), 0.8: (1 / 3, 4 / 9), 0.95: (1 / 3, 7 / 15), 0.99: (8 / 27, 0.5)}
    for confidence, (low, high) in intervals.items():
        long = stats.theilslopes(values, times, confidence)
        for found, expected in zip((long[0], long[2], long[3]), (13 / 33, low, high)):
            check(f"slope of a long series at {confidence}", found, expected, 1e-12)
    check("tau of a long series", stats.kendalltau(times, values)[0], 0.8356068343896424, 1e-12)
    three = stats.theilslopes([100, 108, 109], [0, 10, 25], 0.999)
    for found, expected in zip((three[0], three[2], three[3]), (0.36, 1 / 15, 0.8)):
        check("slope of three readings", found, expected, 1e-12)


def check_filter(drift=1e-7, reading_sd=0.077):
    """No recursion: the joint normal distribution of all readings and of the last level and slope."""
    last = AT[-1]

    def level_covariance(s, t):
        early, late = min(s, t), max(s, t)
        return 0.09 + 1e-4 * s * t + drift * early * early * (3 * late - early) / 6

    def with_slope(t):  # of the level at t and the slope at the end
        return 1e-4 * t + drift * t * t / 2

    among = np.array([[level_covariance(s, t) for t in AT] for s in AT]) + reading_sd**2 * np.eye(len(AT))
    across = np.array([[level_covariance(last, t) for t in AT], [with_slope(t) for t in AT]])
    own = np.array([[level_covariance(last, last), with_slope(last)], [with_slope(last), 1e-4 + drift * last]])
    gain = across @ np.linalg.inv(among)
    level, slope = np.array([0.9, 0]) + gain @ (INDEX - 0.9)
    level_sd, slope_sd = np.sqrt(np.diag(own - gain @ across.T))
    check("level", level, 1.27395884, 1e-7)
    check("slope", slope, 0.00640773, 1e-7)
    check("SD of the level", level_sd, 0.0590708, 1e-7)
    check("SD of the slope", slope_sd, 0.0020237, 1e-7)
    check("log-likelihood", stats.multivariate_normal(np.full(len(AT), 0.9), among).logpdf(INDEX), 6.59757259, 1e-7)


def main():
    check_odds()
    check_slopes()
    check_filter()
    for found, expected in zip(np.quantile([34, 3, 21, 5, 13, 8], [0.25, 0.75]), (5.75, 19)):
        check("quartile", found, expected, 1e-12)
    print(f"judging_a_series: {sum(results)} passed, {len(results) - sum(results)} failed")
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())

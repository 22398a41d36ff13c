#!/usr/bin/python3
"""Recomputes, by SciPy, figures that the tests in core/stanch/referral compare with.

Run with the system's Python, which needs python3-scipy: tests/reference/where_to_send.py
Exit code 0 when all figures agree, 1 when one does not, 77 when SciPy is missing.
"""
import math
import sys

try:
    import numpy as np
    from scipy import integrate, stats
except ImportError:
    print("where_to_send: skipped, python3-scipy is not installed")
    sys.exit(77)

CRITICAL = (30, 60, 120, math.inf)
results = []


def check(what, found, expected, tolerance):
    good = abs(found - expected) <= tolerance
    results.append(good)
    if not good:
        print(f"{what}: {found!r}, the tests have {expected!r}")


def law(median, sigma):
    return stats.lognorm(sigma, scale=median)


def arrives(prepare, travel, critical=CRITICAL):
    return np.mean([travel.cdf(max(0, c - prepare)) for c in critical])


def both(travel, care, minutes):
    """Travel and care within so many minutes, by adaptive quadrature over the time travelled."""
    if minutes <= 0:
        return 0.0
    return integrate.quad(lambda t: travel.pdf(t) * care.cdf(minutes - t), 0, minutes, epsabs=1e-11, limit=300)[0]


def stop_over(prepare, first, stop, blood, gain, second, care, within):
    def after(took, critical):
        return both(second, care, min(critical, within) - prepare - took - stop)

    def one(critical):
        there = min(critical, within) - prepare
        value = lambda t: first.pdf(t) * (blood * after(t, critical + gain) + (1 - blood) * after(t, critical))
        return integrate.quad(value, 1e-9, there, epsabs=1e-8, limit=100)[0]

    return np.mean([one(c) for c in CRITICAL])


def main():
    to_a, to_b, care = law(40, 0.3), law(75, 0.25), law(30, 0.5)
    check("A", arrives(10, to_a), 0.6953905568, 1e-9)
    check("B", arrives(10, to_b), 0.4974129096, 1e-9)
    check("A, half an hour late", arrives(40, to_a), 0.5, 1e-12)
    for within, expected in ((150, 0.3485752519), (240, 0.3822936515)):
        check(f"care at B within {within}", np.mean([both(to_b, care, min(c, within) - 10) for c in CRITICAL]), expected, 1e-6)
    check("stop-over", stop_over(10, to_a, 15, 0.8, 45, law(45, 0.25), care, 240), 0.4162864, 1e-5)
    for cut, expected in ((0.5, 0.7328341), (0.2, 0.5627), (0.35, 0.6486), (0.7, 0.8922)):
        wrapped = [5 + (c - 5) / (1 - cut) for c in CRITICAL]
        check(f"garment {cut}", arrives(10, to_b, wrapped), expected, 1e-7 if cut == 0.5 else 5e-5)
    stays = math.exp(-24 / 48)
    for counted, wanted, expected in ((6, 2, 0.9619683), (6, 4, 0.5578600), (5000, 3000, 0.8314309058)):
        check(f"units {wanted} of {counted}", stats.binom.sf(wanted - 1, counted, stays), expected, 1e-7)
    check("sigma from words", math.log(60 / 40) / stats.norm.ppf(0.9), 0.3163861, 1e-7)
    print(f"where_to_send: {sum(results)} passed, {len(results) - sum(results)} failed")
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())

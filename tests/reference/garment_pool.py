#!/usr/bin/python3
"""Recomputes, by SciPy and by other methods than the core's, figures that the tests in core/stanch/planning compare with.

Run with the system's Python, which needs python3-scipy: tests/reference/garment_pool.py
Exit code 0 when all figures agree, 1 when one does not, 77 when SciPy is missing.
"""
import itertools
import sys

try:
    import numpy as np
    from scipy import integrate, stats
except ImportError:
    print("garment_pool: skipped, python3-scipy is not installed")
    sys.exit(77)

MONTH = 365.25 / 12
QUANTILES = (0.1806124924415, 1.1722617041117, 0.1600607841956)
results = []


def check(what, found, expected, tolerance):
    good = abs(found - expected) <= tolerance
    results.append(good)
    if not good:
        print(f"{what}: {found!r}, the tests have {expected!r}")


def erlang(garments, load):
    """Truncated Poisson; the core runs a recursion instead."""
    return stats.poisson.pmf(garments, load) / stats.poisson.cdf(garments, load)


def averaged(shape, months, loss):
    """E[rate loss(rate)] / E[rate], rate gamma."""
    rate = stats.gamma(shape, scale=1 / months)
    top = rate.ppf(1 - 1e-15) * 1.5
    points = list(rate.ppf([0.01, 0.5, 0.99]))
    weighted = integrate.quad(lambda x: x * rate.pdf(x) * loss(x), 0, top, points=points, epsabs=1e-13, limit=500)[0]
    return weighted / rate.mean()


def season(mean, swing, days, garments):
    """The exact answer: the equations of the number away, integrated over years until the year repeats itself."""
    year = 12.0
    away = np.arange(garments + 1)

    def slope(t, p):
        rate = mean * (1 + swing * np.cos(2 * np.pi * t / year))
        up, down = rate * p, away * p * MONTH / days
        up[-1] = 0
        return np.append(0, up[:-1]) - up + np.append(down[1:], 0) - down

    start = np.zeros(garments + 1)
    start[0] = 1
    end = integrate.solve_ivp(slope, (0, 2 * year), start, rtol=1e-10, atol=1e-12).y[:, -1]
    run = integrate.solve_ivp(slope, (0, year), end, rtol=1e-10, atol=1e-12, dense_output=True)
    t = np.linspace(0, year, 4001)
    rate = mean * (1 + swing * np.cos(2 * np.pi * t / year))
    return np.trapz(rate * run.sol(t)[-1], t) / np.trapz(rate, t)


def trips(rate, every, ready, garments):
    """The chain's matrix from SciPy's Poisson, its lasting distribution as an eigenvector."""
    early, late = rate * (every - ready) / MONTH, rate * ready / MONTH

    def capped(mean, most):
        p = stats.poisson.pmf(np.arange(most + 1), mean)
        p[most] = stats.poisson.sf(most - 1, mean)
        return p

    chain = np.zeros((garments + 1, garments + 1))
    for out in range(garments + 1):
        for used, p in enumerate(capped(early, garments - out)):
            for after, q in enumerate(capped(late, garments - out - used)):
                chain[out, after] += p * q
    values, vectors = np.linalg.eig(chain.T)
    pi = np.real(vectors[:, np.argmax(np.real(values))])
    pi /= pi.sum()
    served = sum(pi[n] * np.dot(np.arange(garments - n + 1), capped(early + late, garments - n)) for n in range(garments + 1))
    return 1 - served / (early + late)


def owed(distribution, stock):
    x = np.arange(stock + 1, 200)
    return np.sum((x - stock) * distribution.pmf(x))


def negative_binomial(mean, variance):
    p = mean / variance
    return stats.nbinom(mean * p / (1 - p), p)


def spread_of_ten():
    """Every spread of ten garments over the four shelves."""
    rates, days = (0.5, 2, 4, 1), (4, 10, 7, 21)
    return min(
        (sum(r * erlang(s, r * d / MONTH) for r, d, s in zip(rates, days, spread)), spread)
        for spread in itertools.product(range(11), repeat=4)
        if sum(spread) == 10
    )


def closed_network(rates, shares, days, garments):
    """Convolution; the core uses mean-value analysis."""
    g = np.array([np.exp(k * np.log(days / MONTH) - np.sum(np.log(np.arange(1, k + 1)))) for k in range(garments + 1)])
    for rate, share in zip(rates, shares):
        for k in range(1, garments + 1):
            g[k] += share / rate * g[k - 1]
    return g[garments - 1] / g[garments]


def main():
    for garments, load, expected, tolerance in (
        (5, 3, 0.11005434782608696, 1e-13), (10, 5, 0.018384570336648133, 1e-13), (30, 25, 0.052603172228140617, 1e-12),
        (100, 100, 0.075700452710860970, 1e-12), (1000, 1000, 0.024811917646160408, 1e-11)):  # fmt: skip
        check(f"erlang {garments} {load}", erlang(garments, load), expected, tolerance)
    best, spread = spread_of_ten()
    check("best spread of ten", best, 0.25121973626, 1e-10)
    check("its third shelf", spread[2], 4, 0)
    check("drift by use", closed_network((1, 2, 4), (1 / 7, 2 / 7, 4 / 7), 10, 15), 6.05838491375, 1e-10)
    check("drift in thirds", closed_network((1, 2, 4), (1 / 3, 1 / 3, 1 / 3), 10, 10), 2.99412155698, 1e-8)
    two = lambda rate: erlang(2, rate * 10 / MONTH)
    three = lambda rate: erlang(3, rate * 10 / MONTH)
    check("3 women in 6 months", averaged(3.5, 6, two), 0.02641820179, 1e-9)
    check("over-dispersed months", averaged(2, 1, three), 0.071220, 1e-6)
    check("quantile .05", stats.gamma(3.5, scale=1 / 6).ppf(0.05), QUANTILES[0], 1e-9)
    check("quantile .95", stats.gamma(3.5, scale=1 / 6).ppf(0.95), QUANTILES[1], 1e-9)
    check("quantile of none seen", stats.gamma(0.5, scale=1 / 12).ppf(0.95), QUANTILES[2], 1e-9)
    pointwise = integrate.quad(lambda t: (1 + 0.6 * np.cos(t)) * three(2 * (1 + 0.6 * np.cos(t))), 0, np.pi)[0] / np.pi
    check("season, pointwise", pointwise, 0.0403843693, 1e-8)
    check("season, exact", season(2, 0.6, 10, 3), 0.0400168, 1e-6)
    for rate, every, garments, expected in ((1, 14, 2, 0.045261), (1, 30, 4, 0.006197), (4, 7, 5, 0.002990)):
        check(f"trips {rate} {every}", trips(rate, every, 3, garments), expected, 1e-6)
    for stock, expected in enumerate((4, 3.0183, 2.1099, 1.3480, 0.7815, 0.4103, 0.1954)):
        check(f"owed {stock}", owed(stats.poisson(4), stock), expected, 5e-5)
    for stock, expected in ((1, 1.197531), (3, 0.338820)):
        check(f"negative binomial {stock}", owed(negative_binomial(2, 3), stock), expected, 1e-6)
    check("demand that waits", owed(negative_binomial(0.616312, 0.709947), 1), 0.179718, 1e-6)
    for mean, ready, expected in ((0.5, 0, 0.393469), (2, 1, 0.593994), (4, 3, 0.566530)):
        check(f"next shelf {mean}", stats.poisson.sf(ready, mean), expected, 1e-6)
    uses = np.arange(0, 400)
    good = np.exp(-((uses / 70) ** 3))
    cost = (good[1:] + 5 * (1 - good[1:])) / np.cumsum(good[:-1])
    check("replace after", np.argmin(cost) + 1, 35, 0)
    check("cost a use", cost.min(), 0.04323290738, 1e-10)
    print(f"garment_pool: {sum(results)} passed, {len(results) - sum(results)} failed")
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main())

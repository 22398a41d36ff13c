#!/usr/bin/python3
"""Recomputes the Chebyshev coefficients in core/stanch/base/error_function.cpp and compares them.

Run with the system's Python, which needs python3-mpmath: tests/reference/error_function_series.py
Exit code 0 when every coefficient agrees to 20 digits, 1 when one does not, 77 when mpmath is missing.
"""
import pathlib
import re
import sys

try:
    from mpmath import cos, erfc, exp, fabs, mp, mpf, pi, sqrt
except ImportError:
    print("error_function_series: skipped, python3-mpmath is not installed")
    sys.exit(77)

mp.dps = 45
MIDDLE = mpf("3.75")
N_POINTS = 200


def scaled(t):
    """(1 + 2x) exp(x^2) erfc(x) at x = 3.75 (1 + t) / (1 - t)."""
    x = MIDDLE * (1 + t) / (1 - t)
    if x < 200:
        return (1 + 2 * x) * exp(x * x) * erfc(x)
    term = total = mpf(1)
    for n in range(1, 20):
        term *= -(2 * n - 1) / (2 * x * x)
        total += term
    return (1 + 2 * x) * total / (x * sqrt(pi))


def coefficient(j, values):
    return 2 / mpf(N_POINTS) * sum(v * cos(pi * j * (2 * k + 1) / (2 * N_POINTS)) for k, v in enumerate(values))


def main():
    source = pathlib.Path(__file__).parents[2] / "core/stanch/base/error_function.cpp"
    text = re.search(r"double series\[\] = \{(.*?)\};", source.read_text(), re.S).group(1)
    printed = [mpf(number) for number in text.replace("\n", " ").split(",")]
    values = [scaled(cos(pi * (2 * k + 1) / (2 * N_POINTS))) for k in range(N_POINTS)]
    wrong = [j for j, c in enumerate(printed) if fabs(c - coefficient(j, values)) > mpf("1e-20") * max(fabs(c), mpf("1e-15"))]
    for j in wrong:
        print(f"coefficient {j} differs")
    print(f"error_function_series: {len(printed) - len(wrong)} passed, {len(wrong)} failed")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

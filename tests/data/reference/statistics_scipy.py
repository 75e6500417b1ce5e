#!/usr/bin/python3
"""Reference values for the laws and factors, from mpmath (25 digits) and SciPy. Writes statistics-scipy.csv beside itself.

Made with Python 3.11, mpmath 1.2.1, SciPy 1.10.1 (Debian 12: /usr/bin/python3). Run again only to add points.
Columns: function; arguments (separated by spaces); value; relative tolerance of the comparison; oracle.
"""
import csv
import os

import numpy as np
from mpmath import (mp, mpf, quad, exp, log, sqrt, gamma, loggamma, erfc, gammainc, betainc, findroot, inf, pi)
from scipy import stats

mp.dps = 30
rows = []


def add(function, arguments, value, tolerance, oracle):
    rows.append([function, " ".join(repr(a) for a in arguments), mp.nstr(mpf(value), 17), tolerance, oracle])


def phi(x):
    return erfc(-mpf(x) / sqrt(mpf(2))) / 2


# Normal law: both sides of every seam of the approximation.
for x in (-37.0, -12.5, -5.7, -5.6, -3.0, -0.7, -0.6, 0.0, 0.3, 0.67, 0.68, 2.0, 5.65, 5.66, 8.2):
    add("normal-cdf", [x], phi(x), "1e-14", "mpmath erfc")
for x in (-200.0, -40.0, -8.0, -1.0, 1.5, 6.0):
    add("normal-log-cdf", [x], log(phi(x)), "1e-13", "mpmath erfc")

# Chi-square: lower and upper probability, small and large degrees, far tails.
for x, v in ((0.02, 1.0), (3.3, 1.0), (0.5, 9.0), (30.0, 9.0), (150.0, 99.0), (60.0, 99.0), (10400.0, 10000.0), (9400.0, 10000.0)):
    a = mpf(v) / 2
    add("chi-square-cdf", [x, v], gammainc(a, 0, mpf(x) / 2, regularized=True), "1e-12", "mpmath gammainc")
    add("chi-square-survival", [x, v], gammainc(a, mpf(x) / 2, inf, regularized=True), "1e-12", "mpmath gammainc")
for p, v in ((1e-9, 5.0), (0.025, 29.0), (0.5, 1.0), (0.95, 3.0), (0.99, 9999.0)):
    a = mpf(v) / 2
    start = mpf(stats.chi2.ppf(p, v))
    root = findroot(lambda x: gammainc(a, 0, x / 2, regularized=True) - mpf(p), (start * (1 - mpf("1e-6")), start * (1 + mpf("1e-6"))))
    add("chi-square-quantile", [p, v], root, "1e-12", "mpmath root")

# Beta and binomial.
for x, a, b in ((0.01, 0.5, 20.0), (0.3, 2.0, 5.0), (0.999, 40.0, 0.5), (0.0503, 500.0, 9500.0), (0.2, 300.0, 700.0)):
    add("beta-cdf", [x, a, b], betainc(a, b, 0, mpf(x), regularized=True), "1e-12", "mpmath betainc")
for p, a, b in ((0.025, 1.0, 29.0), (0.975, 2.0, 28.0), (0.05, 4.0, 17.0), (1e-6, 3.0, 1000.0), (0.5, 0.5, 0.5)):
    start = mpf(stats.beta.ppf(p, a, b))
    root = findroot(lambda x: betainc(a, b, 0, x, regularized=True) - mpf(p), (start * (1 - mpf("1e-6")), start * (1 + mpf("1e-6"))))
    add("beta-quantile", [p, a, b], root, "1e-12", "mpmath root")
for c, n, p in ((0, 59, 0.05), (3, 7752, 0.001), (40, 100, 0.3), (999, 100000, 0.01)):
    value = sum(mp.binomial(n, k) * mpf(p) ** k * (1 - mpf(p)) ** (n - k) for k in range(c + 1))
    add("binomial-cdf", [c, n, p], value, "1e-11", "mpmath sum")

# Student.
for t, v in ((-2.5, 1.0), (0.4, 3.0), (2.0, 17.0), (-6.0, 200.0)):
    w = mpf(v) / (mpf(v) + mpf(t) ** 2)
    tail = betainc(mpf(v) / 2, mpf(1) / 2, 0, w, regularized=True) / 2
    add("student-cdf", [t, v], tail if t < 0 else 1 - tail, "1e-12", "mpmath betainc")
for p, v in ((0.975, 1.0), (0.975, 9.0), (0.975, 99.0), (0.999, 5.0), (0.6, 30.0), (0.975, 100000.0)):
    def tail_of(t):
        return 1 - betainc(mpf(v) / 2, mpf(1) / 2, 0, mpf(v) / (mpf(v) + t ** 2), regularized=True) / 2
    start = mpf(stats.t.ppf(p, v))
    root = findroot(lambda t: tail_of(t) - mpf(p), (start * (1 - mpf("1e-6")), start * (1 + mpf("1e-6"))))
    add("student-quantile", [p, v], root, "1e-11", "mpmath root")


# Noncentral t by its definition: integral over the scale.
def noncentral(t, v, d, upper=False):
    t, v, d = mpf(t), mpf(v), mpf(d)
    constant = log(2) + v / 2 * log(v / 2) - loggamma(v / 2)

    def f(s):
        z = t * s - d
        return exp(constant + (v - 1) * log(s) - v * s * s / 2) * phi(-z if upper else z) if s > 0 else mpf(0)

    width = 1 / sqrt(2 * v)
    marks = sorted({mpf(0)} | {max(mpf(0), 1 + k * width) for k in (-12, -6, -3, 0, 3, 6, 12)}
                   | ({d / t + k / t for k in (-9, -4, 0, 4, 9) if d / t + k / t > 0} if t > 0 else set())
                   | {1 + 14 * width, mpf(2) + 20 * width})
    return quad(f, marks)


for t, v, d in ((1.0, 1, 0.5), (52.0, 1, 3.3), (12.0, 9, 9.0), (5.0, 9, 9.0), (30.0, 29, 21.9), (45.0, 29, 21.9), (40.0, 99, 39.9),
                (-1.0, 5, 1.0), (0.5, 5, 6.0), (130.0, 999, 126.5)):
    add("noncentral-t-cdf", [t, v, d], noncentral(t, v, d), "1e-11", "mpmath quadrature")
    add("noncentral-t-survival", [t, v, d], noncentral(t, v, d, True), "1e-11", "mpmath quadrature")


def zq(p):
    return findroot(lambda z: phi(z) - mpf(p), mpf(stats.norm.ppf(p)))


# One-sided tolerance factors at sizes outside the published rows.
for n, p, g in ((2, 0.95, 0.95), (3, 0.99, 0.90), (5, 0.90, 0.95), (200, 0.99, 0.95), (1000, 0.999, 0.99)):
    root_n = sqrt(mpf(n))
    d = zq(p) * root_n
    start = mpf(stats.nct.ppf(g, n - 1, float(d)))
    t = findroot(lambda x: noncentral(x, n - 1, d) - mpf(g), (start * (1 - mpf("1e-7")), start * (1 + mpf("1e-7"))), tol=mpf("1e-22"), verify=False)
    add("tolerance-one-sided", [n, p, g], t / root_n, "1e-10", "mpmath quadrature and root")


# Two-sided factors by the double integral.
def two_sided_confidence(k, n, p):
    v = mpf(n - 1)

    def half(m):
        r0 = m + zq(p)
        return findroot(lambda r: phi(m + r) - phi(m - r) - mpf(p), r0)

    def f(z):
        r = half(z / sqrt(mpf(n)))
        return exp(-z * z / 2) / sqrt(2 * pi) * gammainc(v / 2, v * r * r / (2 * k * k), inf, regularized=True)

    return 2 * quad(f, [0, 1, 2, 4, 9])


mp.dps = 20
for n, p, g, k0 in ((2, 0.95, 0.95, 37), (5, 0.90, 0.95, 4.1), (20, 0.95, 0.95, 2.76), (300, 0.99, 0.90, 2.7)):
    k = findroot(lambda x: two_sided_confidence(x, n, p) - mpf(g), (mpf(k0), mpf(k0) * mpf("1.01")), tol=mpf("1e-16"), verify=False)
    add("tolerance-two-sided", [n, p, g], k, "1e-9", "mpmath quadrature and root")
mp.dps = 30

# Ranks of distribution-free intervals of a quantile (0 = none), and a ratio of batch totals.
for n, p, tail in ((2000, 0.99865, 0.025), (5000, 0.00135, 0.025), (100, 0.5, 0.025), (60, 0.9, 0.05)):
    low = int(np.searchsorted(stats.binom.cdf(np.arange(n), n, p), tail, side="right"))
    high = next((u for u in range(1, n + 1) if stats.binom.sf(u - 1, n, p) <= tail), 0)
    add("quantile-rank-lower", [n, p, tail], low, "0", "scipy.stats.binom")
    add("quantile-rank-upper", [n, p, tail], high, "0", "scipy.stats.binom")
values, weights = np.array([0.012, 0.0, 0.031, 0.008, 0.019]), np.array([250.0, 100.0, 300.0, 250.0, 90.0])
mean = (values * weights).sum() / weights.sum()
residual = weights * (values - mean)
error = np.sqrt(5 / 4 * (residual ** 2).sum()) / weights.sum()
add("batch-mean", [0], mean, "1e-13", "numpy")
add("batch-error", [0], error, "1e-13", "numpy")
add("batch-upper", [0], mean + stats.t.ppf(0.975, 4) * error, "1e-10", "numpy, scipy.stats.t")

# Cp by chi-square at another confidence, Clopper-Pearson beyond the rows, generalised Pareto.
add("cp-lower-90", [1.5, 25], 1.5 * sqrt(mpf(stats.chi2.ppf(0.10, 24)) / 24), "1e-9", "scipy.stats.chi2")
add("clopper-upper", [7, 100000], stats.beta.ppf(0.975, 8, 99993), "1e-9", "scipy.stats.beta")
add("clopper-lower", [7, 100000], stats.beta.ppf(0.025, 7, 99994), "1e-9", "scipy.stats.beta")
for xi, beta, y in ((0.2, 1.5, 4.0), (-0.3, 2.0, 5.0), (1e-9, 1.0, 3.0)):
    add("pareto-survival", [xi, beta, y], (1 + mpf(xi) * mpf(y) / mpf(beta)) ** (-1 / mpf(xi)), "1e-13", "mpmath")

# Consumer's risk of a capable process N(0, 1) with one limit, by the double tail.
for limit, u in ((3.0, 0.1), (6.0, 0.2), (7.0, 0.05)):
    value = quad(lambda e: exp(-e * e / 2) / sqrt(2 * pi) * phi((mpf(limit) - e) / mpf(u)), [limit, limit + 2 * u, limit + 12 * u, limit + 5])
    add("consumer-risk", [limit, u], value, "1e-10", "mpmath quadrature")

with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "statistics-scipy.csv"), "w", newline="") as out:
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["function", "arguments", "value", "relative_tolerance", "oracle"])
    writer.writerows(rows)
print(len(rows), "rows")

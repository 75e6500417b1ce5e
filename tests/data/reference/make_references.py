"""Writes elementary.csv (elementary functions to 60 digits, as the nearest double and the rest) and special.csv (gamma and beta functions).

Run: python3 make_references.py   (needs mpmath). The points are fixed: the seed is set.
"""
import csv
import random
from mpmath import mp, mpf, exp, log, sin, cos, pi, sqrt, erfc, expm1, log1p, loggamma, beta

mp.dps = 60
random.seed(20240229)


def cdf(x):
    return erfc(-x / sqrt(mpf(2))) / 2


def quantile(p):
    """Newton from the double-precision tail formula, on log Phi so that deep tails converge."""
    lower = min(p, 1 - p)
    x = -sqrt(-2 * log(lower)) if lower < mpf('0.2') else (lower - mpf(1) / 2) * sqrt(2 * pi)
    for _ in range(60):
        f = cdf(x)
        step = (log(f) - log(lower)) * f / (exp(-x * x / 2) / sqrt(2 * pi))
        x -= step
        if abs(step) < mpf(10) ** -50 * max(1, abs(x)):
            break
    return x if p <= mpf(1) / 2 else -x


def uniform(a, b, n):
    return [random.uniform(a, b) for _ in range(n)]


def decades(a, b, n):
    """n numbers spread evenly in the exponent of ten."""
    return [random.uniform(1, 10) * 10.0 ** random.uniform(a, b) for _ in range(n)]


tables = {
    'exp': (exp, uniform(-1, 1, 150) + uniform(-700, 709, 150) + decades(-20, -1, 30) + [1.0, -1.0, 709.78, -708.39, 0.34657359027997264]),
    'log': (log, uniform(0.5, 2, 150) + decades(-300, 300, 150) + [1 + 2.0 ** -52, 1 - 2.0 ** -53, 5e-324, 1e-310, 1.7976931348623157e308,
                                                                 0.7071067811865475, 0.7071067811865476, 1.4142135623730951]),
    'sin2pi': (lambda u: sin(2 * pi * (u - mp.nint(u))), uniform(0, 1, 200) + decades(-12, -2, 30) + uniform(-40, 40, 40) + [0.125, 0.375, 0.5 - 2.0 ** -50]),
    'cos2pi': (lambda u: cos(2 * pi * (u - mp.nint(u))), uniform(0, 1, 200) + decades(-12, -2, 30) + uniform(-40, 40, 40) + [0.125, 0.375, 0.25 - 2.0 ** -50]),
    'normal_quantile': (quantile, uniform(0, 1, 150) + decades(-300, -2, 100) + [0.075, 0.925, 1.3887943864964021e-11, 1 - 2.0 ** -53, 2.0 ** -54,
                                                                               1 - 1e-12, 1e-310]),
    'normal_cdf': (cdf, uniform(-8, 0, 100) + uniform(-37.5, 0, 100) + uniform(0, 8, 60) + decades(-12, -1, 20)),
    'expm1': (expm1, uniform(-1, 1, 100) + uniform(-40, 100, 60) + decades(-18, -1, 40) + [-x for x in decades(-18, -1, 20)]),
    'log1p': (log1p, uniform(-0.9, 1, 100) + decades(-18, 10, 80) + [-x for x in decades(-18, -2, 40)] + [-1 + 2.0 ** -53]),
}

with open('elementary.csv', 'w', newline='') as f:
    w = csv.writer(f, lineterminator='\n')
    w.writerow(['function', 'x', 'nearest', 'rest'])
    for name, (function, points) in tables.items():
        for x in points:
            y = function(mpf(x))
            nearest = float(y)
            w.writerow([name, repr(x), repr(nearest), repr(float(y - mpf(nearest)))])

def all_positive_series(first, ratio):
    """first·(1 + r1 + r1·r2 + ...) until nothing is added; no cancellation, as no term is negative."""
    total = term = mpf(first)
    n = 1
    while term > total * mpf(10) ** -(mp.dps + 2):
        term *= ratio(n)
        total += term
        n += 1
    return total


def gamma_lower(a, x):
    return all_positive_series(exp(a * log(x) - x - loggamma(a + 1)), lambda n: x / (a + n))


def beta_lower(a, b, x):
    if x > mpf(1) / 2:
        return 1 - beta_lower(b, a, 1 - x)
    front = exp(a * log(x) + b * log(1 - x)) / (a * beta(a, b))
    return all_positive_series(front, lambda n: (a + b + n - 1) * x / (a + n))


mp.dps = 400  # upper tails down to 1e-300 come from 1 - lower
special = []
for a in [0.05, 0.3, 0.5, 1.0, 2.5, 7.0, 30.0, 100.0, 1000.0]:
    special.append(('log_gamma', a, '', '', loggamma(mpf(a))))
    for ratio in [1e-6, 0.1, 0.5, 0.9, 1.0, 1.1, 2.0, 5.0]:
        x = a * ratio
        p = gamma_lower(mpf(a), mpf(x))
        for name, q in [('gamma_lower', p), ('gamma_upper', 1 - p)]:
            if q > mpf(10) ** -300:
                special.append((name, a, '', x, q))
for a, b in [(0.05, 0.05), (0.5, 0.5), (2.0, 5.0), (1.0, 1.0), (0.2, 8.0), (40.0, 3.0), (200.0, 700.0), (5000.0, 0.5), (3000.0, 3000.0)]:
    special.append(('log_beta', a, b, '', log(beta(mpf(a), mpf(b)))))
    for x in [2.0 ** -20, 0.125, 0.25, 0.5, 0.75, 0.875, 1 - 2.0 ** -20]:  # 1 - x is exact
        p = beta_lower(mpf(a), mpf(b), mpf(x))
        for name, q in [('beta_lower', p), ('beta_upper', 1 - p)]:
            if q > mpf(10) ** -300:
                special.append((name, a, b, x, q))

with open('special.csv', 'w', newline='') as f:
    w = csv.writer(f, lineterminator='\n')
    w.writerow(['function', 'a', 'b', 'x', 'value'])
    for name, a, b, x, y in special:
        w.writerow([name, repr(a), b and repr(b), x and repr(x), repr(float(y))])

"""Fits the polynomials of CureSim.Core.Numerics.BlockMath and prints their coefficients and errors.

Each is the Chebyshev interpolant of a smooth function, worked out to 60 digits and then rounded to double.
Run: python3 fit_kernels.py   (needs mpmath)
"""
from mpmath import mp, mpf, cos, sin, pi, exp, log, sqrt, erfc, matrix, lu_solve, inf

mp.dps = 60


def fit(name, f, low, high, degree, weight=lambda x: 1):
    """Interpolates f at the Chebyshev nodes of [low, high]; prints doubles from the constant term upwards."""
    low, high = mpf(low), mpf(high)
    n = degree + 1
    nodes = [(low + high) / 2 + (high - low) / 2 * cos(pi * (2 * i + 1) / (2 * n)) for i in range(n)]
    a = matrix(n, n)
    b = matrix(n, 1)
    for i, x in enumerate(nodes):
        b[i] = f(x)
        for j in range(n):
            a[i, j] = x ** j
    c = [float(v) for v in lu_solve(a, b)]
    worst = mpf(0)
    for i in range(400):
        x = low + (high - low) * (mpf(i) + mpf('0.5')) / 400
        p = sum(mpf(ci) * x ** j for j, ci in enumerate(c))
        worst = max(worst, abs(p - f(x)) * weight(x))
    print(f"\n{name}: degree {degree} on [{mp.nstr(low, 6)}, {mp.nstr(high, 6)}], weighted error {mp.nstr(worst, 3)}")
    for j, ci in enumerate(c):
        print(f"  [{j}] {ci!r}")


half = log(2) / 2 * mpf('1.0001')
fit("exp: (e^r - 1 - r)/r^2", lambda r: (exp(r) - 1 - r) / r**2 if r != 0 else mpf(1) / 2, -half, half, 9,
    lambda r: r**2 / exp(r))

# log(1+f) with s = f/(2+f): 2s + s^3 (2/3 + 2 s^2/5 ...) = 2s + s^3 R(s^2); |s| <= (sqrt2-1)/(sqrt2+1)
top = ((sqrt(2) - 1) / (sqrt(2) + 1)) ** 2 * mpf('1.0001')


def log_tail(t):
    s = sqrt(t)
    return (log((1 + s) / (1 - s)) - 2 * s) / (s * t)


fit("log: (log((1+s)/(1-s)) - 2s)/s^3 in t = s^2", log_tail, mpf('1e-12'), top, 6, lambda t: t / 2)

quarter = mpf(1) / 64 * mpf('1.0001')
tau = 2 * pi
fit("sin: (sin(2 pi r)/r - 2 pi)/r^2 in t = r^2", lambda t: (sin(tau * sqrt(t)) / sqrt(t) - tau) / t, mpf('1e-12'), quarter, 6,
    lambda t: t / tau)
fit("cos: (cos(2 pi r) - 1)/r^2 in t = r^2", lambda t: (cos(tau * sqrt(t)) - 1) / t, mpf('1e-12'), quarter, 6, lambda t: t)

hi = float(tau)
print("\n2 pi: high", repr(hi), "low", repr(float(tau - mpf(hi))))
h = float(log(2))
print("ln 2:", repr(h))

# Normal tail: Phi(-x) = exp(-x^2/2) R(x); (x + 4) R(x) is smooth in t = (x - 4)/(x + 4), 0 <= x <= 39.
k = mpf(4)


def tail(t):
    x = k * (1 + t) / (1 - t)
    return (x + k) * exp(x * x / 2) * erfc(x / sqrt(mpf(2))) / 2


fit("normal tail: (x + 4) R(x) in t", tail, -1, (39 - k) / (39 + k), 21, lambda t: 1 / tail(t))

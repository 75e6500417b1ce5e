#!/usr/bin/python3
"""Mass calibration of JCGM 101:2008, 9.3, from its definition: standard uncertainty and coverage interval. Prints the figures of row GUM-9.3.

dm = (mR + dmR) [1 + (a - 1.2) (1/w - 1/r)] - 100000 mg, with mR ~ N(100000, 0.05) mg, dmR ~ N(1.234, 0.02) mg, a ~ R(1.1, 1.3), w ~ R(7000, 9000),
r ~ R(7950, 8050) kg/m3. The law is symmetric about 1.234 mg (a - 1.2 is, and is independent of the rest) with one peak, so the shortest interval is
the symmetric one. Run: python3 gum_mass_calibration.py (needs SciPy and mpmath; made with SciPy 1.10.1, mpmath 1.2.1).
"""
import numpy as np
from mpmath import mp, mpf, log, sqrt
from scipy.optimize import brentq
from scipy.special import ndtr

mp.dps = 30
# Moments of 1/x for a rectangular x, exactly.
def m1(a, b): return log(b / a) / (b - a)
def m2(a, b): return 1 / (a * b)

w, r = (mpf(7000), mpf(9000)), (mpf(7950), mpf(8050))
d2 = m2(*w) - 2 * m1(*w) * m1(*r) + m2(*r)
mass2 = (mpf(100000) + mpf('1.234')) ** 2 + mpf('0.05') ** 2 + mpf('0.02') ** 2
u = sqrt(mpf('0.05') ** 2 + mpf('0.02') ** 2 + mpf('0.1') ** 2 / 3 * d2 * mass2)
print("u =", mp.nstr(u, 12))

# P(dm <= y): the normal part conditional on a, w, r; Gauss-Legendre in the three.
x, g = np.polynomial.legendre.leggauss(60)
g = g / 2
a = 0.1 * x
W = 8000 + 1000 * x
R = 8000 + 50 * x
t = a[:, None, None] * (1 / W[None, :, None] - 1 / R[None, None, :])
weight = g[:, None, None] * g[None, :, None] * g[None, None, :]
sd = np.hypot(0.05, 0.02) * (1 + t)
mean = 100001.234 * t  # about 1.234

def cdf(y):
    return float((weight * ndtr((y - mean) / sd)).sum())

half = brentq(lambda h: cdf(h) - 0.975, 0.05, 0.3, xtol=1e-14)
print("95 % half width =", repr(half), " lower tail at -half:", cdf(-half))
print("interval", 1.234 - half, 1.234 + half)

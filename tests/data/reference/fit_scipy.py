"""Reference values for the fits of logs and parts: random effects, left-truncated Weibull lives, laws of a sample, a weighted curve.

Own implementation with NumPy and SciPy optimisers, no code shared with the project. Run: /usr/bin/python3 fit_scipy.py > fit-scipy.csv
"""
import numpy as np
from scipy import optimize, stats

print("# Made by fit_scipy.py with NumPy %s and SciPy %s" % (np.__version__, __import__("scipy").__version__))
print("case,input,what,value")


def row(case, inputs, **values):
    text = ";".join(repr(float(v)) for v in inputs)
    for name, value in values.items():
        print(f"{case},{text},{name},{value!r}")


# Random effects by REML. Data: log risk ratios of the BCG vaccine trials (Colditz et al., JAMA 271 (1994) 698; counts recalled from memory).
counts = [(4, 119, 11, 128), (6, 300, 29, 274), (3, 228, 11, 209), (62, 13536, 248, 12619), (33, 5036, 47, 5761), (180, 1361, 372, 1079), (8, 2537, 10, 619),
          (505, 87886, 499, 87892), (29, 7470, 45, 7232), (17, 1699, 65, 1600), (186, 50448, 141, 27197), (5, 2493, 3, 2338), (27, 16886, 29, 17825)]


def effects(name, y, v):
    y, v = np.array(y), np.array(v)
    k = len(y)

    def negative(t2):
        w = 1 / (v + t2)
        m = (w * y).sum() / w.sum()
        return 0.5 * (np.log(v + t2).sum() + np.log(w.sum()) + (w * (y - m) ** 2).sum())

    t2 = optimize.minimize_scalar(negative, bounds=(0, 10 * np.ptp(y) ** 2 + 1e-6), method="bounded", options=dict(xatol=1e-14)).x
    grid = np.linspace(0, np.ptp(y) ** 2, 20001)
    if negative(0.0) <= min(negative(t2), min(negative(g) for g in grid[::50])):
        t2 = 0.0
    w = 1 / (v + t2)
    m = (w * y).sum() / w.sum()
    q = (w * (y - m) ** 2).sum()
    se = np.sqrt(max(1.0, q / (k - 1)) / w.sum())

    def qp(t):
        w = 1 / (v + t)
        m = (w * y).sum() / w.sum()
        return (w * (y - m) ** 2).sum()

    def profile(p):
        target = stats.chi2.ppf(p, k - 1)
        return 0.0 if qp(0.0) <= target else optimize.brentq(lambda t: qp(t) - target, 0, 1e4, xtol=1e-15, rtol=1e-14)

    row(name, np.concatenate([y, v]), mean=m, se=se, half=stats.t.ppf(0.975, k - 1) * se, tau=np.sqrt(t2), tau_low=np.sqrt(profile(0.975)), tau_high=np.sqrt(profile(0.025)), p=stats.chi2.sf(qp(0.0), k - 1))


effects("effects-bcg", [np.log(a / (a + b) / (c / (c + d))) for a, b, c, d in counts], [1 / a - 1 / (a + b) + 1 / c - 1 / (c + d) for a, b, c, d in counts])
effects("effects-alike", [5.1, 5.2, 5.0, 5.15], [0.04, 0.05, 0.03, 0.06])
effects("effects-emitters", [8.41, 8.62, 8.50, 8.77, 8.33, 8.58], [0.004, 0.009, 0.002, 0.02, 0.006, 0.003])


# Weibull lives watched from a to t.
def weibull(name, units):
    a, t, f = (np.array(x, float) for x in zip(*units))

    def negative(z):
        b, n = np.exp(z)
        return -(f * (np.log(b / n) + (b - 1) * np.log(t / n))).sum() + ((t / n) ** b - np.where(a > 0, (np.maximum(a, 1e-300) / n) ** b, 0)).sum()

    z = optimize.minimize(negative, [0.7, np.log(t.max())], method="Nelder-Mead", options=dict(xatol=1e-12, fatol=1e-12, maxiter=20000)).x
    h = 1e-4
    info = np.empty((2, 2))
    for i in range(2):
        for j in range(2):
            e, g = np.eye(2)[i] * h, np.eye(2)[j] * h
            info[i, j] = (negative(z + e + g) - negative(z + e - g) - negative(z - e + g) + negative(z - e - g)) / (4 * h * h)
    c = np.linalg.inv(info)
    row(name, np.concatenate([a, t, f]), shape=np.exp(z[0]), scale=np.exp(z[1]), shape_error=np.sqrt(c[0, 0]), scale_error=np.sqrt(c[1, 1]), correlation=c[0, 1] / np.sqrt(c[0, 0] * c[1, 1]))


weibull("weibull-truncated", [(0, 1481, 1), (0, 2000, 0), (0, 2000, 0), (0, 1419, 1), (600, 1950, 1), (0, 2000, 0), (350, 2000, 0), (0, 900, 0), (0, 1700, 1)])
weibull("weibull-plain", [(0, 54, 1), (0, 187, 1), (0, 216, 1), (0, 240, 1), (0, 244, 1), (0, 335, 1), (0, 361, 1), (0, 373, 1), (0, 375, 1), (0, 386, 1)])

# Laws of a sample: trees' volumes (H. A. Meyer, Forest Mensuration (1953), as reproduced in R).
x = np.array([10.3, 10.3, 10.2, 16.4, 18.8, 19.7, 15.6, 18.2, 22.6, 19.9, 24.2, 21.0, 21.4, 21.3, 19.1, 22.2, 33.8, 27.4, 25.7, 24.9, 34.5, 31.7, 36.3, 38.3, 42.6, 55.4, 55.7, 58.3, 51.5, 51.0, 77.0])
n = len(x)


def law(name, frozen, first, second, log):
    s = np.sort(x)
    i = np.arange(1, n + 1)
    a2 = -n - ((2 * i - 1) * (np.log(frozen.cdf(s)) + np.log(frozen.sf(s[::-1])))).sum() / n
    row("law-" + name, x, first=first, second=second, log=log, aicc=-2 * log + 4 + 12 / (n - 3), a2=a2)


law("normal", stats.norm(x.mean(), x.std()), x.mean(), x.std(), stats.norm(x.mean(), x.std()).logpdf(x).sum())
m, s = np.log(x).mean(), np.log(x).std()
law("lognormal", stats.lognorm(s, scale=np.exp(m)), np.exp(m), np.exp(s), stats.lognorm(s, scale=np.exp(m)).logpdf(x).sum())
z = optimize.minimize(lambda z: -stats.gamma(np.exp(z[0]), scale=np.exp(z[1])).logpdf(x).sum(), [1.0, 2.0], method="Nelder-Mead", options=dict(xatol=1e-12, fatol=1e-13, maxiter=20000)).x
g = stats.gamma(np.exp(z[0]), scale=np.exp(z[1]))
law("gamma", g, np.exp(z[0]), np.exp(z[1]), g.logpdf(x).sum())
z = optimize.minimize(lambda z: -stats.weibull_min(np.exp(z[0]), scale=np.exp(z[1])).logpdf(x).sum(), [1.0, 3.4], method="Nelder-Mead", options=dict(xatol=1e-12, fatol=1e-13, maxiter=20000)).x
w = stats.weibull_min(np.exp(z[0]), scale=np.exp(z[1]))
law("weibull", w, np.exp(z[0]), np.exp(z[1]), w.logpdf(x).sum())

# A weighted stretched exponential in ln: level, ln time, ln shape.
h = np.array([0.0, 50, 100, 200, 400, 700, 1000, 1400, 1800, 2200])
noise = np.array([0.004, -0.006, 0.003, 0.008, -0.007, 0.002, -0.004, 0.006, -0.003, 0.001])
y = 1.2 - (h / 5200) ** 0.65 + noise
weights = np.array([1, 1, 2, 2, 1, 1, 3, 1, 1, 2.0])
fit = optimize.least_squares(lambda p: np.sqrt(weights) * (y - p[0] + (h / np.exp(p[1])) ** np.exp(p[2])), [1.0, 8.0, -0.2], xtol=1e-15, ftol=1e-15, gtol=1e-15)
cov = np.linalg.inv(fit.jac.T @ fit.jac) * 2 * fit.cost / (len(h) - 3)
row("curve-weighted", np.concatenate([h, y, weights]), level=fit.x[0], log_time=fit.x[1], log_shape=fit.x[2], rss=2 * fit.cost, se_level=np.sqrt(cov[0, 0]), se_time=np.sqrt(cov[1, 1]), se_shape=np.sqrt(cov[2, 2]), r=cov[1, 2] / np.sqrt(cov[1, 1] * cov[2, 2]))

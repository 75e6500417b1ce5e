# Limits that need the noncentral t, by SciPy quadrature over the chi law of s: see capability_sample.R.
import csv, math
from scipy import integrate, optimize, stats

rows = [r for r in csv.reader(open("../../../scenarios/samples/hub-bond-dose.csv")) if not r[0].startswith("#")]
x = [float(r[2]) for r in rows[1:]]
n = len(x)
m = sum(x) / n
s = math.sqrt(math.fsum((v - m) ** 2 for v in x) / (n - 1))


def cdf(t, df, delta):
    """P(T <= t) of the noncentral t: mean over w = sqrt(chi2/df) of Phi(t w - delta)."""
    chi = stats.chi(df, scale=1 / math.sqrt(df))
    return integrate.quad(lambda w: stats.norm.cdf(t * w - delta) * chi.pdf(w), chi.ppf(1e-17), chi.isf(1e-17), epsabs=1e-14, epsrel=1e-13, limit=400, points=[1.0])[0]


def limit(index, p):
    """The index at which the observed one has probability p from below."""
    t = 3 * math.sqrt(n) * index
    return optimize.brentq(lambda d: cdf(t, n - 1, d) - p, 0.2 * t, 2 * t, xtol=1e-12) / (3 * math.sqrt(n))


ppl = (m - 5) / (3 * s)
for name, p in (("ppl_lower", 0.975), ("ppl_upper", 0.025), ("ppl_one_sided", 0.95)):
    print(f"{name},{limit(ppl, p):.15g}")
delta = stats.norm.ppf(0.99) * math.sqrt(n)
print(f"k1,{optimize.brentq(lambda t: cdf(t, n - 1, delta) - 0.95, delta, 2 * delta, xtol=1e-12) / math.sqrt(n):.15g}")

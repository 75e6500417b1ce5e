using System.Globalization;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Laws, factors and ranks against mpmath and SciPy (tests/data/reference/statistics_scipy.py; recomputed). The tolerance stands in each row.</summary>
public class ScipyReferenceTests
{
    private static readonly double[] BatchValues = [0.012, 0.0, 0.031, 0.008, 0.019];
    private static readonly double[] BatchWeights = [250, 100, 300, 250, 90];

    private static readonly Dictionary<string, Func<double[], double>> Functions = new()
    {
        ["normal-cdf"] = a => NormalLaw.Cdf(a[0]),
        ["normal-log-cdf"] = a => NormalLaw.LogCdf(a[0]),
        ["chi-square-cdf"] = a => ChiSquareLaw.Cdf(a[0], a[1]),
        ["chi-square-survival"] = a => ChiSquareLaw.Survival(a[0], a[1]),
        ["chi-square-quantile"] = a => ChiSquareLaw.Quantile(a[0], a[1]),
        ["beta-cdf"] = a => BetaLaw.Cdf(a[0], a[1], a[2]),
        ["beta-quantile"] = a => BetaLaw.Quantile(a[0], a[1], a[2]),
        ["binomial-cdf"] = a => BetaLaw.BinomialCdf((long)a[0], (long)a[1], a[2]),
        ["student-cdf"] = a => StudentLaw.Cdf(a[0], a[1]),
        ["student-quantile"] = a => StudentLaw.Quantile(a[0], a[1]),
        ["noncentral-t-cdf"] = a => NoncentralTLaw.Cdf(a[0], a[1], a[2]),
        ["noncentral-t-survival"] = a => NoncentralTLaw.Survival(a[0], a[1], a[2]),
        ["tolerance-one-sided"] = a => NormalToleranceFactor.OneSided((int)a[0], a[1], a[2]),
        ["tolerance-two-sided"] = a => NormalToleranceFactor.TwoSided((int)a[0], a[1], a[2]),
        ["quantile-rank-lower"] = a => PercentileInterval.LowerRank((int)a[0], a[1], a[2]) ?? 0,
        ["quantile-rank-upper"] = a => PercentileInterval.UpperRank((int)a[0], a[1], a[2]) ?? 0,
        ["batch-mean"] = _ => BatchEstimate.Of(BatchValues, BatchWeights).Get(),
        ["batch-error"] = _ => BatchEstimate.Of(BatchValues, BatchWeights).StandardError!.Value,
        ["batch-upper"] = _ => BatchEstimate.Of(BatchValues, BatchWeights).Upper95!.Value,
        ["cp-lower-90"] = a => CapabilityInterval.CpLower(a[0], (int)a[1], 0.90).Lower!.Value,
        ["clopper-upper"] = a => BinomialInterval.ClopperPearson((long)a[0], (long)a[1]).Upper!.Value,
        ["clopper-lower"] = a => BinomialInterval.ClopperPearson((long)a[0], (long)a[1]).Lower!.Value,
        ["consumer-risk"] = a => GlobalRisk.Normal(0, 1, a[1], new LimitPair(null, a[0]), new LimitPair(null, a[0])).ConsumerRisk,
        ["pareto-survival"] = a => new GeneralisedPareto(a[0], a[1]).Survival(a[2]),
    };

    public static TheoryData<string, string, double, double> Rows
    {
        get
        {
            var data = new TheoryData<string, string, double, double>();
            foreach (string[] f in DataFile.Csv("reference", "statistics-scipy.csv").Skip(1))
            {
                data.Add(f[0], f[1], double.Parse(f[2], CultureInfo.InvariantCulture), double.Parse(f[3], CultureInfo.InvariantCulture));
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Value_agrees(string function, string arguments, double expected, double relativeTolerance)
    {
        double[] a = [.. arguments.Split(' ').Select(x => double.Parse(x, CultureInfo.InvariantCulture))];
        double found = Functions[function](a);
        Assert.True(
            Math.Abs(found - expected) <= relativeTolerance * Math.Abs(expected),
            FormattableString.Invariant($"{function}({arguments}): expected {expected:R}, found {found:R}, relative difference {(found / expected) - 1.0:G3}"));
    }
}

using System.Globalization;
using CureSim.Checks.Published;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>
/// Survival, censored fits, tests of normality and nested components against R (tests/data/reference/statistics_survival.R; recomputed).
/// The tolerance stands in each row; the data are invented.
/// </summary>
public class SurvivalReferenceTests
{
    private static readonly List<string[]> Data = DataFile.Csv("reference", "statistics-survival-data.csv");
    private static readonly string[] Sets = [.. DataFile.Csv("reference", "statistics-survival.csv").Skip(1).Select(f => f[0]).Distinct()];

    private static readonly double[] Times = Column("cells", 2);
    private static readonly int[] Causes = [.. Column("cells", 3).Select(x => (int)x)];
    private static readonly bool[] Events = [.. Causes.Select(c => c > 0)];
    private static readonly int[] Groups = [.. Column("cells", 4).Select(x => (int)x)];
    private static readonly SurvivalCurve Curve = KaplanMeier.Fit(Times, Events);
    private static readonly CumulativeIncidence Incidence = CumulativeIncidence.Fit(Times, Causes, 3);
    private static readonly LogRankResult Ranks = LogRank.Test(Times, Events, Groups);

    public static TheoryData<string> SetNames => [.. Sets];

    [Theory]
    [MemberData(nameof(SetNames))]
    public void Set_agrees(string set)
    {
        var wrong = new List<string>();
        int compared = 0;
        foreach (string[] f in DataFile.Csv("reference", "statistics-survival.csv").Skip(1).Where(f => f[0] == set))
        {
            double argument = double.Parse(f[2], CultureInfo.InvariantCulture);
            double? found = Value(set, f[1], argument);
            compared++;
            if (f[3] == "none")
            {
                if (found is not null)
                {
                    wrong.Add($"{f[1]} {f[2]}: none expected, {found} found");
                }

                continue;
            }

            double expected = double.Parse(f[3], CultureInfo.InvariantCulture);
            double tolerance = double.Parse(f[4], CultureInfo.InvariantCulture) * Math.Max(Math.Abs(expected), 1e-6);
            if (!(Math.Abs(found!.Value - expected) <= tolerance))
            {
                wrong.Add(FormattableString.Invariant($"{f[1]} {f[2]}: expected {expected:R}, found {found:R}, allowed ±{tolerance:G3}"));
            }
        }

        Assert.True(compared > 0);
        Assert.True(wrong.Count == 0, string.Join(Environment.NewLine, wrong));
    }

    private static double[] Column(string set, int column) =>
        [.. Data.Where(f => f[0] == set).Select(f => double.Parse(f[column], CultureInfo.InvariantCulture))];

    private static double? Value(string set, string quantity, double x) => set switch
    {
        "cells" => Cells(quantity, x),
        "remission" => Remission(quantity, x),
        "recurrent" or "recurrent-distinct" => Recurrent(set, quantity, x),
        "nested" => Nested(quantity),
        "unbalanced" => Unbalanced(quantity),
        _ => Readings(set, quantity),
    };

    private static double? Cells(string quantity, double x)
    {
        string[] parts = quantity.Split('-', 2);
        if (Enum.TryParse(parts[0], true, out LifetimeFamily family))
        {
            return Fit(family, parts[1], x);
        }

        return quantity switch
        {
            "km-survival" => Curve.At(x).Value,
            "km-error" => Curve.At(x).StandardError,
            "km-loglog-lower" => Curve.At(x).Lower95,
            "km-loglog-upper" => Curve.At(x).Upper95,
            "km-plain-lower" => Curve.At(x, LimitForm.Plain).Lower95,
            "km-plain-upper" => Curve.At(x, LimitForm.Plain).Upper95,
            "km-quantile" => Curve.Quantile(x).Value,
            "km-quantile-lower" => Curve.Quantile(x).Lower95,
            "km-quantile-upper" => Curve.Quantile(x).Upper95,
            "restricted-mean" => Curve.RestrictedMean(x).Value,
            "restricted-mean-error" => Curve.RestrictedMean(x).StandardError,
            "log-rank-three-groups" => Ranks.ChiSquare,
            "log-rank-expected" => Ranks.Expected[(int)x],
            _ when quantity.StartsWith("incidence-error-", StringComparison.Ordinal) => Incidence.At(quantity[^1] - '0', x).StandardError,
            _ when quantity.StartsWith("incidence-", StringComparison.Ordinal) => Incidence.At(quantity[^1] - '0', x).Value,
            _ => throw new InvalidOperationException(quantity),
        };
    }

    private static double? Fit(LifetimeFamily family, string quantity, double x)
    {
        double[] x1 = Column("cells", 5);
        double[] x2 = Column("cells", 6);
        double[,] covariates = new double[x1.Length, 2];
        for (int i = 0; i < x1.Length; i++)
        {
            (covariates[i, 0], covariates[i, 1]) = (x1[i], x2[i]);
        }

        CensoredFitResult fit = CensoredFit.Fit(family, Times, Events, covariates);
        return quantity switch
        {
            "coefficient" => fit.Coefficients[(int)x].Value,
            "variance" => fit.Covariance[(int)x, (int)x],
            "scale" => fit.Scale.Value,
            "log-scale-variance" => fit.Covariance[3, 3],
            "loglik" => fit.LogLikelihood,
            "quantile" => fit.Quantile(x, 0.5, 1).Value,
            "quantile-log-error" => fit.Quantile(x, 0.5, 1).StandardError / fit.Quantile(x, 0.5, 1).Value,
            _ => throw new InvalidOperationException(quantity),
        };
    }

    private static double? Remission(string quantity, double x)
    {
        var (times, events, groups) = SurvivalRows.Remission();
        SurvivalCurve curve = KaplanMeier.Fit(
            times.Where((_, i) => groups[i] == 0).ToArray(), events.Where((_, i) => groups[i] == 0).ToArray());
        return quantity switch
        {
            "km-loglog-lower" => curve.At(x).Lower95,
            "km-loglog-upper" => curve.At(x).Upper95,
            "km-quantile-lower" => curve.Quantile(x).Lower95,
            "km-quantile-upper" => curve.Quantile(x).Upper95,
            _ => throw new InvalidOperationException(quantity),
        };
    }

    private static double? Recurrent(string set, string quantity, double x)
    {
        int[] units = [.. Column("recurrent", 1).Select(u => (int)u)];
        double[] times = Column("recurrent", 2);
        double[] causes = Column("recurrent", 3);
        IEnumerable<RecurrentEvent> events = units.Select((u, i) => new RecurrentEvent(u, times[i], (int)causes[i]));
        if (set == "recurrent-distinct")
        {
            events = events.DistinctBy(e => (e.Unit, e.Time));
        }

        int cause = set == "recurrent-distinct" ? 0 : quantity[^1] - '0';
        Estimate found = MeanCumulativeFunction.Fit(Column("recurrent-end", 2), events, cause).At(x);
        return quantity.Contains("error", StringComparison.Ordinal) ? found.StandardError : found.Value;
    }

    private static double? Readings(string set, string quantity)
    {
        double[] y = set is "michelson" or "precip" ? NormalityRows.Column($"{set}.csv") : Column(set, 2);
        return quantity switch
        {
            "shapiro-w" => ShapiroWilk.Normal(y).Statistic,
            "shapiro-p" => ShapiroWilk.Normal(y).PValue,
            "anderson-darling" => AndersonDarling.Normal(y).Statistic,
            "anderson-darling-p" => AndersonDarling.Normal(y).PValue,
            _ => throw new InvalidOperationException(quantity),
        };
    }

    private static double? Nested(string quantity)
    {
        double[] y = Column("nested", 2);
        double[][][] layout = [.. Enumerable.Range(0, 8).Select(p => Enumerable.Range(0, 3)
            .Select(s => new[] { y[(p * 6) + (s * 2)], y[(p * 6) + (s * 2) + 1] }).ToArray())];
        NestedComponents found = NestedComponents.Of(layout);
        return quantity switch
        {
            "variance-groups" => found.VarianceGroups,
            "variance-subgroups" => found.VarianceSubgroups,
            "variance-readings" => found.VarianceReadings,
            "ms-groups" => found.MeanSquareGroups,
            "ms-subgroups" => found.MeanSquareSubgroups,
            "ms-readings" => found.MeanSquareReadings,
            _ => throw new InvalidOperationException(quantity),
        };
    }

    private static double? Unbalanced(string quantity)
    {
        double[] y = Column("nested", 2);
        OneWayComponents found = OneWayComponents.Of(
            [.. Enumerable.Range(0, 8).Select(p => y.AsSpan(p * 6, 2 + (p % 4)).ToArray())]);
        return quantity switch
        {
            "ms-between" => found.MeanSquareBetween,
            "ms-within" => found.MeanSquareWithin,
            "variance-between" => found.VarianceBetween,
            "p-value" => found.PValue,
            _ => throw new InvalidOperationException(quantity),
        };
    }
}

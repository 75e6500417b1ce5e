using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Rows of the topic gum-s1. The examples of clause 9 are run as Monte Carlo calculations with fixed seeds.</summary>
internal static class UncertaintyRows
{
    /// <summary>At 10⁶ trials four standard errors of an end point of the 95 % interval are below 0.9 % of the interval's width in every example here.</summary>
    private const int Trials = 1_000_000;

    private const double WidthTolerance = 0.009;

    private static readonly double Root3 = Math.Sqrt(3.0);
    private static readonly StreamKey Stream = StreamKey.Of(DrawDomain.Reserved, "test.gum");

    public static readonly Dictionary<string, Action<CheckRow>> Checks = new()
    {
        ["GUM-9.2.2"] = row =>
        {
            double exact = 2.0 * NormalLaw.Quantile(0.975);
            row.Check("95 % interval exact +/-", exact);
            Symmetric(row, k => Normal(k, 0) + Normal(k, 1) + Normal(k, 2) + Normal(k, 3), 2.0, exact);
        },
        ["GUM-9.2.3"] = row =>
        {
            double exact = 2.0 * Root3 * (2.0 - Math.Pow(0.6, 0.25));
            row.Check("inclusion-exclusion check", exact);
            Symmetric(row, k => Root3 * (Rectangular(k, 0) + Rectangular(k, 1) + Rectangular(k, 2) + Rectangular(k, 3)), 2.0, exact);
        },
        ["GUM-9.2.4"] = row =>
        {
            double u = Math.Sqrt(103.0);
            row.Check("u=sqrt(103)", u);
            row.Check("GUF +/-", NormalLaw.Quantile(0.975) * u);
            Symmetric(
                row,
                k => Root3 * (Rectangular(k, 0) + Rectangular(k, 1) + Rectangular(k, 2) + (10.0 * Rectangular(k, 3))),
                u,
                row.Expected("exact shortest(=symmetric) 95 % +/-"));
        },
        ["GUM-9.4-"] = Squares,
        ["GUM-9.5"] = EndGauge,
        ["GUM-7.9.2"] = row =>
        {
            // The last figure of each entry; 'c' and the exponent in the entries that print them.
            Tolerance(row, "u=0.00035,ndig=2", 0.00035, 2, "5e-6", 35, -5);
            Tolerance(row, "u=0.00035,ndig=1", 0.00035, 1, "5e-5", 4, -4);
            Tolerance(row, "u=2,ndig=1", 2, 1, "0.5", 2, 0);
            Tolerance(row, "u=0.0754,ndig=2", 0.0754, 2, "5e-4", 75, -3);
            Tolerance(row, "u=0.0754,ndig=1", 0.0754, 1, "5e-3", 8, -2);
            Tolerance(row, "u=0.0996,ndig=2", 0.0996, 2, "5e-3", 10, -2);
        },
        ["GUM-7.9.4"] = row =>
        {
            row.Compare("M at 0.95", "10000", AdaptiveMonteCarlo.TrialsPerBatch(0.95));
            row.Compare("M at 0.99", "10000", AdaptiveMonteCarlo.TrialsPerBatch(0.99));
            row.Compare("M at 0.9973", "37038", AdaptiveMonteCarlo.TrialsPerBatch(0.9973));
            Adaptive(row);
        },
        ["GUM-7.7"] = row =>
        {
            // y(i) = i, so an end is its own rank. M = 1000: q = 950, r = 25. M = 1012: pM = 961.4, q = 961, M − q = 51 is odd, r = 26.
            double[] y = [.. Enumerable.Range(1, 1012).Select(i => (double)i)];
            CoverageInterval whole = CoverageInterval.Symmetric(y.AsSpan(0, 1000), 0.95);
            row.Compare("y(r), M = 1000", "25", whole.Lower!.Value);
            row.Compare("y(r + q), M = 1000", "975", whole.Upper!.Value);
            CoverageInterval odd = CoverageInterval.Symmetric(y, 0.95);
            row.Compare("y(r), M = 1012", "26", odd.Lower!.Value);
            row.Compare("y(r + q), M = 1012", "987", odd.Upper!.Value);

            // Squares of ranks crowd at the low end: the shortest interval begins at the first value.
            double[] squares = [.. y.Select(v => v * v)];
            CoverageInterval shortest = CoverageInterval.Shortest(squares, 0.95);
            row.Compare("shortest, lower", "1", shortest.Lower!.Value);
            row.Compare("shortest, upper", "925444", shortest.Upper!.Value);
        },
        ["GUM-8.1"] = row =>
        {
            // Example 9.2.4: the propagation of uncertainty gives ±19.89146195, the exact interval ±17.0158141, δ = 0.05 for u = 10.1.
            FrameworkValidation failed = FrameworkValidation.Compare(0, 19.89146195, -17.0158141, 17.0158141, NumericalTolerance.Of(10.14889157, 3).Delta);
            row.Compare("d_low", "2.87564785", failed.LowerDifference);
            row.Compare("d_high", "2.87564785", failed.UpperDifference);
            row.Compare("delta", "0.05", failed.Delta, 1e-15);
            Assert.False(failed.Validated);

            // Example 9.2.2: both are ±3.92.
            Assert.True(FrameworkValidation.Compare(0, 3.919927969, -3.92, 3.92, NumericalTolerance.Of(2.0, 3).Delta).Validated);
        },
    };

    private static double Uniform(int trial, int input) =>
        Draw.Uniform(101, 0, (uint)trial, Stream, input);

    private static double Normal(int trial, int input) => NormalLaw.Quantile(Uniform(trial, input));

    /// <summary>Rectangular on (−1, 1).</summary>
    private static double Rectangular(int trial, int input) => (2.0 * Uniform(trial, input)) - 1.0;

    /// <summary>Student's t by Bailey's transform of two uniforms (R. W. Bailey, Math. Comp. 62 (1994) 779).</summary>
    private static double Student(int trial, int input, double degrees) =>
        Math.Sqrt(degrees * (Math.Pow(Uniform(trial, input), -2.0 / degrees) - 1.0)) * Math.Cos(2.0 * Math.PI * Uniform(trial, input + 1));

    private static double[] Sorted(Func<int, double> model)
    {
        double[] y = new double[Trials];
        for (int k = 0; k < y.Length; k++)
        {
            y[k] = model(k);
        }

        Array.Sort(y);
        return y;
    }

    private static void Symmetric(CheckRow row, Func<int, double> model, double u, double half)
    {
        double[] y = Sorted(model);
        SampleMoments m = SampleMoments.Of(y);

        // Four standard errors: of the mean u/1000, of u at most u/√(2·10⁶).
        row.Check("y", m.Mean, 4e-3 * u);
        Assert.Equal(u, m.StandardDeviation!.Value, 3e-3 * u);
        CoverageInterval symmetric = CoverageInterval.Symmetric(y, 0.95);
        Assert.Equal(-half, symmetric.Lower!.Value, WidthTolerance * 2.0 * half);
        Assert.Equal(half, symmetric.Upper!.Value, WidthTolerance * 2.0 * half);
        CoverageInterval shortest = CoverageInterval.Shortest(y, 0.95);
        Assert.True(shortest.Width <= symmetric.Width);
        Assert.Equal(2.0 * half, shortest.Width!.Value, WidthTolerance * 2.0 * half);
    }

    private static void Squares(CheckRow row)
    {
        double x1 = row.Input("x1");
        double r = row.Input("r");
        double[] y = Sorted(k =>
        {
            double z = Normal(k, 0);
            double a = x1 + (0.005 * z);
            double b = 0.005 * ((r * z) + (Math.Sqrt(1.0 - (r * r)) * Normal(k, 1)));
            return (a * a) + (b * b);
        });
        SampleMoments m = SampleMoments.Of(y);
        double u = m.StandardDeviation!.Value;

        // Four standard errors of the mean; of u, with the kurtosis of a sum of few squares (at most 15), 4·√(17/4)·u/1000.
        row.Check("exact y", m.Mean, 4e-3 * u);
        row.Check("u", u, 8.3e-3 * u);
        string[] ends = row.Tokens("shortest 95 %");
        double lower = 1e-6 * CheckRow.Parse(ends[0]);
        double width = (1e-6 * CheckRow.Parse(ends[1])) - lower;
        CoverageInterval shortest = CoverageInterval.Shortest(y, 0.95);
        Assert.Equal(width, shortest.Width!.Value, WidthTolerance * width);

        // The minimum is flat: end points loosely, 4 % of the width.
        Assert.Equal(lower, shortest.Lower!.Value, 0.04 * width);
    }

    private static void EndGauge(CheckRow row)
    {
        const double Nominal = 50e6;
        double CurvedTrapezoid(int k, int input, double a, double b, double d)
        {
            double lower = a - d + (2.0 * d * Uniform(k, input));
            return lower + ((a + b - (2.0 * lower)) * Uniform(k, input + 1));
        }

        double[] y = Sorted(k =>
        {
            double ls = 50000623 + (25 * Student(k, 0, 18));
            double difference = 215 + (6 * Student(k, 2, 24)) + (4 * Student(k, 4, 5)) + (7 * Student(k, 6, 8));
            double expansion = 9.5e-6 + (4e-6 * Uniform(k, 8));
            double t0 = -0.1 + (0.2 * Normal(k, 9));
            double swing = 0.5 * Math.Sin(2.0 * Math.PI * Uniform(k, 10));
            double expansionDifference = CurvedTrapezoid(k, 12, -1e-6, 1e-6, 0.1e-6);
            double temperatureDifference = CurvedTrapezoid(k, 14, -0.05, 0.05, 0.025);
            return ls + difference - (ls * ((expansionDifference * (t0 + swing)) + (expansion * temperatureDifference))) - Nominal;
        });
        SampleMoments m = SampleMoments.Of(y);

        // Mean: four standard errors of 36 nm/1000. u: four of 36 nm/√(2·10⁶). End points of the 99 % interval: 1 nm is the row's tolerance, about
        // four standard errors of such an end (0.2 nm).
        row.Check("analytic y", m.Mean, 0.15);
        row.Check("u", m.StandardDeviation!.Value, 0.11);
        CoverageInterval symmetric = CoverageInterval.Symmetric(y, 0.99);
        string[] expected = row.Tokens("symmetric 99 %");
        row.Compare("lower", expected[0], symmetric.Lower!.Value, 1.0);
        row.Compare("upper", expected[1], symmetric.Upper!.Value, 1.0);
        string[] published = row.Tokens("published MCM 838, 36,");
        CoverageInterval shortest = CoverageInterval.Shortest(y, 0.99);
        row.Compare("published width", "187", shortest.Width!.Value, 1.5);
        Assert.Equal(187.0, CheckRow.Parse(published[1]) - CheckRow.Parse(published[0]));
    }

    private static void Tolerance(CheckRow row, string entry, double u, int digits, string delta, long mantissa, int exponent)
    {
        // The row's own text must contain both the entry and its δ, so that neither is ours.
        string text = row.ExpectedText[row.ExpectedText.IndexOf(entry, StringComparison.Ordinal)..].Split(';')[0];
        Assert.Contains("delta=" + delta, text);
        NumericalTolerance found = NumericalTolerance.Of(u, digits);
        row.Compare(entry, delta, found.Delta, 1e-12 * found.Delta);
        Assert.Equal(mantissa, found.Mantissa);
        Assert.Equal(exponent, found.Exponent);
    }

    private static void Adaptive(CheckRow row)
    {
        // Example 9.2.2 with two significant digits: δ = 0.05 for u = 2.0.
        int m = AdaptiveMonteCarlo.TrialsPerBatch(0.95);
        var batches = new List<MonteCarloBatch>();
        var all = new List<double>();
        AdaptiveDecision decision;
        do
        {
            double[] y = [.. Enumerable.Range(batches.Count * m, m).Select(k => Normal(k, 20) + Normal(k, 21) + Normal(k, 22) + Normal(k, 23))];
            all.AddRange(y);
            SampleMoments moments = SampleMoments.Of(y);
            Array.Sort(y);
            CoverageInterval interval = CoverageInterval.Symmetric(y, 0.95);
            batches.Add(new MonteCarloBatch(moments.Mean, moments.StandardDeviation!.Value, interval.Lower!.Value, interval.Upper!.Value));
            decision = AdaptiveMonteCarlo.Decide(batches, m, 2);
            Assert.False(batches.Count == 1 && decision.Finished);
        }
        while (!decision.Finished && batches.Count < 100);

        Assert.True(decision.Finished);
        Assert.True(decision.TwiceUpper <= decision.Delta && decision.TwiceLower <= decision.Delta);
        row.Compare("delta", "0.05", decision.Delta!.Value, 1e-15);

        // u from the batches equals u of all values, exactly but for rounding.
        Assert.Equal(SampleMoments.Of(all.ToArray()).StandardDeviation!.Value, decision.Uncertainty, 1e-12);

        // One batch whose upper end is far from the others must not be passed.
        batches[^1] = batches[^1] with { Upper = batches[^1].Upper + 5.0 };
        Assert.False(AdaptiveMonteCarlo.Decide(batches, m, 2).Finished);
    }
}

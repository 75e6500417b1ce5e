using CureSim.Core.Distributions;
using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of JCGM 101 clauses 7 and 8: numerical tolerance, adaptive procedure, coverage intervals, validation. The examples of clause 9 are simulated.</summary>
internal static class UncertaintyRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["GUM-7.9.2"] = row =>
        {
            // δ stands in the row; 'c' and the exponent follow from it.
            Tolerance(row, "u=0.00035,ndig=2", 0.00035, 2, 35, -5);
            Tolerance(row, "u=0.00035,ndig=1", 0.00035, 1, 4, -4);
            Tolerance(row, "u=2,ndig=1", 2, 1, 2, 0);
            Tolerance(row, "u=0.0754,ndig=2", 0.0754, 2, 75, -3);
            Tolerance(row, "u=0.0754,ndig=1", 0.0754, 1, 8, -2);
            Tolerance(row, "u=0.0996,ndig=2", 0.0996, 2, 10, -2); // rounded first, to 0.10
        },
        ["GUM-7.9.4"] = row =>
        {
            row.Check("M at 0.95", AdaptiveMonteCarlo.TrialsPerBatch(0.95));
            row.Check("M at 0.99", AdaptiveMonteCarlo.TrialsPerBatch(0.99));
            row.Check("M at 0.9973", AdaptiveMonteCarlo.TrialsPerBatch(0.9973));
            Adaptive(row);
        },
        ["GUM-7.7"] = row =>
        {
            // y(i) = i, so an end is its own rank. M = 1000: q = 950, r = 25. M = 1012: pM = 961.4, q = 961, M − q = 51 is odd, r = 26.
            double[] y = [.. Enumerable.Range(1, 1012).Select(i => (double)i)];
            CoverageInterval whole = CoverageInterval.Symmetric(y.AsSpan(0, 1000), 0.95);
            row.Check("M=1000 lower", whole.Lower!.Value);
            row.Check("M=1000 upper", whole.Upper!.Value);
            CoverageInterval odd = CoverageInterval.Symmetric(y, 0.95);
            row.Check("M=1012 lower", odd.Lower!.Value);
            row.Check("M=1012 upper", odd.Upper!.Value);

            // Squares of ranks crowd at the low end: the shortest interval begins at the first value.
            CoverageInterval shortest = CoverageInterval.Shortest([.. y.Select(v => v * v)], 0.95);
            row.Check("shortest of the squares lower", shortest.Lower!.Value);
            row.Check("shortest of the squares upper", shortest.Upper!.Value);
        },
        ["GUM-8.1"] = row =>
        {
            FrameworkValidation failed = FrameworkValidation.Compare(0, 19.89146195, -17.0158141, 17.0158141, NumericalTolerance.Of(10.14889157, 3).Delta);
            row.Check("d_low", failed.LowerDifference);
            row.Check("d_high", failed.UpperDifference);
            row.Check("delta", failed.Delta, 1e-15);
            row.Holds("9.2.4 is not validated", !failed.Validated);

            // Example 9.2.2: both are ±3.92.
            row.Holds("9.2.2 is validated", FrameworkValidation.Compare(0, 3.919927969, -3.92, 3.92, NumericalTolerance.Of(2.0, 3).Delta).Validated);
        },
    };

    private static void Tolerance(PublishedRow row, string entry, double u, int digits, long mantissa, int exponent)
    {
        NumericalTolerance found = NumericalTolerance.Of(u, digits);
        row.Check(entry + " delta", found.Delta, 1e-12 * found.Delta);
        row.Equal(entry + " c", mantissa, found.Mantissa, 0);
        row.Equal(entry + " exponent", exponent, found.Exponent, 0);
    }

    private static void Adaptive(PublishedRow row)
    {
        // Example 9.2.2, the sum of four standard normals, with two significant digits: δ = 0.05 for u = 2.0.
        int m = AdaptiveMonteCarlo.TrialsPerBatch(0.95);
        var batches = new List<MonteCarloBatch>();
        var all = new List<double>();
        AdaptiveDecision decision;
        do
        {
            double[] y = Sums((uint)(batches.Count * m), m);
            all.AddRange(y);
            SampleMoments moments = SampleMoments.Of(y);
            Array.Sort(y);
            CoverageInterval interval = CoverageInterval.Symmetric(y, 0.95);
            batches.Add(new MonteCarloBatch(moments.Mean, moments.StandardDeviation!.Value, interval.Lower!.Value, interval.Upper!.Value));
            decision = AdaptiveMonteCarlo.Decide(batches, m, 2);
            row.Holds("one batch is never enough", batches.Count > 1 || !decision.Finished);
        }
        while (!decision.Finished && batches.Count < 100);

        row.Holds("finished", decision.Finished);
        row.Holds("both ends within the tolerance", decision.TwiceUpper <= decision.Delta && decision.TwiceLower <= decision.Delta);
        row.Check("delta", decision.Delta!.Value, 1e-15);

        // u from the batches equals u of all values, exactly but for rounding.
        row.Equal("u of all values", SampleMoments.Of(all.ToArray()).StandardDeviation!.Value, decision.Uncertainty, 1e-12);
        batches[^1] = batches[^1] with { Upper = batches[^1].Upper + 5.0 };
        row.Holds("one batch with an upper end far from the others is not passed", !AdaptiveMonteCarlo.Decide(batches, m, 2).Finished);
    }

    private static double[] Sums(uint first, int count)
    {
        double[] sum = new double[count], x = new double[count];
        for (int input = 0; input < 4; input++)
        {
            UniformBlock.Fill(101, 0, first, StreamKey.Of(DrawDomain.Reserved, "check.gum.adaptive", input), 0, x);
            new NormalDistribution(0, 1).Quantiles(x, x);
            for (int i = 0; i < count; i++)
            {
                sum[i] += x[i];
            }
        }

        return sum;
    }
}

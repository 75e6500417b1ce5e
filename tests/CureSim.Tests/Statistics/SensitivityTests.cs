using CureSim.Core.Numerics;
using CureSim.Core.Statistics;
using CureSim.Core.Statistics.Sensitivity;

namespace CureSim.Tests.Statistics;

/// <summary>Sum rules, inputs without effect, and how often the intervals hold the truth. Indices themselves: rows SEN-* of the catalogue.</summary>
public class SensitivityTests
{
    // Ishigami and Homma (1990), a = 7, b = 0.1; the fourth input does nothing.
    private static double Ishigami(double[] u)
    {
        double x1 = Math.PI * ((2 * u[0]) - 1), x2 = Math.PI * ((2 * u[1]) - 1), x3 = Math.PI * ((2 * u[2]) - 1), s = Math.Sin(x2);
        return Math.Sin(x1) + (7 * s * s) + (0.1 * x3 * x3 * x3 * x3 * Math.Sin(x1));
    }

    [Fact]
    public void Dummy_CoversZeroAndSumRulesHold()
    {
        var found = FunctionIndices.Of(Ishigami, 4, 1 << 14, 7)!;
        Assert.All([found.Groups[3].First, found.Groups[3].Total], e => Assert.InRange(0.0, e.Lower95!.Value, e.Upper95!.Value));
        Assert.True(found.FirstOrderSum.Upper95 < 1.0, "x1 and x3 act together");
        Assert.True(found.Groups.Sum(g => g.Total.Get()) > 1.0);
        Assert.All(found.Groups, g => Assert.True(g.Total.Get() >= g.First.Get() - (3 * g.First.StandardError!.Value)));
        var linear = FunctionIndices.Of(u => BlockMath.NormalQuantile(u[0]) + (2 * BlockMath.NormalQuantile(u[1])), 2, 1 << 14, 8)!;
        Assert.InRange(1.0, linear.FirstOrderSum.Lower95!.Value, linear.FirstOrderSum.Upper95!.Value);
    }

    [Fact]
    public void WeakInput_IsSeenBesideAStrongOne()
    {
        // An input of one ten-thousandth of the variance: its total index is found to a few per cent, since it rests on differences of its own.
        var found = FunctionIndices.Of(u => BlockMath.NormalQuantile(u[0]) + (0.01 * BlockMath.NormalQuantile(u[1])), 2, 4096, 9)!;
        Assert.InRange(found.Groups[1].Total.Get(), 0.9e-4, 1.1e-4);
        Assert.True(found.Groups[1].Total.Lower95 > 0.0);
    }

    [Theory]
    [InlineData(1024, 100)]
    [InlineData(16384, 24)]
    public void Intervals_HoldTheTruthAsOftenAsTheySay(int points, int seeds)
    {
        // Six indices, which go together in one function: the bounds are those of three independent figures a seed, 95 % ± 3.5·√(0.05·0.95/3·seeds) (± 4.4 % of 100 seeds, ± 9 % of 24).
        double[] truth = [0.313905191148, 0.55758885521, 0.44241114479, 0.44241114479, 0.0, 0.243683664062];
        double allowed = 3.5 * Math.Sqrt(0.05 * 0.95 / (3.0 * seeds)), errors = 0.0;
        int inside = 0;
        for (ulong seed = 1; seed <= (ulong)seeds; seed++)
        {
            var found = FunctionIndices.Of(Ishigami, 3, points, seed)!;
            Estimate[] six = [.. found.Groups.SelectMany(g => (Estimate[])[g.First, g.Total])];
            inside += six.Zip(truth).Count(x => x.First.Lower95 <= x.Second && x.Second <= x.First.Upper95);
            errors += six.Zip(truth).Sum(x => Math.Pow((x.First.Get() - x.Second) / x.First.StandardError!.Value, 2.0));
        }

        Assert.InRange(inside / (6.0 * seeds), 0.95 - allowed, Math.Min(1.0, 0.95 + allowed));

        // Mean square of error over standard error: 31/29 for Student's t with 31 degrees of freedom, within four of its own errors, √(2/(3·seeds)).
        Assert.InRange(errors / (6.0 * seeds), 1.07 * (1.0 - (4.0 * Math.Sqrt(2.0 / (3.0 * seeds)))), 1.07 * (1.0 + (4.0 * Math.Sqrt(2.0 / (3.0 * seeds)))));
    }

    [Fact]
    public void Interval_OfAMeanIsStudents()
    {
        // Of a plain mean the jackknife is s/√r itself, so the interval is that of Student's t over the randomisations' means. Relative 1e-9: sums in another order.
        double[] means = [.. Enumerable.Range(0, 16).Select(r => Math.Sqrt(r))];
        var found = SensitivityIndices.Of([.. means.Select((m, r) => SensitivitySums.Of([m - 1], [m + 1], [new double[] { m + (r % 3) }]))], 1)!;
        var expected = BatchEstimate.Of(means);
        Assert.Equal(expected.Lower95!.Value, found.Mean.Lower95!.Value, 1e-9);
        Assert.Equal(expected.Upper95!.Value, found.Mean.Upper95!.Value, 1e-9);
        Assert.Equal(expected.StandardError!.Value, found.Mean.StandardError!.Value, 1e-9);
    }

    [Fact]
    public void VarianceInOneRandomisationOnly_HasNoIndices()
    {
        var still = SensitivitySums.Of([1.0], [1.0], [new double[] { 1.0 }]);
        Assert.Null(SensitivityIndices.Of([SensitivitySums.Of([1.0], [2.0], [new double[] { 2.0 }]), .. Enumerable.Repeat(still, 15)], 1));
    }

    [Fact]
    public void OutputThatDoesNotVary_HasNoIndices() => Assert.Null(FunctionIndices.Of(_ => 3.0, 2, 1024, 1));
}

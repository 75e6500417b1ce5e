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

    [Fact]
    public void Intervals_HoldTheTruthAsOftenAsTheySay()
    {
        // 100 seeds, six indices each at 1024 points in 32 randomisations; in one function they go together, so the bounds are those of about 300 figures: 95 % ± 3·1.3 %.
        double[] truth = [0.313905191148, 0.55758885521, 0.44241114479, 0.44241114479, 0.0, 0.243683664062];
        int inside = 0, all = 0;
        for (ulong seed = 1; seed <= 100; seed++)
        {
            var found = FunctionIndices.Of(Ishigami, 3, 1024, seed)!;
            Estimate[] six = [.. found.Groups.SelectMany(g => (Estimate[])[g.First, g.Total])];
            inside += six.Zip(truth).Count(x => x.First.Lower95 <= x.Second && x.Second <= x.First.Upper95);
            all += 6;
        }

        Assert.InRange((double)inside / all, 0.91, 0.99);
    }

    [Fact]
    public void OutputThatDoesNotVary_HasNoIndices() => Assert.Null(FunctionIndices.Of(_ => 3.0, 2, 1024, 1));
}

using System.Globalization;
using System.Runtime.CompilerServices;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.StatisticalTests.Coverage;
using CureSim.Studies.Runs;

namespace CureSim.StatisticalTests.Conditional;

/// <summary>The counted fraction and the mean of p(state) are estimates of one number: they agree in ten cells of different kinds.</summary>
/// <remarks>
/// Three standard errors of the difference, which is formed lifetime by lifetime, where 50 or more are counted; below that the count is held against the
/// Poisson law about the conditional estimate, two-sided at the same 0.27 % (the spread between lifetimes is small in those cells: nearly all is part to part).
/// Twenty figures at 0.27 %: a new throw of all seeds fails somewhere in one case of nineteen; the seeds are fixed.
/// </remarks>
public class ConditionalTests
{
    private const double FewCounts = 50.0;
    private const double Probability = 0.0027;

    private static readonly Lazy<Dictionary<string, (ConditionalCase Case, ConditionalGain Bonds, ConditionalGain Parts)>> All = new(() =>
        ConditionalCases.All(Path.Combine(Root(), "scenarios")).ToDictionary(c => c.Name, c =>
        {
            var records = new LocalRunner(new RunPlan(c.Cell)).Run().Records;
            return (c, ConditionalGain.Of(records.AsSpan(), parts: false)!, ConditionalGain.Of(records.AsSpan(), parts: true)!);
        }));

    public static TheoryData<string> Names => [.. ConditionalCases.All(Path.Combine(Root(), "scenarios")).Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void CountedAndConditional_Agree(string name)
    {
        var (_, bonds, parts) = All.Value[name];
        Assert.True(Agrees(bonds, 1.0), $"bonds {bonds}");
        Assert.True(Agrees(parts, 1.0), $"parts {parts}");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void ConditionalEstimate_WrongByAFactor_IsRefused(string name)
    {
        var (cell, bonds, _) = All.Value[name];
        Assert.False(Agrees(bonds, cell.Factor), $"{cell.Factor} times {bonds}");
        Assert.False(Agrees(bonds, 1.0 / cell.Factor), $"1/{cell.Factor} times {bonds}");
    }

    [Fact]
    public void Gain_IsLargeWhereTheSpreadIsAtPartLevel_AndNoneWhereFewStatesHoldTheBadParts()
    {
        // The law of total variance: with p of a few ppm nearly all variance of a count is binomial. The lamp of quick.yaml is the opposite case.
        var (_, rare, _) = All.Value["parts, 1 ppm"];
        var (_, lamp, _) = All.Value["quick.yaml"];
        Assert.True(rare.Gain > 50.0, $"{rare}");
        Assert.True(lamp.Gain < 1.5 && lamp.Bound is > 1.0 and < 1.5, $"{lamp}");
    }

    [Fact]
    public void Table_IsWrittenWhenAskedFor()
    {
        static string Number(double? x, string format = "G3") => x is { } v ? v.ToString(format, CultureInfo.InvariantCulture) : "none shows";
        string[] Row(string name, string what, ConditionalGain g) =>
        [
            name, what, g.Bad.ToString("0", CultureInfo.InvariantCulture), $"{Number(1e6 * g.Counted)} ± {Number(1e6 * g.CountedError, "G2")}",
            $"{Number(1e6 * g.Conditional)} ± {Number(1e6 * g.ConditionalError, "G2")}", Number(Math.Round(g.Score ?? double.NaN, 1) + 0.0, "+0.0;-0.0;0.0"), Number(g.Gain), Number(g.Bound),
        ];
        var rows = All.Value.Values.Select(c => Row(c.Case.Name, c.Case.What, c.Bonds)).ToArray();
        Assert.Equal(10, rows.Length);
        GeneratedTable.Write("conditional", ["cell", "what spreads", "counted", "counted, ppm", "by state, ppm", "difference, s.e.", "gain", "bound"], rows);
    }

    private static bool Agrees(ConditionalGain g, double factor)
    {
        double expected = factor * g.Conditional;
        return g.Bad >= FewCounts ? Math.Abs(g.Counted - expected) <= 3.0 * g.DifferenceError : PoissonTails(g.Bad, expected * g.Sampled) >= Probability;
    }

    /// <summary>Twice the smaller of P(K ≤ k) and P(K ≥ k) under a Poisson law: P(K ≤ k) = Q(k + 1, mean).</summary>
    private static double PoissonTails(double k, double mean)
    {
        double below = 0.0, term = Math.Exp(-mean);
        for (int i = 0; i <= k; i++)
        {
            below += term;
            if (i < k)
            {
                term *= mean / (i + 1);
            }
        }

        return 2.0 * Math.Min(below, 1.0 - below + term);
    }

    [Theory]
    // P(K ≤ 5) and P(K ≥ 15) of a Poisson law with mean 10, summed term by term in Python 3 (recomputed).
    [InlineData(5, 10, 0.06708596)]
    [InlineData(15, 10, 0.08345847)]
    public void PoissonTails_AreTwiceTheSmallerOne(double k, double mean, double oneTail) => Assert.Equal(2.0 * oneTail, PoissonTails(k, mean), 1e-7);

    private static string Root([CallerFilePath] string path = "") => Path.GetFullPath(Path.Combine(Path.GetDirectoryName(path)!, "..", "..", ".."));
}

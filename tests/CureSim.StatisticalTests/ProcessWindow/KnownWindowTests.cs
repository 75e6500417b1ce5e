using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Studies.ProcessWindow;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.ProcessWindow;

/// <summary>Windows whose edge is a line of algebra: ln E normal over cells (spread c) and over parts (spread s), exposure time exact, nothing else.</summary>
/// <remarks>
/// Derived. A lower dose limit L: the fraction meets q at ln(E·t) = ln L + z_q·√(c² + s²); the 5th percentile over cells of the index meets I at
/// ln(E·t) = ln L + 3·I·s + 1.6449·c; the later of the two is the edge. A lower limit of degree of cure needs k·E^p·t ≥ N: the same with ln t + p·ln E, p·s and p·c.
/// Intervals are tested at three standard errors (1.53 half-widths of 95 %); products of settings along one edge agree far better, since all draws are shared.
/// </remarks>
public class KnownWindowTests
{
    private const double Step = 28800;
    private const double Low = 3e4;      // J/m²
    private const double PartSpread = 0.03;
    private const double RateLot = 0.8;  // 1/s at 1 W/cm²
    private static readonly double CellSpread = Math.Log(1.06);
    private static readonly double NormalAt95 = 1.6448536269514722;

    private static ScenarioBuilder Chain(int worlds = 1, int lifetimes = 2048) => new ScenarioBuilder().Clock(Step, 8).Rate(1e-3)
        .Irradiance(Varying(new LognormalDistribution(4e4, 1.06))).Ripple(Varying(new NormalDistribution(0, PartSpread))).Drive(0.5)
        .Run(worlds, lifetimes, seed: 20267);

    private static Scenario With(ScenarioBuilder cell, WindowStudy study) => cell.With(s => s with { WindowStudy = study }).Build();

    private static WindowStudy Study(double limit, int nodes = 9) => WindowStudy.Usual with { Nodes = nodes, NonconformingLimit = limit, Time = new(1.0, 4.0) };

    private static WindowMap Map(Scenario cell) => WindowMap.Of(new WindowCase(cell), new MapSize(2, 1), 2);

    [Theory]
    [InlineData(1e-3, 1.33, false)]
    [InlineData(1e-3, 1.0, true)]
    [InlineData(1e-5, 1.33, true)]
    public void DoseOnly_EdgeIsTheLineOfEqualDose(double limit, double index, bool fractionBinds)
    {
        var map = Map(With(Chain().NoLimit(Response.Dose).Limit(Response.Dose, Low, null).Capability(index), Study(limit)));
        double z = -Normal(limit), byFraction = Math.Exp(z * Math.Sqrt((CellSpread * CellSpread) + (PartSpread * PartSpread))), byIndex = Math.Exp((3 * index * PartSpread) + (NormalAt95 * CellSpread));
        double expected = Low * Math.Max(byFraction, byIndex) / 4e4;
        Assert.Equal(fractionBinds, byFraction > byIndex);
        Assert.True(map.Crossings.Length >= 5, $"{map.Crossings.Length} points of the edge");
        double first = map.Crossings[0].X * map.Crossings[0].Y;
        foreach (var c in map.Crossings)
        {
            double product = c.X * c.Y, half = 1.53 * (c.Upper95 - c.Lower95) / 2.0 * c.X;
            Assert.True(Math.Abs(product - expected) <= half, $"E·t = {product} at {c.X}, expected {expected} ± {half}");
            Assert.Equal(fractionBinds, c.FractionBinds);

            // Along the edge the same cells fail, so it is the hyperbola itself; 2e-4 is what the search for it leaves (2e-5 of an index over its slope).
            Assert.Equal(first, product, 2e-4 * first);
            Assert.True(c.Rising && c.Upper95 - c.Lower95 < 0.05 * c.Y, "an interval that says something");
        }

        // The planted error: with the spread of cells left out the edge would lie well outside the interval.
        double planted = Low * Math.Exp(Math.Max(z * PartSpread, 3 * index * PartSpread)) / 4e4;
        Assert.True(Math.Abs(first - planted) > 1.53 * (map.Crossings[0].Upper95 - map.Crossings[0].Lower95) / 2.0 * map.Crossings[0].X);
    }

    [Fact]
    public void CureOnly_PHalf_EdgeFollowsRootOfIrradiance()
    {
        const double P = 0.5, Degree = 0.85, Maximum = 0.97;
        var map = Map(With(Chain().NoLimit(Response.Dose).Cure(Maximum, RateLot, P).Limit(Response.DegreeOfCure, Degree, null).Capability(1.33), Study(1e-3)));
        double need = -Math.Log(1 - (Degree / Maximum)) / RateLot;
        double spread = P * Math.Max((3 * 1.33 * PartSpread) + (NormalAt95 * CellSpread), 3.0902323061678132 * Math.Sqrt((CellSpread * CellSpread) + (PartSpread * PartSpread)));
        Assert.True(map.Crossings.Length >= 5);
        double first = Math.Pow(4 * map.Crossings[0].X, P) * map.Crossings[0].Y;
        foreach (var c in map.Crossings)
        {
            double effect = Math.Pow(4 * c.X, P) * c.Y, expected = need * Math.Exp(spread);
            Assert.True(Math.Abs(effect - expected) <= 1.53 * (c.Upper95 - c.Lower95) / 2 / c.Y * effect, $"I^p·t = {effect}, expected {expected}");
            Assert.Equal(first, effect, 2e-4 * first);
        }

        // Equal dose is not the edge: from the lowest to the highest irradiance the set dose at it changes by the root of their ratio.
        var (a, b) = (map.Crossings[0], map.Crossings[^1]);
        Assert.Equal(Math.Pow(b.X / a.X, 1 - P), b.X * b.Y / (a.X * a.Y), 1e-3);
    }

    [Fact]
    public void TwoLimits_BindWhereTheAlgebraSays()
    {
        const double P = 0.5, Degree = 0.85, Maximum = 0.97;
        double need = -Math.Log(1 - (Degree / Maximum)) / RateLot, b = (3 * 1.33 * PartSpread) + (NormalAt95 * CellSpread);
        var map = Map(With(Chain().NoLimit(Response.Dose).Limit(Response.Dose, Low, null).Cure(Maximum, RateLot, P).Limit(Response.DegreeOfCure, Degree, null).Capability(1.33), Study(1e-3)));
        int checkedPoints = 0;
        foreach (var c in map.Crossings)
        {
            double logE = Math.Log(4 * c.X), byDose = Math.Log(Low / 1e4) + b - logE, byCure = Math.Log(need) + (P * (b - logE));
            if (Math.Abs(byDose - byCure) > 0.02)
            {
                Assert.Equal(byDose > byCure ? Response.Dose : Response.DegreeOfCure, map.Case.Limits[c.Binding].Response);
                checkedPoints++;
            }

            // 0.008: three standard errors of a percentile of 2,048 cells (1.645 · c · … ≈ 0.0026 in ln E).
            Assert.Equal(Math.Max(byDose, byCure), Math.Log(c.Y), 0.008);
        }

        Assert.True(checkedPoints >= 5);
        Assert.Equal(2, map.Crossings.Select(c => c.Binding).Distinct().Count());
    }

    [Fact]
    public void UnknownExponent_EdgeCarriesItsBand()
    {
        const double Degree = 0.85, Maximum = 0.97;
        var cell = With(
            Chain(20, 256).NoLimit(Response.Dose).Cure(Maximum, RateLot, Unknown(new UniformDistribution(0.4, 0.8))).Limit(Response.DegreeOfCure, Degree, null).Capability(1.33),
            Study(1e-3) with { Time = new(0.8, 3.5) });
        var map = Map(cell);
        double need = -Math.Log(1 - (Degree / Maximum)) / RateLot, b = (3 * 1.33 * PartSpread) + (NormalAt95 * CellSpread);
        var plan = new RunPlan(cell);
        double[] p = [.. Enumerable.Range(0, 20).Select(w => new WorldValues(plan, w).Fixed(cell.Cure!.Exponent))];
        var point = map.Crossings.Last(c => c.Band is { Withheld: null });
        double[] t = [.. p.Select(v => Math.Exp(Math.Log(need) + (v * (b - Math.Log(4 * point.X)))))];

        // 2 %: the percentile of 256 cells of a world is known to 0.9 % in ln t, and a world's edge is straight between judged times.
        Assert.Equal(1.0, point.Band!.Lower05!.Value / CureSim.Core.Statistics.SampleQuantile.Of(t, 0.05), 0.02);
        Assert.Equal(1.0, point.Band.Upper95!.Value / CureSim.Core.Statistics.SampleQuantile.Of(t, 0.95), 0.02);
        Assert.True(point.Band.Upper95 / point.Band.Lower05 > 1.15);
    }

    [Fact]
    public void NoRoomBetweenLimits_WindowIsEmptyAndSaysWhatWouldOpenIt()
    {
        var map = Map(With(Chain(1, 512).NoLimit(Response.Dose).Limit(Response.Dose, 3e4, 3.9e4).Capability(1.33), Study(1e-3, 13) with { Time = new(1.5, 2.0) }));
        Assert.True(map.IsEmpty);
        Assert.Null(map.Rectangle);
        var best = map.SetPoint;
        Assert.All(best.Own, o => Assert.True(o.Mean < 0.0));
        var (alone, two) = Opening.Of(map, new MapSize(2, 1), 2, CancellationToken.None);

        // In the middle each limit is d = ln(3.9/3)/2 = 0.131 away: so 2.5 % of cells fail on each side: margin (d − 1.96·c)/(3·s) − 1.33 = −1.14; −0.51 with c halved, −0.96 with s halved, +0.31 with both.
        // 0.1: the middle lies between two settings, and the 5th percentile is that of 512 cells.
        Assert.Equal(["emitter_irradiance", "ripple"], alone.Select(e => e.Spread.Id));
        Assert.Equal(-0.51, alone[0].Margin, 0.1);
        Assert.Equal(-0.96, alone[1].Margin, 0.1);

        // Both halved, the fraction is nearer: (3.83 − 3.09)/3 = 0.25 in the middle; half a step of 2.4 % off it costs up to 0.12, and 512 cells scatter.
        Assert.InRange(two!.Value.Margin, 0.05, 0.3);
    }

    [Fact]
    public void Rectangle_HoldsAtItsCornersAndIsAsLargeAsTheAlgebraAllows()
    {
        var map = Map(With(Chain().NoLimit(Response.Dose).Limit(Response.Dose, 2.4e4, 4.6e4).Capability(1.33), Study(1e-3, 17)));
        var r = map.Rectangle!;
        double b = (3 * 1.33 * PartSpread) + (NormalAt95 * CellSpread), low = 2.4 / 4.0 * Math.Exp(b), high = 4.6 / 4.0 * Math.Exp(-b);
        Assert.True(r.FromX * r.FromY >= low * 0.995, "the corner of least dose");
        Assert.True(r.ToX * r.ToY <= high * 1.005, "the corner of most dose");

        // The best split of ln(high/low) between the two settings is half and half: area ln²/4. Steps of settings and simultaneous confidence cost some of it.
        double most = Math.Pow(Math.Log(high / low) / 2.0, 2);
        Assert.InRange(r.Area, 0.4 * most, 1.02 * most);
        Assert.True(r.Critical is > 1.6448 and < 4.0, $"{r.Critical} standard errors");
        Assert.True(map.SetPoint.X > r.FromX && map.SetPoint.X < r.ToX && map.SetPoint.Y > r.FromY && map.SetPoint.Y < r.ToY);
    }

    private static double Normal(double p) => new NormalDistribution(0, 1).Quantile(p);
}

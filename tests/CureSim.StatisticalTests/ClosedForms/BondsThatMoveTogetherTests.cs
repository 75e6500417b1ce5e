using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;
using CureSim.Engine.State;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.ClosedForms;

/// <summary>Parts whose bonds draw nothing for themselves: exposure time and ripple move all of them together, so the dimmest and the brightest bond decide.</summary>
public class BondsThatMoveTogetherTests
{
    private const double E0 = 1e4;
    private const double Ripple = 0.02;

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    private static ScenarioBuilder Cell => new ScenarioBuilder().Sites(4, 2).Ripple(Log(Ripple)).Limit(Response.Dose, 0.9 * E0, 1.08 * E0);

    /// <summary>ln irradiance of the four sites, ln W/m², by state: the bonds of a part up to 0.06 apart, and in the last two states further than the window is wide.</summary>
    private static double[] State(int k) =>
        [.. Enumerable.Range(0, 4).Select(i => Math.Log(E0) + (0.04 * Math.Sin((3 * k) + 1)) + ((k < 38 ? 0.03 : 0.2) * Math.Sin((5 * k) + (2 * i))))];

    [Fact]
    public void Probability_IsThatOfTheDimmestAndTheBrightestBond()
    {
        var judge = new RunPlan(Cell.Build()).FirstWorld.Judge;
        double[] row = new double[OwnFactorTable.Points];
        judge.Table.Slice(0.01, 0, 0, row);
        double Tail(double z) => BlockMath.NormalCdf(z / Ripple);
        int small = 0;
        for (int k = 0; k < 40; k++)
        {
            double[] e = State(k);
            double low = Math.Log(0.9 * E0), high = Math.Log(1.08 * E0);
            double part = 0.5 * Enumerable.Range(0, 2).Sum(g => Math.Min(1.0, Tail(low - Math.Min(e[2 * g], e[(2 * g) + 1])) + Tail(Math.Max(e[2 * g], e[(2 * g) + 1]) - high)));
            double bond = 0.25 * e.Sum(x => Tail(low - x) + Tail(x - high));
            var found = judge.Probability(e, row, 0.0, 0.0);

            // The row's grid and interpolation allow a part in ten thousand (BatchOfStatesTests). Independent bonds would give up to twice as much.
            Assert.True(Math.Abs((found.Part / part) - 1.0) < 2e-4, $"state {k}: {found.Part:G8} is not {part:G8}");
            Assert.True(Math.Abs((found.Bond / bond) - 1.0) < 2e-4, $"state {k}: {found.Bond:G8} is not {bond:G8}");
            small += part < 0.01 ? 1 : 0;
        }

        Assert.InRange(small, 3, 37);
    }

    [Fact]
    public void TimeAndRipple_AddTheirLogs()
    {
        // Both shared; the log of a normal time is not normal, so the law is integrated over time here.
        var judge = new RunPlan(Cell.Exposure(1, error: Log(0.03)).Build()).FirstWorld.Judge;
        double[] row = new double[OwnFactorTable.Points];
        judge.Table.Slice(0.01, 0, 0, row);
        foreach (double margin in (double[])[0.02, 0.06, 0.10])
        {
            double e = Math.Log(0.9) + margin, sum = 0.0, weight = 0.0;
            for (double s = -9.0; s <= 9.0; s += 1e-3)
            {
                double w = Math.Exp(-0.5 * s * s), log = Math.Log(1.0 + (0.03 * s));
                weight += w;
                sum += w * (BlockMath.NormalCdf((Math.Log(0.9) - e - log) / Ripple) + BlockMath.NormalCdf((e + log - Math.Log(1.08)) / Ripple));
            }

            double at = e + Math.Log(E0), found = judge.Probability([at, at, at, at], row, 0.0, 0.0).Part;
            Assert.True(Math.Abs((found / (sum / weight)) - 1.0) < 2e-4, $"{margin}: {found:G8} is not {sum / weight:G8}");
        }
    }

    [Fact]
    public void Batch_IsTheSameBitsAsOneByOne()
    {
        var judge = new RunPlan(Cell.Build()).FirstWorld.Judge;
        var batch = new JudgeBatch(40, 4);
        double[] row = new double[OwnFactorTable.Points];
        judge.Table.Slice(0.01, 0, 0, row);
        for (int k = 0; k < 40; k++)
        {
            double[] e = State(k);
            for (int i = 0; i < 4; i++)
            {
                batch.LogE[i][k] = e[i];
            }

            batch.Rows[k] = row;
            batch.LimitShift[k] = 0.002 * k;
        }

        batch.Count = 40;
        judge.Probabilities(batch);
        Assert.All(Enumerable.Range(0, 40), k => Assert.Equal(judge.Probability(State(k), row, 0.0, 0.002 * k), (batch.Part[k], batch.Bond[k])));
        Assert.True(batch.Part.AsSpan(0, 40).ToArray().Distinct().Count() > 30);
    }
}

using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.State;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.ClosedForms;

/// <summary>States judged pass by pass, and how far a verdict says that its state may move.</summary>
public class VerdictBoundsTests
{
    private const double E0 = 1e4;
    private const int States = 120;

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    /// <summary>A cell with two sites: own distance and aim; exposure time and ripple shared when its bonds belong to one part.</summary>
    private static StateJudge JudgeOf(int sitesPerPart, double upper, bool irradiance)
    {
        var cell = new ScenarioBuilder().Sites(2, sitesPerPart).Limit(Response.Dose, 0.8 * E0, upper * E0).Exposure(1, error: Log(0.02)).Ripple(Log(0.015)).Capability(1.33)
            .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), setup: Log(2e-4), part: Log(4e-4)).Aim(new GaussianBeam(0.004, 2), setup: Log(2e-4), part: Log(3e-4));
        return new RunPlan((irradiance ? cell.Limit(Response.Irradiance, 0.79 * E0, 1.02 * upper * E0) : cell).Build()).FirstWorld.Judge;
    }

    private static JudgeBatch Judged(StateJudge judge)
    {
        var batch = new JudgeBatch(States, 2);
        for (int k = 0; k < States; k++)
        {
            var rows = new double[2 * OwnFactorTable.Points];
            for (int i = 0; i < 2; i++)
            {
                judge.Table.Slice(0.01 + (2e-4 * Math.Sin((2 * k) + i)), 2e-4 * Math.Abs(Math.Cos(k + (3 * i))), 0, rows.AsSpan(i * OwnFactorTable.Points, OwnFactorTable.Points));
                batch.LogE[i][k] = Math.Log(E0) + (0.3 * Math.Sin(3.7 * k)) + (0.02 * Math.Sin((5 * k) + i));
            }

            batch.Rows[k] = rows;
            batch.LimitShift[k] = 0.01 * Math.Sin(5 * k);
        }

        batch.Count = States;
        judge.Probabilities(batch);
        return batch;
    }

    [Theory]
    [InlineData(1, 1.5, false)]
    [InlineData(2, 1.5, false)]
    [InlineData(1, 1.15, true)]
    [InlineData(2, 1.4, true)]
    public void PassByPass_IsTheSameBitsAsOneByOne(int sitesPerPart, double upper, bool irradiance)
    {
        var judge = JudgeOf(sitesPerPart, upper, irradiance);
        var batch = Judged(judge);
        for (int k = 0; k < States; k++)
        {
            Assert.Equal(judge.Probability([batch.LogE[0][k], batch.LogE[1][k]], batch.Rows[k], 0.0, batch.LimitShift[k]), (batch.Part[k], batch.Bond[k]));
        }

        Assert.True(batch.Part.AsSpan(0, States).ToArray().Distinct().Count() > States / 2);
    }

    [Theory]
    // Below the depth to which slopes are bounded nothing is counted on: a required index of 3 lies at a score of -9.
    [InlineData(3.0, -9.2, 0.0, true)]
    [InlineData(3.0, -8.9, 0.0, false)]
    [InlineData(3.0, -6.0, 0.5, false)]
    [InlineData(1.0, -9.0, 3.5, true)]
    public void NoWayIsCounted_BelowTheDepthOfSlopes(double capability, double score, double way, bool qualified)
    {
        var judge = new RunPlan(new ScenarioBuilder().Limit(Response.Dose, 0.8 * E0, null).Ripple(Log(0.03)).Capability(capability).Build()).FirstWorld.Judge;
        var (ok, bounds) = judge.VerdictOf(score, uppermost: 40.0, nominalMargin: 10.0, (1.0, 1.0));
        Assert.Equal(qualified, ok);
        Assert.Equal(new StateBounds(way, way), bounds);
    }

    [Theory]
    // One bond a part or two with what they share; the upper limit far away, so that falling light alone matters, or nearly as near as the lower one.
    [InlineData(1, 1.5, false)]
    [InlineData(2, 1.5, false)]
    [InlineData(1, 1.4, false)]
    [InlineData(2, 1.45, true)]
    public void VerdictsHold_WithinTheirBounds(int sitesPerPart, double upper, bool irradiance)
    {
        var judge = JudgeOf(sitesPerPart, upper, irradiance);
        var batch = Judged(judge);
        double beyond = 0.0;
        int qualified = 0, oneSided = 0;
        for (int k = 0; k < States; k++)
        {
            double[] at = [batch.LogE[0][k], batch.LogE[1][k]];
            double margin = judge.NominalMargin(at, 0.0, batch.LimitShift[k]);
            var a = judge.Table.SlopesOf(batch.Rows[k].AsSpan(0, OwnFactorTable.Points));
            var b = judge.Table.SlopesOf(batch.Rows[k].AsSpan(OwnFactorTable.Points));
            var (ok, bounds) = judge.VerdictOf(batch.Score[k], batch.Uppermost[k], margin, (Math.Max(a.Any, b.Any), Math.Max(a.Lower, b.Lower)));
            Assert.Equal(judge.Verdict(batch.Part[k], margin), ok);
            qualified += ok ? 1 : 0;
            oneSided += Math.Abs(bounds.Fall - bounds.Rise) > 1e-3 ? 1 : 0;
            foreach (double first in (double[])[-1, -0.5, 0, 0.5, 1])
            {
                foreach (double second in (double[])[-1, 0, 1])
                {
                    bool Holds(double times)
                    {
                        double Moved(double share) => times * share * Math.Min(share < 0 ? bounds.Fall : bounds.Rise, 0.5) * 0.999999;
                        double[] moved = [at[0] + Moved(first), at[1] + Moved(second)];
                        double there = judge.NominalMargin(moved, 0.0, batch.LimitShift[k]);
                        return judge.Verdict(judge.Probability(moved, batch.Rows[k], 0.0, batch.LimitShift[k]).Part, there) == ok && (there >= 0) == (margin >= 0);
                    }

                    Assert.True(Holds(1.0), $"state {k}, score {batch.Score[k]:F3}, {first}, {second}: the verdict changes within {bounds}");
                    // The planted error: bounds that are three times as wide.
                    beyond += Holds(3.0) ? 0 : 1;
                }
            }
        }

        Assert.InRange(qualified, 5, States - 5);
        Assert.True(beyond > 20, $"only {beyond} verdicts change beyond their bounds");
        Assert.True(oneSided > 10, $"only {oneSided} bounds differ between falling and rising light");
    }
}

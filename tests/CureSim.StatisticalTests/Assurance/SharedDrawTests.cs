using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Studies.Assurance;
using static CureSim.Checks.Fixtures.Uncertain;
using static CureSim.StatisticalTests.Assurance.QualifiedCells;

namespace CureSim.StatisticalTests.Assurance;

/// <summary>
/// Parts that share a set-up or a lot. Closed forms derived: with shared spread only, n parts of k set-ups pass with qᵏ; with both spreads (variance components of ln dose)
/// with ∏ ∫ φ(z) Φ((σs·z − l)/σp)^{n_k} dz.
/// </summary>
public class SharedDrawTests
{
    private const int Lifetimes = 3000;
    private const int Setups = 40;
    private const double Shared = 0.06;

    // The emitter is replaced every sixteenth step, and each replacement is a new set-up (a new re-seat of the guide). The engine knows the fraction of one state
    // in each stretch of four steps, so here that of every set-up.
    private static ScenarioBuilder SetUpOften(double nonconforming, double part, ulong seed)
    {
        double sigma = Math.Sqrt((Shared * Shared) + (part * part));
        var cell = new ScenarioBuilder().Clock(Step, 16 * Setups).Run(lifetimes: Lifetimes, seed: seed).ReplaceEmitterAt(16 * Step).Guide(reseat: Log(Shared))
            .Limit(Response.Dose, lower: 1e4 * Math.Exp(sigma * BlockMath.NormalQuantile(nonconforming)));
        return part > 0 ? cell.Ripple(Log(part)) : cell;
    }

    [Fact]
    public void SetupSpreadOnly_PartsOfOneSetupProveAsMuchAsOne()
    {
        var plan = Study(SetUpOften(0.3, 0.0, 41), Attribute(20)).Plans[0];
        foreach (var row in plan.Rows.Where(r => r.Taking is { EmitterAges: 1 }))
        {
            Near(Math.Pow(0.7, row.Taking!.Setups), row.Horizon!.Pass.Estimate.Value, Lifetimes);
        }

        // Of m bad set-ups among the cell's 40, the first is one with a chance of m/40, the cell's own fraction: 20 parts of it prove just as much as one part.
        Assert.InRange(1.0, plan.Own.EquivalentParts!.Lower95!.Value, plan.Own.EquivalentParts.Upper95!.Value);
        Assert.Equal([1, 2, 3, 5, 10], plan.Rows.Where(r => r.Taking is { EmitterAges: 1 }).Select(r => r.Taking!.Setups));
    }

    [Fact]
    public void LotSpreadOnly_PartsOfOneLotProveAsMuchAsOne()
    {
        // ln dose = −α·x with α normal by lot; the set-up never changes, so only the spread over lots can be carried out.
        double limit = -(0.2 + (0.05 * BlockMath.NormalQuantile(0.7)));
        var cell = new ScenarioBuilder().Clock(Step, 64).Run(lifetimes: Lifetimes, seed: 42).Substrate(0.0, 1e-3, Varying(new NormalDistribution(200, 50)), lotSteps: 5)
            .Limit(Response.Dose, lower: 1e4 * Math.Exp(limit));
        var plan = Study(cell, Attribute(20, lots: 3)).Plans[0];
        Near(Math.Pow(0.7, 3), plan.Own.Horizon!.Pass.Estimate.Value, Lifetimes);
        Near(0.7, plan.Rows.Single(r => r.Taking is { Setups: 1, Lots: 1, EmitterAges: 1 }).Horizon!.Pass.Estimate.Value, Lifetimes);
        Assert.All(plan.Rows.Where(r => r.Taking is { Setups: > 1 }), r => Assert.Contains("0 % of the lifetimes", r.Withheld, StringComparison.Ordinal));
        Assert.Equal(10 * 8 + 4, plan.Own.LastHours!.Value, 9); // third lot: from step 10 of 8 h; middle of the step
    }

    [Theory]
    [InlineData(0.05)]
    [InlineData(0.01)]
    public void SetupAndPartSpread_FollowsTheVarianceComponents(double nonconforming)
    {
        const double part = 0.04;
        var plan = Study(SetUpOften(nonconforming, part, 43), Attribute(59)).Plans[0];
        double limit = Math.Sqrt((Shared * Shared) + (part * part)) * BlockMath.NormalQuantile(nonconforming);
        foreach (var row in plan.Rows.Where(r => r.Taking is { EmitterAges: 1 }))
        {
            var taking = row.Taking!;
            double expected = Enumerable.Range(0, taking.Occasions).Aggregate(1.0, (product, j) => product * OneSetup(taking.PartsAt(j), limit, part));
            Near(expected, row.Horizon!.Pass.Estimate.Value, Lifetimes);
        }

        // Planted error: independent parts would pass far less often than those of one set-up.
        Assert.True(plan.Own.Horizon!.Pass.Estimate.Value - Math.Pow(1 - nonconforming, 59) > 0.1);
    }

    [Fact]
    public void QualificationMoment_TextbookHoldsForTheStateThatWasTested()
    {
        // The parts of one state are independent given it: judged by its own fraction, no more pass wrongly than the textbook says.
        var own = Study(SetUpOften(0.05, 0.04, 44), Attribute(59)).Plans[0].Own;
        double wrongly = own.AtQualification!.PassIfNotGood.Estimate.Value!.Value;
        Assert.InRange(wrongly, 0.0, 0.05);
        Assert.True(own.Horizon!.PassIfNotGood.Estimate.Value > 0.3);
    }

    [Fact]
    public void EmitterAges_AreStartMiddleAndEndOfALife()
    {
        var plan = Study(new ScenarioBuilder().Clock(Step, 64).Run(lifetimes: 64, seed: 45).ReplaceEmitterAt(30 * Step), Attribute(9, ages: 3)).Plans[0];
        Assert.Equal(4.0, plan.Own.FirstHours!.Value, 9); // middle of the first step
        Assert.Equal((20 * 8) + 4, plan.Own.LastHours!.Value, 9); // last third of 30 steps of 8 h begins with step 20
    }

    // ∫ φ(z) Φ((σs·z − l)/σp)ⁿ dz by Simpson's rule on 4000 intervals of −9 … 9: its error is below 1e-10, far below three standard errors.
    private static double OneSetup(int parts, double limit, double part)
    {
        const int intervals = 4000;
        double h = 18.0 / intervals, sum = 0;
        for (int i = 0; i <= intervals; i++)
        {
            double z = -9 + (i * h);
            double value = Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI) * Math.Pow(BlockMath.NormalCdf(((Shared * z) - limit) / part), parts);
            sum += value * (i == 0 || i == intervals ? 1 : i % 2 == 1 ? 4 : 2);
        }

        return sum * h / 3;
    }
}

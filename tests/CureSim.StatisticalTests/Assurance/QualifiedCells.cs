using System.Collections.Immutable;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Studies.Assurance;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Assurance;

/// <summary>Small cells and plans for the closed forms of assurance.</summary>
internal static class QualifiedCells
{
    public const double Step = 28800;

    public static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    public static QualificationPlan Attribute(int parts, int allowed = 0, int setups = 1, int lots = 1, int ages = 1, double reliability = 0.95, PartReading reading = PartReading.TrueValue) =>
        new($"attribute {parts} {allowed} {setups} {lots} {ages}", Acceptance.Attribute, parts, allowed, 0.95, reliability, double.NaN, setups, lots, ages, QualificationGate.None, reading, GoodOver.Horizon);

    public static QualificationPlan Measured(Acceptance accept, int parts, double ppk = 1.0) =>
        new($"{accept} {parts}", accept, parts, 0, 0.95, accept == Acceptance.Capability ? Core.Numerics.BlockMath.NormalCdf(3 * ppk) : 0.95, ppk, 1, 1, 1, QualificationGate.None, PartReading.TrueValue, GoodOver.Horizon);

    public static AssuranceStudy Study(ScenarioBuilder cell, params QualificationPlan[] plans) =>
        AssuranceStudy.Run(new RunPlan(cell.Build() with { Qualification = ImmutableArray.Create(plans) }), threads: 1);

    /// <summary>Three standard errors of a share: a right program misses one such check in 370.</summary>
    public static void Near(double expected, double? seen, double trials, double allowance = 0.0)
    {
        Assert.NotNull(seen);
        double error = 3.0 * Math.Sqrt(expected * (1.0 - expected) / trials);
        Assert.True(Math.Abs(seen.Value - expected) <= error + allowance, $"expected {expected:G6} ± {error:G3}, seen {seen:G6}");
    }
}

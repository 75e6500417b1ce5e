using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>What is accepted and should be thought about.</summary>
public class WarningTests
{
    private const string Checks = "checks={ interval: 1 week, target: 3 W/cm2 }";

    private static string[] Warnings(params string[] sets) =>
        [.. ScenarioFiles.Good(ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml", sets)).Warnings.Select(w => $"{w.Path}: {w.Found}")];

    [Fact]
    public void Smallest_HasNone() => Assert.Empty(Warnings());

    [Fact]
    public void Routine_ThatCannotHoldTheCell_IsTold()
    {
        // 240 parts an hour for 80 h: 19 200 exposures at 5 %/10000 are 9.6 %; without a loop the lamp loses ln 2 in 3000 h of 80 h each: 1.85 %.
        string warning = Assert.Single(Warnings(Checks, "tip={ fouling: 5 %/10000 }", "source.ageing={ exponential: { output: 50 %, at: 3000 h } }"));
        Assert.Contains("falls by 11.4 % on average (fouling 9.6 %, guide 0 %, ageing 1.8 %, sensor 0 %)", warning, StringComparison.Ordinal);
    }

    [Fact]
    public void Target_WithoutHeadroom_IsTold() =>
        Assert.Contains("leaves 1.7 % of headroom", Assert.Single(Warnings("checks={ interval: 1 week, target: 5.9 W/cm2 }")), StringComparison.Ordinal);

    [Fact]
    public void NominalBond_OutsideTheWindow_IsTold() =>
        Assert.StartsWith("window.dose: limits that the nominal bond of a new cell is outside: 12 J/cm2", Assert.Single(Warnings("window.dose.lower=13 J/cm2")), StringComparison.Ordinal);

    [Fact]
    public void Interval_BeyondTheHorizon_IsTold() =>
        Assert.Contains(Warnings(Checks, "production.horizon=2 days"), w => w.StartsWith("checks.interval: an interval longer than the horizon", StringComparison.Ordinal));

    [Theory]
    [InlineData("factor: 110 %", "nothing", "disturbances.d.factor: a factor of 110 % on average")]
    [InlineData("distance: 1 mm", "nothing", "disturbances.d.distance: a shift of distance, on which nothing depends")]
    [InlineData("aim: 1 mm", "nothing", "disturbances.d.aim: a shift of aim with a flat beam")]
    [InlineData("factor: 90 %", "fixture check", "disturbances.d.cleared_by: \"fixture check\" in a cell whose checks")]
    [InlineData("factor: 90 %", "bad indication", "disturbances.d.cleared_by: \"bad indication\" in a cell without checks")]
    public void Disturbance_ThatDoesNothingOrStays_IsTold(string effect, string clearedBy, string start) =>
        Assert.StartsWith(start, Assert.Single(Warnings($"disturbances=[ {{ name: d, rate: 1 /1000 h, {effect}, cleared_by: {clearedBy} }} ]")), StringComparison.Ordinal);

    [Fact]
    public void AimErrors_WithAFlatBeam_AreTold() =>
        Assert.StartsWith("fixture.aim: aim errors with a flat beam", Assert.Single(Warnings("fixture={ distance: { nominal: 10 mm }, aim: {}, spread: none }")), StringComparison.Ordinal);

    [Fact]
    public void Emitter_PastItsPlannedHours_IsTold() =>
        Assert.StartsWith("now.emitter_hours: hours beyond source.replace_at", Assert.Single(Warnings("now={ emitter_hours: 3100 h }")), StringComparison.Ordinal);
}

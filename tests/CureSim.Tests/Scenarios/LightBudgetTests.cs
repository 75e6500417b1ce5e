using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>The nominal light budget against values worked out by hand.</summary>
public class LightBudgetTests
{
    private static LightBudget Of(params string[] sets) => LightBudget.Nominal(ScenarioFiles.Cell(sets));

    private static BudgetLine Line(LightBudget budget, string start) => budget.Lines.Single(l => l.Name.StartsWith(start, StringComparison.Ordinal));

    [Fact]
    public void Open_Bond_WithoutChecks_SeesTheStatedIrradiance()
    {
        LightBudget budget = Of();
        Assert.Equal(60000, budget.Responses.Single(r => r.Response == Response.Irradiance).Value);
        Assert.Equal(120000, budget.Responses.Single(r => r.Response == Response.Dose).Value);
        Assert.Equal(1, budget.Drive);
    }

    [Fact]
    public void Each_Line_IsTheLastTimesItsFactor()
    {
        LightBudget budget = LightBudget.Nominal(ScenarioReader.Read(Path.Combine(ScenarioFiles.Shipped, "hub-bond-lamp.yaml")).Cell!);
        for (int i = 1; i < budget.Lines.Length; i++)
        {
            Assert.Equal(budget.Lines[i - 1].RunningWattsPerSquareMetre * budget.Lines[i].Factor, budget.Lines[i].RunningWattsPerSquareMetre);
        }

        Assert.Equal(budget.Lines[^1].RunningWattsPerSquareMetre, budget.Responses[0].Value);
    }

    [Fact]
    public void Target_OnTheDriveGrid_SetsTheDriveAndTheHeadroom()
    {
        LightBudget budget = Of("checks={ interval: 1 week, target: 3.02 W/cm2 }");
        Assert.Equal(0.5, budget.Drive, 1e-12);      // 3.02/6 = 0.503 to the nearest per cent
        Assert.Equal(2, budget.Headroom, 1e-12);
        Assert.Equal(60000, budget.FullDriveAtRadiometer);
    }

    [Fact]
    public void Legs_RescaleTheStatedIrradiance() =>
        Assert.Equal(0.5, Line(Of("production.sites=4", "source.stated_legs=2"), "4 legs, stated for 2").Factor);

    [Fact]
    public void Substrate_TransmitsASlab()
    {
        // R = 0.04 (n = 1.5), α = 0.2/mm, d = 2 mm: 0.618211 (recomputed); 1e-6: its printed digits.
        Assert.Equal(0.618211, Line(Of("substrate={ thickness: 2 mm, absorption: 0.2 /mm, index: 1.5 }"), "substrate").Factor, 1e-6);
    }

    [Theory]
    [InlineData("cone", 10, 844.414)]
    [InlineData("cone", 20, 332.832)]
    [InlineData("cone_axis", 10, 2561.05)]
    [InlineData("cone_axis", 20, 669.813)]
    public void Working_Distance_FollowsTheNamedLaw(string law, int distance, double milliwatts)
    {
        // mW/cm² for 1 W, a = 2.5 mm, θ = 20°; 5092.96 at the face (recomputed, the 10 mm row confirmed by a ray trace). 1e-5: the printed digits.
        // The reference is 1 nm from the face.
        LightBudget budget = Of($"fixture={{ distance: {{ nominal: {distance} mm, reference: 1e-6 mm }}, spread: {{ {law}: {{ radius: 2.5 mm, half_angle: 20 deg }} }} }}", "window.dose.lower=0.1 J/cm2");
        Assert.Equal(1, Line(budget, "working distance").Factor / (milliwatts / 5092.96), 1e-5);
    }

    [Fact]
    public void Beam_IsJudgedAtTheEdgeOfTheBond()
    {
        const string fixture = "fixture={ distance: { nominal: 10 mm }, spread: none, beam: { gaussian: { radius: 4 mm } }, bond_radius: 1 mm";

        // exp(−2·(1/4)²) = 0.882497 (recomputed).
        Assert.Equal(0.882497, Line(Of(fixture + " }"), "beam").Factor, 1e-6);
        Assert.Equal(1, Line(Of(fixture + ", judge_at: centre }"), "beam").Factor);
    }

    [Fact]
    public void DegreeOfCure_FollowsTheRateLaw()
    {
        // k = 0.8/s, p = 0.5, E = 1 W/cm², t = 3 s: 1 − exp(−2.4) = 0.909282; at 0.5 W/cm² and 6 s 0.966430 (both recomputed).
        string[] cure = ["cure={ rate: { lot: 0.8 /s, part: 0 % }, exponent: 0.5 }", "window={ degree_of_cure: { lower: 50 % } }"];
        Assert.Equal(0.909282, Of([.. cure, "source.irradiance=1 W/cm2", "exposure.time=3 s"]).Responses[2].Value, 5e-7);
        Assert.Equal(0.966430, Of([.. cure, "source.irradiance=0.5 W/cm2", "exposure.time=6 s"]).Responses[2].Value, 5e-7);
    }

    [Fact]
    public void InductionDose_TakesItsTimeOff()
    {
        // 1 J/cm² at 1 W/cm² is 1 s of the 3 s: 1 − exp(−1.6).
        LightBudget budget = Of(
            "cure={ rate: { lot: 0.8 /s, part: 0 % }, exponent: 0.5, induction_dose: 1 J/cm2 }", "window={ degree_of_cure: { lower: 50 % } }",
            "source.irradiance=1 W/cm2", "exposure.time=3 s");
        Assert.Equal(1 - Math.Exp(-1.6), budget.Responses[2].Value, 1e-12);
    }

    [Fact]
    public void BondFixture_ReadsTheDistance_TipAdapterDoesNot()
    {
        const string fixture = "fixture={ distance: { nominal: 20 mm, reference: 10 mm }, spread: { inverse_square: { virtual_distance: 0 mm } } }";
        Assert.Equal(60000, Of(fixture, "checks={ interval: 1 week, target: 3 W/cm2 }", "window.dose.lower=1 J/cm2").FullDriveAtRadiometer, 1e-9);
        Assert.Equal(15000, Of(fixture, "checks={ interval: 1 week, target: 1 W/cm2, measured_at: bond fixture }", "window.dose.lower=1 J/cm2").FullDriveAtRadiometer, 1e-9);
    }
}

using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>--set key=value.</summary>
public class OverrideTests
{
    private const string Slip = "disturbances=[ { name: bracket slips, rate: 1 /1000 h, factor: 90 %, cleared_by: nothing } ]";

    [Fact]
    public void Set_ReplacesAValue() => Assert.Equal(2400 * 3600, ScenarioFiles.Cell("source.replace_at=2400 h").Source.ReplaceAtBurnSeconds);

    [Fact]
    public void Set_MakesTheBlocksOnItsWay() =>
        Assert.Equal(0.02, ScenarioFiles.Cell("fixture.distance.nominal=20 mm", "fixture.spread=none").Fixture.NominalDistanceMetres);

    [Fact]
    public void Set_TakesALaterOneOverAnEarlier() => Assert.Equal(9UL, ScenarioFiles.Cell("run.seed=8", "run.seed=9").Run.Seed);

    [Fact]
    public void Set_ToNothing_TakesTheKeyOut() =>
        Assert.Equal(3000 * 3600, ScenarioFiles.Cell("source.replace_at=2400 h", "source.replace_at=").Source.ReplaceAtBurnSeconds);

    [Theory]
    [InlineData("disturbances.bracket slips.factor=80 %")]
    [InlineData("disturbances.1.factor=80 %")]
    public void Set_FindsAnItemByNameOrNumber(string set) => Assert.Equal(0.8, ScenarioFiles.Cell(Slip, set).Disturbances[0].Factor!.Mean);

    [Theory]
    [InlineData("source.irradiance=6", "--set source.irradiance: source.irradiance: found \"6\"; accepted: an irradiance with its unit")]
    [InlineData("source.irradience=6 W/cm2", "--set source.irradience: source: found the unknown key \"irradience\"")]
    [InlineData("seed", "--set seed: found \"seed\"; accepted: key=value")]
    [InlineData("=1", "--set : found \"=1\"; accepted: key=value")]
    [InlineData("source.kind.x=1", "--set source.kind.x: source.kind: found \"arc lamp\", which has no \"x\"")]
    [InlineData("source.kind={", "--set source.kind: found text that is not YAML")]
    public void Set_ThatIsWrong_IsAProblemOfTheOption(string set, string start) =>
        Assert.StartsWith(start, ScenarioFiles.Problems(set)[0], StringComparison.Ordinal);

    [Fact]
    public void Set_OfAnItemThatIsNotThere_NamesThoseThatAre() =>
        Assert.Equal("--set disturbances.slip.factor: disturbances: found no item \"slip\"; accepted: bracket slips", ScenarioFiles.Problems(Slip, "disturbances.slip.factor=1 %")[0]);

    [Fact]
    public void Resolved_Text_HoldsTheOverrides()
    {
        ScenarioReading reading = ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml", ["run.seed=77"]);
        Assert.Equal(77UL, ScenarioReader.ReadText(reading.ResolvedYaml, "again.yaml").Cell!.Run.Seed);
    }
}

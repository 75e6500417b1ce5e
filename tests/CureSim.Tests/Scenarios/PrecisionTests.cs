using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>The block run.precision: what it may hold, and what it excludes.</summary>
public class PrecisionTests
{
    private static ScenarioReading Read(params string[] sets) => ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml", sets);

    [Fact]
    public void Targets_AreReadInSi_AndTheCapHasADefault()
    {
        RunSettings run = ScenarioFiles.Good(Read(
            "run.precision={ mean_dose: 0.2 %, ppk: 0.02, cpk: 0.03, state_index: 0.05, fraction_nonconforming: 10 %, median_time_to_requalify: 50 h }")).Cell!.Run;
        Assert.Equal(
            [
                new(PreciseFigure.MeanDose, 0.002), new(PreciseFigure.Ppk, 0.02), new(PreciseFigure.Cpk, 0.03), new(PreciseFigure.StateIndex, 0.05),
                new(PreciseFigure.FractionNonconforming, 0.1), new(PreciseFigure.MedianTimeToRequalify, 180_000.0),
            ],
            run.Precision!.Targets.Select(t => t with { HalfWidth = Math.Round(t.HalfWidth, 9) })); // units are converted by multiplication, which may leave a last bit
        Assert.Equal((65536, 1, LeafRounds.Lifetimes), (run.Precision.MostLifetimes, run.Worlds, run.LifetimesPerWorld));
    }

    [Fact]
    public void Resolved_TextHasPrecisionAndNoLifetimes_AndComesBack()
    {
        ScenarioReading first = ScenarioFiles.Good(Read("run.precision={ ppk: 0.02, at_most: 8192 }"));
        Assert.DoesNotContain("lifetimes:", first.ResolvedYaml, StringComparison.Ordinal);
        ScenarioReading second = ScenarioFiles.Good(ScenarioReader.ReadText(first.ResolvedYaml, "resolved.yaml"));
        Assert.Equal(first.ResolvedYaml, second.ResolvedYaml);
        Assert.Equal(CellText.Of(first.Cell), CellText.Of(second.Cell));
    }

    [Fact]
    public void LifetimesBesidePrecision_IsOneClearProblem()
    {
        Problem problem = Assert.Single(Read("run.lifetimes=500", "run.precision.ppk=0.02").Problems);
        Assert.Equal("run.lifetimes", problem.Path);
        Assert.Contains("either lifetimes or precision", problem.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("run.precision={}", "run.precision", "at least one of mean_dose, ppk")]
    [InlineData("run.precision={ at_most: 8192 }", "run.precision", "at least one of mean_dose, ppk")]
    [InlineData("run.precision={ ppk: 0.02, at_most: 4095 }", "run.precision.at_most", "from 4096 to 10000000")]
    [InlineData("run.precision={ ppk: 2 % }", "run.precision.ppk", "a number such as")]
    [InlineData("run.precision={ ppk: 0 }", "run.precision.ppk", "more than 0")]
    [InlineData("run.precision={ fraction: 2 % }", "run.precision", "fraction_nonconforming")]
    [InlineData("run.precision=0.02", "run.precision", "a block with mean_dose")]
    public void Wrong_Block_IsOneProblem(string set, string path, string says)
    {
        Problem problem = Assert.Single(Read(set).Problems);
        Assert.Equal(path, problem.Path);
        Assert.Contains(says, problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Median_WithoutEventsToRequalifyOn_IsRefused()
    {
        Problem problem = Assert.Single(Read("requalification.after=[]", "run.precision={ median_time_to_requalify: 50 h }").Problems);
        Assert.Equal("run.precision.median_time_to_requalify", problem.Path);
    }

    [Fact]
    public void WithSomethingUnknown_WorldsAreExcluded_AndLifetimesStay()
    {
        string file = Path.Combine(ScenarioFiles.Shipped, "connector-unknowns.yaml");
        RunSettings run = ScenarioFiles.Good(ScenarioReader.Read(file, ["run.worlds=", "run.lifetimes=100", "run.precision={ ppk: 0.02 }"])).Cell!.Run;
        Assert.Equal((LeafRounds.Worlds(100), 100), (run.Worlds, run.LifetimesPerWorld));
        Assert.Equal(LeafRounds.LeastWorlds, ScenarioFiles.Good(ScenarioReader.Read(file, ["run.worlds=", "run.lifetimes=1000", "run.precision={ ppk: 0.02 }"])).Cell!.Run.Worlds);
        Assert.Contains("either worlds or precision", Assert.Single(ScenarioReader.Read(file, ["run.worlds=20", "run.precision={ ppk: 0.02 }"]).Problems).ToString(), StringComparison.Ordinal);
        Assert.Contains(
            "less than one round of 16 worlds of 1000 lifetimes",
            Assert.Single(ScenarioReader.Read(file, ["run.worlds=", "run.lifetimes=1000", "run.precision={ ppk: 0.02, at_most: 8192 }"]).Problems).ToString(), StringComparison.Ordinal);
    }
}

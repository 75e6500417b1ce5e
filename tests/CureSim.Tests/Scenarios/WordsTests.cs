using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>A scenario in words, and differences between two.</summary>
public class WordsTests
{
    [Fact]
    public void Description_ShowsEveryInputWithLevelAndOrigin()
    {
        ScenarioReading reading = ScenarioReader.Read(Path.Combine(ScenarioFiles.Shipped, "quick.yaml"));
        string[] lines = ScenarioWords.Describe(reading).Split('\n');
        Assert.Contains(lines, l => l.StartsWith("  irradiance ", StringComparison.Ordinal) && l.Contains("yours    emitter        { normal: { mean: 6.4 W/cm2, sd: 5 % } }", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.StartsWith("  sensor_drift ", StringComparison.Ordinal) && l.Contains("typical  cell ", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.StartsWith("  tries ", StringComparison.Ordinal) && l.Contains("default  - ", StringComparison.Ordinal));
        foreach (InputNote input in reading.Inputs)
        {
            string key = input.Path[(input.Path.IndexOf('.', StringComparison.Ordinal) + 1)..];
            Assert.Contains(lines, l => l.StartsWith("  " + key + " ", StringComparison.Ordinal) && l.EndsWith(input.Text, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Description_CountsOrigins()
    {
        ScenarioReading reading = ScenarioReader.Read(Path.Combine(ScenarioFiles.Shipped, "quick.yaml"));
        int Count(Origin origin) => reading.Inputs.Count(i => i.Origin == origin);
        Assert.Contains(
            $"{reading.Inputs.Length} inputs: {Count(Origin.Yours)} yours, {Count(Origin.Typical)} typical of the trade (replace them with your own), {Count(Origin.Default)} default",
            ScenarioWords.Describe(reading), StringComparison.Ordinal);
    }

    [Fact]
    public void Description_OfABrokenScenario_IsItsProblems()
    {
        ScenarioReading reading = ScenarioReader.ReadText("name: x\n", "x.yaml");
        string text = ScenarioWords.Describe(reading);
        Assert.StartsWith("5 problems\n", text, StringComparison.Ordinal);
        Assert.Contains(reading.Problems[0].ToString(), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Diff_FindsWhatDiffers_AndNothingElse()
    {
        ScenarioReading a = ScenarioReader.ReadText(ScenarioFiles.Smallest, "a.yaml");
        ScenarioReading b = ScenarioReader.ReadText(ScenarioFiles.Smallest, "b.yaml", ["source.replace_at=2000 h", "guide={}"]);
        Assert.Empty(ScenarioDiff.Compare(a, a));
        var differences = ScenarioDiff.Compare(a, b);
        InputDifference replaced = differences.Single(d => d.Path == "source.replace_at");
        Assert.Equal(("3000 h", "2000 h"), (replaced.First, replaced.Second));
        Assert.Equal((Origin.Typical, Origin.Yours), (replaced.FirstOrigin, replaced.SecondOrigin));
        Assert.All(differences.Where(d => d.Path != "source.replace_at"), d => Assert.StartsWith("guide", d.Path, StringComparison.Ordinal));
        Assert.Null(differences.Single(d => d.Path == "guide.loss").First);
        Assert.Equal(differences.Length, ScenarioDiff.Compare(b, a).Length);
    }

    [Fact]
    public void Diff_InWords_NamesBothSides()
    {
        ScenarioReading a = ScenarioReader.ReadText(ScenarioFiles.Smallest, "a.yaml");
        ScenarioReading b = ScenarioReader.ReadText(ScenarioFiles.Smallest, "b.yaml", ["source.replace_at=2000 h"]);
        Assert.Equal("source.replace_at\n  first   3000 h   (typical)\n  second  2000 h\n", ScenarioDiff.Describe(ScenarioDiff.Compare(a, b)));
        Assert.Equal("no differences\n", ScenarioDiff.Describe([]));
    }
}

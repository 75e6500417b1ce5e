using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Starting files.</summary>
public class NewScenarioTests
{
    public static TheoryData<string> Kinds() => [.. NewScenario.Kinds];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Starting_File_ReadsWithoutProblemsOrWarnings(string kind)
    {
        ScenarioReading reading = ScenarioFiles.Good(ScenarioReader.ReadText(NewScenario.Write(kind), "new.yaml"));
        Assert.Empty(reading.Warnings);
        Assert.Equal(kind, reading.Cell!.Source.Kind);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Starting_File_ShowsEveryKey(string kind)
    {
        string text = NewScenario.Write(kind);
        foreach (Key block in ScenarioKeys.Root.Keys.Where(k => k.Name != "origin"))
        {
            Assert.Contains(block.Name + ":", text, StringComparison.Ordinal);
            if (block.Shape is BlockShape shape)
            {
                Assert.All(shape.Table.Keys, k => Assert.Contains($"  {k.Name}: ", text, StringComparison.Ordinal));
            }
        }
    }

    [Fact]
    public void Comments_OfAKeyLeftOut_ShowWhatIsTaken()
    {
        // Take the comment sign off one default after another: the cell stays the same.
        string text = NewScenario.Write("arc lamp");
        string plain = CellText.Of(ScenarioReader.ReadText(text, "new.yaml").Cell);
        foreach (string key in new[] { "horizon: 5 yr", "emitters: shared", "failure: {", "sensor_drift: {", "imbalance: 4 %", "fouling: {", "tries: 1", "error: {" })
        {
            string with = text.Replace("#   " + key, "  " + key, StringComparison.Ordinal).Replace("guide: {}", "guide:", StringComparison.Ordinal).Replace("tip: {}", "tip:", StringComparison.Ordinal);
            with = with.Contains("\n  imbalance", StringComparison.Ordinal) ? with : with.Replace("\nguide:", "\nguide: {}", StringComparison.Ordinal);
            with = with.Contains("\n  fouling", StringComparison.Ordinal) ? with : with.Replace("\ntip:", "\ntip: {}", StringComparison.Ordinal);
            Assert.NotEqual(text, with);
            Assert.Equal(plain, CellText.Of(ScenarioFiles.Good(ScenarioReader.ReadText(with, "new.yaml")).Cell));
        }
    }

    [Fact]
    public void Other_Kind_IsRefused() => Assert.Throws<ArgumentException>(() => NewScenario.Write("torch"));
}

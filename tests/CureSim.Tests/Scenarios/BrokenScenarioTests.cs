using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>Each broken scenario gives exactly the messages that stand beside it: all of them at once, each with its place.</summary>
public class BrokenScenarioTests
{
    private static string Folder => Path.Combine(ScenarioFiles.Data, "broken");

    public static TheoryData<string> Names()
    {
        var names = new TheoryData<string>();
        foreach (string file in Directory.GetFiles(Folder, "*.yaml").Order())
        {
            names.Add(Path.GetFileNameWithoutExtension(file));
        }

        return names;
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Broken_Scenario_GivesItsMessages(string name)
    {
        string file = Path.Combine(Folder, name + ".yaml");
        ScenarioReading reading = ScenarioReader.ReadText(File.ReadAllText(file), name + ".yaml", null, Folder);
        Assert.Null(reading.Cell);
        Assert.Equal(File.ReadAllLines(Path.Combine(Folder, name + ".txt")), reading.Problems.Select(p => p.ToString()));
    }

    [Fact]
    public void ThereAre_AtLeastTwentyKinds() => Assert.True(Directory.GetFiles(Folder, "*.yaml").Length >= 20);

    [Fact]
    public void Problem_SaysItsPlaceOnce()
    {
        Problem problem = ScenarioReader.ReadText("curesim: 1\nsource: { kind: arc lamp, irradiance: ten W }\n", "lamp.yaml").Problems.Single(p => p.Path == "source.irradiance");
        Assert.Equal(("lamp.yaml", 2, 39), (problem.File, problem.Line, problem.Column));
        Assert.StartsWith("lamp.yaml:2:39: source.irradiance: found \"ten W\"; accepted: an irradiance with its unit", problem.ToString(), StringComparison.Ordinal);
    }
}

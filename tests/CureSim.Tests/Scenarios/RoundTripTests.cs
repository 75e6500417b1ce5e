using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>The resolved text stands for the whole scenario: it reads to an equal cell, with the same origins, and resolves to itself.</summary>
public class RoundTripTests
{
    [Theory]
    [MemberData(nameof(ScenarioFiles.ShippedNames), MemberType = typeof(ScenarioFiles))]
    public void Shipped_Scenario_ReadsWithoutProblemsOrWarnings(string name)
    {
        ScenarioReading reading = ScenarioFiles.Good(ScenarioReader.Read(Path.Combine(ScenarioFiles.Shipped, name)));
        Assert.Empty(reading.Warnings);
    }

    [Theory]
    [MemberData(nameof(ScenarioFiles.ShippedNames), MemberType = typeof(ScenarioFiles))]
    public void Shipped_Scenario_SaysItsQuestionAndThatItIsInvented(string name)
    {
        string[] head = [.. File.ReadAllLines(Path.Combine(ScenarioFiles.Shipped, name)).TakeWhile(l => l.StartsWith('#'))];
        Assert.StartsWith("# Question: ", head[0], StringComparison.Ordinal);
        Assert.Contains(head, l => l.Contains("Invented", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(ScenarioFiles.ShippedNames), MemberType = typeof(ScenarioFiles))]
    public void Shipped_Scenario_ComesBackFromItsResolvedText(string name) =>
        ComesBack(ScenarioReader.Read(Path.Combine(ScenarioFiles.Shipped, name)));

    [Fact]
    public void Scenario_WithEveryKey_ComesBack() => ComesBack(ScenarioReader.Read(Path.Combine(ScenarioFiles.Data, "every-key.yaml")));

    [Fact]
    public void Smallest_ComesBack() => ComesBack(ScenarioReader.ReadText(ScenarioFiles.Smallest, "smallest.yaml"));

    private static void ComesBack(ScenarioReading first)
    {
        ScenarioFiles.Good(first);

        // No folder: the resolved text needs no other file.
        ScenarioReading second = ScenarioFiles.Good(ScenarioReader.ReadText(first.ResolvedYaml, "resolved.yaml"));
        Assert.Equal(CellText.Of(first.Cell), CellText.Of(second.Cell));
        Assert.Equal(first.ResolvedYaml, second.ResolvedYaml);
        Assert.Equal(first.Sha256, second.Sha256);
        var typical = first.Inputs.Where(i => i.Origin == Origin.Typical).Select(i => i.Path);
        Assert.Equal(typical, second.Inputs.Where(i => i.Origin == Origin.Typical).Select(i => i.Path));
    }

    [Fact]
    public void Sha256_IsThatOfTheResolvedText_AndChangesWithIt()
    {
        ScenarioReading reading = ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml");
        byte[] hash = System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(reading.ResolvedYaml));
        Assert.Equal(Convert.ToHexString(hash), reading.Sha256, ignoreCase: true);
        Assert.NotEqual(reading.Sha256, ScenarioReader.ReadText(ScenarioFiles.Smallest, "test.yaml", ["run.seed=2"]).Sha256);
        Assert.Equal(reading.Sha256, ScenarioReader.ReadText("# a comment\n" + ScenarioFiles.Smallest, "test.yaml").Sha256);
    }

    [Fact]
    public void Names_ThatNeedQuotes_ComeBack()
    {
        foreach (string name in new[] { "- dash", "a: b", "say \\\"hi\\\"", "tab\\there", "null", "~", "#1", "[x]", "50 %, hot", "été ±1", "back\\\\slash" })
        {
            ScenarioReading reading = ScenarioReader.ReadText($"name: \"{name}\"\n" + ScenarioFiles.Smallest, "test.yaml");
            ComesBack(reading);
        }
    }

    [Fact]
    public void Quick_Scenario_NeedsNoMoreThanTwentyLines()
    {
        // Twenty lines beside its two-line head.
        string[] lines = [.. File.ReadAllLines(Path.Combine(ScenarioFiles.Shipped, "quick.yaml")).Where(l => !l.StartsWith('#'))];
        Assert.True(lines.Length <= 20, $"{lines.Length} lines");
    }
}

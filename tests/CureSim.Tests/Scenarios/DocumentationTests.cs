using System.Text.RegularExpressions;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>docs/scenario-format.md: its tables come from the key table, its examples are read.</summary>
public partial class DocumentationTests
{
    private static readonly string File = Path.Combine("docs", "scenario-format.md");

    [Fact]
    public void Tables_AreUpToDate() => GeneratedFiles.AssertPartUpToDate(File, "<!-- tables: made from the key table -->", "<!-- end of tables -->", FormatTables.Write());

    [Fact]
    public void Examples_AreRead()
    {
        string text = System.IO.File.ReadAllText(Path.Combine(ScenarioFiles.Root, File));
        string[] examples = [.. Example().Matches(text).Select(m => m.Groups[1].Value)];
        Assert.NotEmpty(examples);
        Assert.All(examples, e => ScenarioFiles.Good(ScenarioReader.ReadText(e, "example.yaml")));
    }

    [Fact]
    public void Message_InTheText_IsWhatTheReaderSays()
    {
        string text = System.IO.File.ReadAllText(Path.Combine(ScenarioFiles.Root, File));
        ScenarioReading reading = ScenarioReader.ReadText(ScenarioFiles.Smallest.Replace("6 W/cm2", "ten W", StringComparison.Ordinal), "lamp.yaml");
        Assert.Contains(reading.Problems.Single().ToString(), text, StringComparison.Ordinal);
    }

    [GeneratedRegex("```yaml\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Example();
}

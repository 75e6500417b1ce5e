using System.Security.Cryptography;
using System.Text.Json.Nodes;
using CureSim.Reports.Folders;

namespace CureSim.Cli.Tests;

/// <summary>reproduce: a record is run again, and what differs is told with its reason.</summary>
public sealed class ReproduceTests
{
    private static readonly string[] Short = ["--no-plots", "--set", "production.horizon=4 weeks", "--quiet"];

    public static TheoryData<string[]> Commands =>
    [
        ["run", "scenarios/quick.yaml", "--lifetimes", "3", "--seed", "18446744073709551615", "--set", "production.horizon=4 weeks", "--quiet"],
        ["run", "scenarios/connector-unknowns.yaml", "--lifetimes", "2", "--set", "run.worlds=2", .. Short],
        ["compare", "scenarios/hub-bond-lamp.yaml", "scenarios/hub-bond-led.yaml", "--lifetimes", "2", "--set", "run.worlds=2", .. Short],
        ["trace", "scenarios/quick.yaml", "--lifetime", "2", "--events", "3", "--set", "production.horizon=4 weeks", "--quiet"],
        ["run", "scenarios/quick.yaml", "--precision", "mean_dose=50 %", .. Short],
        ["plan", "scenarios/qualification.yaml", "--lifetimes", "100", "--set", "production.horizon=30 weeks", "--no-plots", "--quiet"],
        ["interval", "scenarios/quick.yaml", "--candidates", "1 day, 1 week", "--only-candidates", "--lifetimes", "20", .. Short],
        ["drivers", "scenarios/quick.yaml", "--points", "256", "--site", "2", "--lifetimes", "64", .. Short],
        ["self-check", "--id", "CF-AIM-PART-1", "--topic", "economics", "--quiet"],
    ];

    [Theory]
    [MemberData(nameof(Commands))]
    public void Record_Untouched_ComesOutAgain(string[] command)
    {
        using var tool = new Tool();
        tool.Run([.. command, "--out", "then"]).Exits(0);
        string before = Fingerprint(tool.At("then"));

        // Without the scenarios, and from another folder: the record alone must do.
        Directory.Delete(tool.At("scenarios"), recursive: true);
        string said = tool.Run("reproduce", "then", "--all", "--threads", "1").Exits(0).Output;
        Assert.Contains("files come out again, byte for byte", said, StringComparison.Ordinal);
        Assert.Equal(before, Fingerprint(tool.At("then")));
        Assert.Equal(["then"], Directory.GetFileSystemEntries(tool.Folder).Select(Path.GetFileName));
    }

    [Fact]
    public void Table_Edited_IsNamedWithLineColumnAndBothValues()
    {
        using var tool = new Tool();
        Make(tool);
        string file = tool.At("then", "tables", "lifetimes.csv");
        string[] lines = File.ReadAllLines(file);
        string[] fields = lines[2].Split(','), names = lines[0].TrimStart('\uFEFF').Split(',');
        string was = fields[3];
        fields[3] = "4711";
        lines[2] = string.Join(',', fields);
        File.WriteAllText(file, string.Join('\n', lines) + "\n");

        string said = tool.Run("reproduce", "then").Exits(1).Output;
        Assert.Contains("changed in the folder since it was written; comes out again as recorded", said, StringComparison.Ordinal);
        Assert.Contains($"line 3, column 4 ({names[3]}): \"4711\" in the folder, \"{was}\" now", said, StringComparison.Ordinal);

        var json = JsonNode.Parse(tool.Run("reproduce", "then", "--json").Exits(1).Output)!;
        var changed = Assert.Single(json["files"]!.AsArray(), f => !((string)f!["verdict"]!).StartsWith("same", StringComparison.Ordinal))!;
        Assert.Equal("tables/lifetimes.csv", (string)changed["name"]!);
        Assert.Equal((3, 4, "4711", was), ((int)changed["line"]!, (int)changed["column"]!, (string)changed["inTheFolder"]!, (string)changed["now"]!));
        Assert.False((bool)json["same"]!);
    }

    [Fact]
    public void Scenario_Edited_IsRunAsItStandsAndTold()
    {
        using var tool = new Tool();
        Make(tool);
        string file = tool.At("then", "scenario.yaml"), text = File.ReadAllText(file);
        Assert.Contains("seed: 20261", text, StringComparison.Ordinal);
        File.WriteAllText(file, text.Replace("seed: 20261", "seed: 20262", StringComparison.Ordinal));
        string said = tool.Run("reproduce", "then").Exits(1).Output.ReplaceLineEndings(" ");
        Assert.Contains("scenario.yaml was changed since it was written", said, StringComparison.Ordinal);
        Assert.Contains("another seed: then 20261; now 20262", said, StringComparison.Ordinal);
        Assert.Contains("tables/key_figures.csv", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Folder_WithMissingAndForeignFiles_IsTold()
    {
        using var tool = new Tool();
        Make(tool);
        File.Delete(tool.At("then", "summary.json"));
        tool.Write("then/notes.txt", "mine");
        File.CreateSymbolicLink(tool.At("then", "link.csv"), "/etc/hostname");
        string said = tool.Run("reproduce", "then").Exits(1).Output;
        Assert.Matches("summary.json +missing in the folder; comes out again as recorded", said);
        Assert.Matches("notes.txt +in the folder, but not of this tool", said);
        Assert.Matches("link.csv +in the folder, but not of this tool", said);
    }

    [Fact]
    public void Record_OfAnotherVersionAndMachine_SaysSo()
    {
        using var tool = new Tool();
        Make(tool);
        Forge(tool, r => r with { Version = "0.0.7", Commit = null, Runtime = ".NET 9", Machine = "another", Lifetimes = 9, Files = r.Files.SetItem("summary.json", new FileEntry(RunRecord.Hash("x"u8), 1)) });
        string said = tool.Run("reproduce", "then").Exits(1).Output.ReplaceLineEndings(" ");
        Assert.All(
            ["another version: then 0.0.7, commit not known", "another runtime: then .NET 9", "another machine: then another", "another number of lifetimes: then 9; now 3"],
            reason => Assert.Contains(reason, System.Text.RegularExpressions.Regex.Replace(said, " +", " "), StringComparison.Ordinal));
    }

    [Fact]
    public void Record_ThatNothingExplains_SaysSo()
    {
        using var tool = new Tool();
        Make(tool);
        File.WriteAllText(tool.At("then", "summary.json"), "x");
        Forge(tool, r => r with { Files = r.Files.SetItem("summary.json", new FileEntry(RunRecord.Hash("x"u8), 1)) });
        string said = tool.Run("reproduce", "then").Exits(1).Output;
        Assert.Contains("nothing in the record explains what differs", said, StringComparison.Ordinal);
        Assert.Contains("line 1, column 1: \"x\" in the folder, \"{\" now", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("../outside.csv")]
    [InlineData("/etc/hostname")]
    [InlineData("tables/../../outside.csv")]
    public void Record_WithANameThatLeavesTheFolder_IsRefused(string name)
    {
        using var tool = new Tool();
        Make(tool);
        Forge(tool, r => r with { Files = r.Files.Add(name, new FileEntry(RunRecord.Hash("x"u8), 1)) });
        Assert.Contains("which is no file of a result folder", tool.Run("reproduce", "then").Exits(2).Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no-such-command")]
    [InlineData("show")]
    public void Record_OfACommandThatCannotBeRepeated_IsRefused(string command)
    {
        using var tool = new Tool();
        Make(tool);
        Forge(tool, r => r with { Command = command });
        Assert.Contains($"\"{command}\"", tool.Run("reproduce", "then").Exits(2).Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--out", "elsewhere")]
    [InlineData("--json", "")]
    [InlineData("--set", null)]
    public void Record_WithAnOptionThatIsNotRepeated_IsRefused(string option, string? value)
    {
        using var tool = new Tool();
        Make(tool);
        Forge(tool, r => r with { Options = value is null ? [option] : [option, value] });
        Assert.Contains($"option \"{option}\"", tool.Run("reproduce", "then").Exits(2).Error, StringComparison.Ordinal);
        Assert.False(Path.Exists(tool.At("elsewhere")));
    }

    [Fact]
    public void Folder_ThatIsNoRecord_IsRefused()
    {
        using var tool = new Tool();
        Assert.Contains("no such folder", tool.Run("reproduce", "nowhere").Exits(2).Error, StringComparison.Ordinal);
        Assert.Contains("found no record.json", tool.Run("reproduce", "scenarios").Exits(2).Error, StringComparison.Ordinal);
        Make(tool);
        File.AppendAllText(tool.At("then", "record.json"), " ");
        Assert.Contains("was changed after it was written", tool.Run("reproduce", "then").Exits(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Folder_WithAPipeInPlaceOfATable_EndsAndTells()
    {
        using var tool = new Tool();
        Make(tool);
        tool.Shell("rm then/summary.json && mkfifo then/summary.json").Exits(0);

        // A pipe that nobody writes to would be waited for for ever.
        Assert.Matches("summary.json +changed in the folder", tool.Run("reproduce", "then").Exits(1).Output);
        tool.Shell("rm then/scenario.yaml && mkfifo then/scenario.yaml").Exits(0);
        tool.Run("reproduce", "then").Exits(2);
    }

    [Fact]
    public void Out_KeepsTheResults_ButNotInTheFolder()
    {
        using var tool = new Tool();
        Make(tool);
        Assert.Contains("only to be read", tool.Run("reproduce", "then", "--out", "then/again").Exits(2).Error, StringComparison.Ordinal);
        Assert.Contains("only to be read", tool.Run("reproduce", "then", "--out", "then").Exits(2).Error, StringComparison.Ordinal);
        tool.Run("reproduce", "then", "--out", "again", "--quiet").Exits(0);
        Same.Folders(tool.At("then"), tool.At("again"), "record.json");
    }

    private static void Make(Tool tool) => tool.Run(["run", "scenarios/quick.yaml", "--lifetimes", "3", .. Short, "--out", "then"]).Exits(0);

    // Writes a record that is sealed as if by the tool.
    private static void Forge(Tool tool, Func<RunRecord, RunRecord> change)
    {
        string path = tool.At("then", "record.json");
        File.WriteAllBytes(path, change(RunRecord.Read(File.ReadAllBytes(path))!).ToBytes());
    }

    private static string Fingerprint(string folder) => string.Join(
        '\n', Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(f => $"{f} {Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(f)))} {File.GetLastWriteTimeUtc(f):O}"));
}

using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using CureSim.Reports.Pages;

namespace CureSim.Cli.Tests;

/// <summary>Every command that computes leaves a report; reports join; strangers' folders are refused.</summary>
public sealed class ReportTests
{
    private static readonly string[] Small = ["run", "scenarios/quick.yaml", "--lifetimes", "4", "--set", "production.horizon=4 weeks"];

    public static TheoryData<string[]> Commands =>
    [
        Small,
        ["interval", "scenarios/quick.yaml", "--lifetimes", "4", "--candidates", "1 day, 1 week", "--only-candidates"],
        ["compare", "scenarios/quick.yaml", "scenarios/quick.yaml", "--lifetimes", "4", "--set", "production.horizon=4 weeks"],
        ["ownership", "scenarios/own-lamp.yaml", "scenarios/own-led.yaml", "--lifetimes", "2", "--set", "run.worlds=8", "--set", "production.horizon=2 yr", "--set", "interval_study.intervals=[ 1 week, 1 month ]"],
        ["ownership", "scenarios/sites-lamp.yaml", "scenarios/sites-led.yaml", "--sites", "2,4", "--lifetimes", "24", "--set", "production.horizon=2 yr"],
        ["window", "scenarios/process-window.yaml", "--map-only", "--lifetimes", "32", "--set", "run.worlds=1", "--set", "cure.exponent=0.6", "--set", "production.horizon=6 weeks", "--set", "window_study.nodes=5"],
        ["plan", "scenarios/qualification.yaml", "--lifetimes", "20"],
        ["plan"],
        ["capability", "scenarios/samples/hub-bond-dose.csv", "--lower", "5 J/cm2", "--capability", "1.33"],
        ["trace", "scenarios/quick.yaml", "--lifetime", "0"],
        ["fit", "scenarios/samples/emitter-log.csv", "--pdf"],
        ["fit", "scenarios/connector-distances.csv", "--parts", "--column", "deviation_mm", "--pdf"],
        ["time-left", "scenarios/running-cell.yaml", "scenarios/samples/running-cell-log.csv", "--lifetimes", "200", "--pdf"],
        ["drivers", "scenarios/fading-leds.yaml", "--lifetimes", "320", "--points", "256"],
        ["make-log", "scenarios/quick.yaml", "--lifetime", "3", "--until", "2000 h"],
        ["window", "--from-study", "scenarios/dose-ladder.csv", "--at-least", "18 N"],
    ];

    [Theory]
    [MemberData(nameof(Commands))]
    public void Command_Computes_LeavesPageAndContentAndTellsTheAnswer(string[] arguments)
    {
        using var tool = new Tool();
        var json = JsonNode.Parse(tool.Run([.. arguments, "--out", "x", "--json"]).Exits(0).Output)!;
        var content = ReportFile.Read(File.ReadAllBytes(tool.At("x", "report.json")), out _)!;
        Assert.Equal(arguments[0], content.Command);

        // The members that docs/report.md promises of every --json.
        Assert.Equal((1, content.Question, content.Decision, content.Answer, content.LargestAssumption),
            ((int)json["schemaVersion"]!, (string)json["answer"]!["question"]!, (string)json["answer"]!["decision"]!, (string)json["answer"]!["sentence"]!, (string)json["answer"]!["largestAssumption"]!));
        Assert.Equal(content.Judgement.ToString().ToLowerInvariant(), (string)json["answer"]!["judgement"]!);
        Assert.True(json["folder"] is not null && json["timing"]!["seconds"] is not null && json["kind"] is not null && json["scenario"] is not null);

        string page = File.ReadAllText(tool.At("x", "report.html"));
        Assert.Contains("class=\"word\"", page, StringComparison.Ordinal);
        Assert.Contains(json["scenario"] is JsonValue && content.Inputs.Length > 0 ? "id=\"assumptions\"" : "id=\"method\"", page, StringComparison.Ordinal);
        Assert.All(content.Inputs.SelectMany(i => i.Rows).Where(r => r.Origin == "typical"), _ => Assert.Contains("<tr class=\"typical\">", page, StringComparison.Ordinal));
        Assert.NotEqual("", content.HowSure);
        Assert.Equal(arguments.Contains("--pdf"), File.Exists(tool.At("x", "report.pdf")));
        InPlainWords(page, content);
    }

    // Columns for what is not ours to say otherwise: keys, headers of the user's log, and formulas that name keys.
    private static readonly string[] Verbatim = ["Key in the scenario", "Header in the log", "Meaning"];

    // The largest assumption is one sentence that says whose value it is; tables name inputs and give durations in units of the trade, and neither headings nor cells are machine names, save in the columns that are meant for them.
    private static void InPlainWords(string page, ReportContent content)
    {
        string assumption = content.LargestAssumption;
        Assert.Matches("^[A-Z].* (is|are) .*: ", assumption);
        Assert.EndsWith(".", assumption, StringComparison.Ordinal);
        Assert.DoesNotContain(". ", assumption, StringComparison.Ordinal);
        Assert.DoesNotMatch(RawKey, assumption);
        int read = 0;
        foreach (Match table in Regex.Matches(page, "<table.*?</table>", RegexOptions.Singleline))
        {
            string[] heads = [.. Cells(table.Value, "th")];
            Assert.All(heads, h => Assert.False(h.Contains('_', StringComparison.Ordinal) || Regex.IsMatch(h, @"\b(se|sd|ppk|p\d\d|lower95|upper95)\b"), h));
            foreach (Match row in Regex.Matches(table.Value, "<tr.*?</tr>", RegexOptions.Singleline))
            {
                foreach (var (cell, head) in Cells(row.Value, "td").Zip(heads).Where(c => c.Second != "Key in the scenario"))
                {
                    read++;
                    Assert.DoesNotMatch(RawKey, cell);
                    Assert.False(!Verbatim.Contains(head) && Regex.IsMatch(cell, "[a-z0-9]_[a-z0-9]"), $"{head}: {cell}");
                    Assert.DoesNotMatch(@"\d[\d\u202F]{3,}(\.\d+)?[\u00A0 ]s(?![\w/])", cell);
                    Assert.False(head.EndsWith(", s", StringComparison.Ordinal) && Regex.IsMatch(cell, @"^\d[\d\u202F]{3,}"), $"{head}: {cell}");
                }
            }
        }

        Assert.True(read > 0);
    }

    private const string RawKey = @"\b(production|source|loop|guide|tip|fixture|disturbances|substrate|exposure|cure|checks|radiometer|downtime|window|requalification|now|qualification|interval_study|window_study|costs|ownership|run)\.[a-z_]+";

    private static IEnumerable<string> Cells(string html, string element) => Regex.Matches(html, $"<{element}[^>]*>(.*?)</{element}>", RegexOptions.Singleline).Select(m => System.Net.WebUtility.HtmlDecode(m.Groups[1].Value));

    [Fact]
    public void Run_ThreadsAndPdf_ReportIsTheSameAndReproduces()
    {
        using var tool = new Tool();
        tool.Run([.. Small, "--out", "one", "--threads", "1", "--pdf"]).Exits(0);
        tool.Run([.. Small, "--out", "two", "--threads", "2", "--pdf"]).Exits(0);
        Assert.Equal(File.ReadAllBytes(tool.At("one", "report.json")), File.ReadAllBytes(tool.At("two", "report.json")));
        Assert.Equal(ReportPage.WithoutRecord(File.ReadAllText(tool.At("one", "report.html"))), ReportPage.WithoutRecord(File.ReadAllText(tool.At("two", "report.html"))));
        Assert.StartsWith("%PDF", File.ReadAllText(tool.At("one", "report.pdf")), StringComparison.Ordinal);
        Assert.Contains("of the report all but its own record", Regex.Replace(tool.Run("reproduce", "one").Exits(0).Output, @"\s+", " "), StringComparison.Ordinal);

        // A page that was changed by hand is told, though its record is its own.
        File.AppendAllText(tool.At("one", "report.html"), "<!-- mine -->");
        Assert.Contains("changed in the folder since it was written: report.html", Regex.Replace(tool.Run("reproduce", "one").Exits(1).Output, @"\s+", " "), StringComparison.Ordinal);
    }

    [Fact]
    public void Run_NameThatIsMarkup_StandsAsText()
    {
        using var tool = new Tool();
        string yaml = File.ReadAllText(tool.At("scenarios", "quick.yaml"));
        const string Name = "</title><script>alert(1)</script> & \"q\" 測試 " + "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW";
        string named = Regex.Replace(yaml, "(?m)^name:.*$", $"name: '{Name}'");
        Assert.NotEqual(yaml, named);
        tool.Write("named.yaml", named);
        tool.Run(["run", "named.yaml", .. Small[2..], "--out", "x", "--pdf"]).Exits(0);
        string page = File.ReadAllText(tool.At("x", "report.html"));
        Assert.Equal(1, Regex.Count(page, "<script"));
        Assert.Contains("&lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;q&quot; 測試 W", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Report_TwoFolders_JoinsThemWithoutComputing()
    {
        using var tool = new Tool();
        tool.Run([.. Small, "--out", "cell/run"]).Exits(0);
        tool.Run(["trace", "scenarios/quick.yaml", "--lifetime", "0", "--out", "cell/trace"]).Exits(0);
        Directory.Delete(tool.At("scenarios"), recursive: true);
        var json = JsonNode.Parse(tool.Run("report", "cell/run", "cell/trace", "--title", "Line <3>", "--pdf", "--json").Exits(0).Output)!;
        Assert.Equal(["run", "trace"], json["studies"]!.AsArray().Select(s => (string)s!["command"]!));
        string page = File.ReadAllText(tool.At("output", "cell", "dossier", "report.html"));
        Assert.Contains("<h1>Line &lt;3&gt;</h1>", page, StringComparison.Ordinal);
        Assert.Contains("id=\"r2-record\"", page, StringComparison.Ordinal);
        Assert.True(File.Exists(tool.At("output", "cell", "dossier", "report.pdf")));
        Assert.Contains("cannot be made again", tool.Run("reproduce", "output/cell/dossier").Exits(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Report_FoldersThatCannotBeUsed_AreAllToldAndNothingIsWritten()
    {
        using var tool = new Tool();
        tool.Run([.. Small, "--out", "good", "--no-plots"]).Exits(0);
        tool.Run([.. Small, "--out", "changed", "--no-plots"]).Exits(0);
        File.AppendAllText(tool.At("changed", "report.json"), " ");
        Directory.CreateDirectory(tool.At("empty"));
        string error = tool.Run("report", "good", "changed", "empty", "nowhere").Exits(2).Error;
        Assert.Contains("changed: its report.json was changed since it was written", error, StringComparison.Ordinal);
        Assert.Contains("empty: found no record.json", error, StringComparison.Ordinal);
        Assert.Contains("nowhere: found no such folder", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
    }
}

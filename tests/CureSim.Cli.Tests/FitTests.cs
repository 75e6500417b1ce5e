using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>Logs made, fitted and forecast from the command line.</summary>
public sealed class FitTests
{
    [Fact]
    public void MakeLog_SaysThatItIsInvented_AndFitReadsIt()
    {
        using var tool = new Tool();
        tool.Run("make-log", "scenarios/emitter-log.yaml", "--lifetime", "1", "--repeats", "2", "--set", "production.horizon=4800 h").Exits(0);
        string log = tool.At("output", "emitter-log", "make-log", "log.csv");
        Assert.Contains("Invented by CureSim", File.ReadLines(log).First(), StringComparison.Ordinal);
        var fit = tool.Run("fit", log, "--out", "fit").Exits(0);
        Assert.Contains("two-stage", fit.Output, StringComparison.Ordinal);
        Assert.Contains("hours = clock_h", fit.Output, StringComparison.Ordinal);
        string[] files = [.. Directory.GetFiles(tool.At("fit"), "*", SearchOption.AllDirectories).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
        Assert.Equal(
            [
                "columns.csv", "correlations.csv", "emitters.csv", "fitted.yaml", "forms.csv", "log.csv", "notes.csv", "output_and_fit.png", "output_and_fit.svg", "parameters.csv", "reading_error.csv", "readings.csv", "record.json",
                "report.html", "report.json", "residuals.png", "residuals.svg", "screening.csv", "steps.csv", "summary.json",
            ],
            files);
    }

    [Fact]
    public void Fit_WithAScenario_ChecksIt_AndWritesOneThatRuns_TheSameAtAnyThreadCount()
    {
        using var tool = new Tool();
        string[] line = ["fit", "scenarios/samples/emitter-log.csv", "--scenario", "scenarios/emitter-log.yaml", "--lifetimes", "16", "--no-plots", "--quiet"];
        tool.Run([.. line, "--threads", "1", "--out", "a"]).Exits(0);
        tool.Run([.. line, "--threads", "2", "--out", "b"]).Exits(0);
        Same.Folders(tool.At("a"), tool.At("b"), "record.json");

        var check = JsonNode.Parse(File.ReadAllText(tool.At("a", "summary.json")))!["predictiveCheck"]!;
        Assert.False((bool)check["contradicts"]!);
        File.Copy(tool.At("a", "fitted-scenario.yaml"), tool.At("fitted.yaml"));
        tool.Run("run", "fitted.yaml", "--lifetimes", "4", "--set", "production.horizon=240 h", "--set", "run.worlds=2", "--no-plots", "--quiet").Exits(0);
    }

    [Fact]
    public void Fit_AgainstAnotherScenario_SaysThatItContradicts()
    {
        // The target of the scenario lies a fifth above what the plant kept.
        using var tool = new Tool();
        var result = tool.Run("fit", "scenarios/samples/emitter-log.csv", "--scenario", "scenarios/emitter-log.yaml", "--as-it-is", "--set", "checks.target=3.8 W/cm2", "--lifetimes", "60", "--no-plots").Exits(0);
        Assert.Contains("the scenario contradicts your log", string.Join(' ', result.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    [Fact]
    public void Fit_BadLog_TellsEveryProblemAndWritesNothing()
    {
        using var tool = new Tool();
        File.WriteAllText(tool.At("bad.csv"), "hours,reading\n0,3.2\n50,3.1 W\n40,-1\n30,3\n");
        var result = tool.Run("fit", "bad.csv", "--forms", "linear", "--fitted", "light").Exits(2);
        Assert.Contains("bad.csv:3:2: reading: found \"3.1 W\"", result.Error, StringComparison.Ordinal);
        Assert.Contains("bad.csv:4:2: reading: found \"-1\"", result.Error, StringComparison.Ordinal);
        Assert.Contains("bad.csv:5:1: hours: found 30 h after 50 h", result.Error, StringComparison.Ordinal);
        Assert.Contains("--forms: found \"linear\"", result.Error, StringComparison.Ordinal);
        Assert.Contains("--fitted: found \"light\"", result.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(tool.At("output")));
    }

    [Fact]
    public void Fit_FewReadings_WithholdsWithTheReason()
    {
        using var tool = new Tool();
        File.WriteAllText(tool.At("few.csv"), "hours,reading,event\n0,3.2,new lamp\n10,3.1,\n20,3.05,\n30,3.0,\n");
        var result = tool.Run("fit", "few.csv", "--no-plots").Exits(0);
        Assert.Contains("stretched not fitted", result.Output, StringComparison.Ordinal);
        Assert.Contains("one emitter shows no spread", result.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Fit_Parts_GivesTheDistributionAsYaml()
    {
        using var tool = new Tool();
        var result = tool.Run("fit", "scenarios/connector-distances.csv", "--parts", "--column", "deviation_mm", "--no-plots").Exits(0);
        Assert.Contains("{ normal: { mean:", result.Output, StringComparison.Ordinal);
        Assert.Contains("Anderson", result.Output, StringComparison.Ordinal);
        Assert.Contains("normal", File.ReadAllText(tool.At("output", "connector-distances", "fit", "fitted.yaml")), StringComparison.Ordinal);
    }

    [Fact]
    public void TimeLeft_OfTheShippedCell_IsSharperThanTheFleet_AndHoldsTheTruth()
    {
        using var tool = new Tool();
        var result = tool.Run("time-left", "scenarios/running-cell.yaml", "scenarios/samples/running-cell-log.csv", "--lifetimes", "1000", "--json", "--no-plots").Exits(0);
        var summary = JsonNode.Parse(result.Output)!;
        double Hours(string who, string p) => (double)summary[who]![p]!;

        // trace of lifetime 2100: its emitter is replaced at 1656 h; the log ends at 936 h.
        Assert.InRange(1656.0 - 936.0, Hours("cellHours", "p10"), Hours("cellHours", "p90"));
        Assert.True(Hours("cellHours", "p90") - Hours("cellHours", "p10") < 0.5 * (Hours("fleetHours", "p90") - Hours("fleetHours", "p10")));
        Assert.False((bool)summary["contradicts"]!);
    }

    [Fact]
    public void TimeLeft_AfterAStep_SaysWhereItCameFrom()
    {
        using var tool = new Tool();
        string log = File.ReadAllText(Path.Combine(Tool.Repository, "scenarios", "samples", "running-cell-log.csv"));
        File.WriteAllText(tool.At("step.csv"), log.TrimEnd() + "\n1008,1008,E1,1,as found,2.70,95.06573932,R1,\n");
        var summary = JsonNode.Parse(tool.Run("time-left", "scenarios/running-cell.yaml", "step.csv", "--json", "--no-plots").Exits(0).Output)!;
        var excursion = summary["excursion"]!;
        Assert.Equal("a disturbance of the transmission", (string)excursion["causes"]![0]!["cause"]!);
        Assert.True((double)excursion["causes"]![0]!["chance"]! > 0.9);
        Assert.Equal(72.0, (double)excursion["bracketHours"]!, 1e-6);
        Assert.True((double)excursion["beganEarlier"]! < 0.1);

        // How far back parts must be held: from what is still qualified, rising, to the containment of the bracket and beyond.
        double[][] held = [.. File.ReadAllLines(tool.At("output", "running-cell", "time-left", "tables", "excursion_start.csv")).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, System.Globalization.CultureInfo.InvariantCulture)).ToArray())];
        Assert.Equal(100.0 * (double)excursion["stillQualified"]!, held[0][1], 1e-9);
        Assert.Equal(held.Select(h => h[1]).Order(), held.Select(h => h[1]));
        Assert.Equal(100.0 * (double)excursion["contained"]!["value"]!, held.First(h => h[0] >= 72.0)[1], 1.0); // the next of 101 points lies within an hour of the bracket
        Assert.All(held, h => Assert.True(h[2] <= h[1] && h[1] <= h[3]));
    }

    [Fact]
    public void TimeLeft_OfAnotherCell_SaysThatTheLogContradicts()
    {
        using var tool = new Tool();
        string[] lines = [.. File.ReadLines(Path.Combine(Tool.Repository, "scenarios", "samples", "running-cell-log.csv")).Where(l => l.Length > 0 && l[0] != '#')];

        // The same readings at half the drive: an emitter twice as strong as any of the scenario's.
        File.WriteAllLines(tool.At("strong.csv"), lines.Select((l, i) => i == 0 ? l : string.Join(',', l.Split(',').Select((c, j) => j == 6 && c.Length > 0 ? (0.5 * double.Parse(c, System.Globalization.CultureInfo.InvariantCulture)).ToString(System.Globalization.CultureInfo.InvariantCulture) : c))));
        var result = tool.Run("time-left", "scenarios/running-cell.yaml", "strong.csv", "--lifetimes", "400", "--no-plots").Exits(0);
        Assert.Contains("contradicts the scenario", string.Join(' ', result.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    public static TheoryData<string[]> Again => new(
        ["fit", "my logs/Lamp log, März.csv", "--quiet"],
        ["fit", "my logs/Lamp log, März.csv", "--fitted", "reading", "--forms", "exponential, stretched", "--column", "site=site", "--scenario", "scenarios/emitter-log.yaml", "--lifetimes", "8", "--no-plots", "--quiet"],
        ["fit", "scenarios/connector-distances.csv", "--parts", "--column", "deviation_mm", "--no-plots", "--quiet"],
        ["time-left", "scenarios/running-cell.yaml", "scenarios/samples/running-cell-log.csv", "--lifetimes", "300", "--quiet"],
        ["capability", "scenarios/samples/hub-bond-dose.csv", "--lower", "5 J/cm2", "--upper", "11 J/cm2", "--target", "7 J/cm2", "--group", "setup", "--capability", "1.33", "--uncertainty", "3 %", "--k", "2", "--confidence", "90 %", "--pdf", "--quiet"],
        ["window", "--from-study", "scenarios/dose-ladder.csv", "--at-least", "18 N", "--risk", "low", "--no-plots", "--quiet"]);

    [Theory]
    [MemberData(nameof(Again))]
    public void Folder_WithItsLog_ComesOutAgain(string[] command)
    {
        using var tool = new Tool();
        Directory.CreateDirectory(tool.At("my logs"));
        File.WriteAllLines(tool.At("my logs", "Lamp log, März.csv"), File.ReadLines(Path.Combine(Tool.Repository, "scenarios", "samples", "emitter-log.csv")).Take(400));
        tool.Run([.. command, "--out", "then"]).Exits(0);
        Directory.Delete(tool.At("scenarios"), recursive: true);
        Directory.Delete(tool.At("my logs"), recursive: true);
        Assert.Contains("files come out again, byte for byte", tool.Run("reproduce", "then", "--threads", "1").Exits(0).Output, StringComparison.Ordinal);

        // A log that was edited in the folder is told, and run as it stands.
        string copy = tool.At("then", command[0] == "window" ? "doses.csv" : command.Contains("--parts") || command[0] == "capability" ? "parts.csv" : "log.csv"), text = File.ReadAllText(copy);
        File.WriteAllText(copy, text.TrimEnd().Insert(text.TrimEnd().LastIndexOf('\n') + 1, text.TrimEnd()[(text.TrimEnd().LastIndexOf('\n') + 1)..] + "\n"));
        string said = string.Join(' ', tool.Run("reproduce", "then").Exits(1).Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains($"{Path.GetFileName(copy)} was changed since it was written", said, StringComparison.Ordinal);
    }

    [Fact]
    public void LargeLog_IsNotCopied_AndIsGivenAgain()
    {
        using var tool = new Tool();
        string ballast = new('x', 9000);
        File.WriteAllLines(tool.At("large.csv"), Enumerable.Range(0, 1000).Select(i => i == 0 ? "hours,reading,ballast" : FormattableString.Invariant($"{i * 10},{3.0 * Math.Exp(-i / 900.0) * (1.0 + (0.002 * Math.Sin(7.0 * i))):0.0000},{ballast}")));
        tool.Run("fit", "large.csv", "--start-hours", "0 h", "--forms", "exponential", "--no-plots", "--quiet", "--out", "then").Exits(0);
        Assert.False(File.Exists(tool.At("then", "log.csv")));
        Assert.Contains("give it with --data FILE", tool.Run("reproduce", "then").Exits(2).Error.ReplaceLineEndings(" "), StringComparison.Ordinal);
        File.Copy(tool.At("large.csv"), tool.At("elsewhere.csv"));
        tool.Run("reproduce", "then", "--data", "elsewhere.csv").Exits(0);
        File.AppendAllText(tool.At("elsewhere.csv"), "9995,1,\n");
        Assert.Contains("is not the file of the record", tool.Run("reproduce", "then", "--data", "elsewhere.csv").Exits(2).Error, StringComparison.Ordinal);
        Assert.Contains("cannot be read", tool.Run("reproduce", "then", "--data", "nowhere.csv").Exits(2).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void MarkupAndFormulasInNames_ArriveAsText()
    {
        // Names that a browser would run and that a spreadsheet would compute, in every place that is shown.
        using var tool = new Tool();
        const string Markup = "<script>alert(1)</script><img src=x onerror=alert(2)>", Formula = "=cmd|' /C calc'!A0";
        var lines = new List<string> { "hours;emitter_h;source id;site;meter;reading;event" };
        for (int i = 0; i < 60; i++)
        {
            string name = i < 30 ? Markup : Formula;
            lines.Add(FormattableString.Invariant($"{i * 50};{i % 30 * 50};{name};+{name};@{name};{3.0 * Math.Exp(-(i % 30) / 80.0) * (i is > 10 and < 20 ? 0.8 : 1.0) * (1.0 + (0.002 * Math.Sin(7.0 * i))):0.0000};{(i % 30 == 0 ? "new lamp " + name.Replace(";", "", StringComparison.Ordinal) : "")}"));
        }

        File.WriteAllLines(tool.At("<b>odd.csv"), lines);
        tool.Run("fit", "<b>odd.csv", "--out", "odd", "--pdf").Exits(0);
        string page = File.ReadAllText(tool.At("odd", "report.html"));
        Assert.DoesNotContain("<script>alert", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("<img src=x", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("<b>odd", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;alert(1)", page, StringComparison.OrdinalIgnoreCase);
        foreach (string svg in Directory.GetFiles(tool.At("odd"), "*.svg", SearchOption.AllDirectories))
        {
            Assert.DoesNotContain("<script", File.ReadAllText(svg), StringComparison.OrdinalIgnoreCase);
        }

        // The copy of the log is the user's own file, byte for byte; every table is ours.
        foreach (string table in Directory.GetFiles(tool.At("odd", "tables"), "*.csv"))
        {
            foreach (string[] row in CsvFile.Rows(File.ReadAllText(table)))
            {
                Assert.DoesNotContain(row, c => c.Length > 1 && (c[0] is '=' or '@' or '\t' || (c[0] is '+' or '-' && !double.TryParse(c, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out _))));
            }
        }

        Assert.Contains("cmd|", File.ReadAllText(tool.At("odd", "tables", "emitters.csv")), StringComparison.Ordinal);
    }

    [Fact]
    public void HeadersOfAPlant_AreGuessed_AndTold()
    {
        using var tool = new Tool();
        string[] lines = [.. File.ReadLines(Path.Combine(Tool.Repository, "scenarios", "samples", "running-cell-log.csv")).Where(l => l.Length > 0 && l[0] != '#')];
        lines[0] = "Run time (h),Lamp hrs,S/N,Leg,Before/After,irradiance W/cm2,Drive [%],Radiometer No.,Remark";
        File.WriteAllLines(tool.At("plant.csv"), lines);
        var result = tool.Run("time-left", "scenarios/running-cell.yaml", "plant.csv", "--lifetimes", "400", "--no-plots").Exits(0);
        string said = string.Join(' ', result.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("hours = Run time (h), emitter-hours = Lamp hrs, reading = irradiance W/cm2, emitter = S/N, site = Leg, moment = Before/After, drive = Drive [%], event = Remark, meter = Radiometer No.", said, StringComparison.Ordinal);
    }

    [Fact]
    public void TimeLeft_OfLegs_IsHeldToTheirOwnAsLeftReadings()
    {
        // Two legs of one lamp: one is read a fifth below what it was left at, the other as it was left.
        using var tool = new Tool();
        string bent = "disturbances=[ { name: guide bent, rate: 1 /1500 h, factor: { uniform: { from: 60 %, to: 90 % } }, cleared_by: bad indication } ]";
        string[] head = ["clock_h,emitter_h,emitter,site,moment,irradiance_w_per_cm2,drive_percent", "0,0,E1,1,as left,3.30,66", "0,0,E1,2,as left,3.10,66", "80,80,E1,1,as found,3.28,66", "80,80,E1,2,as found,3.09,66"];
        File.WriteAllLines(tool.At("legs.csv"), [.. head, "160,160,E1,1,as found,2.64,66", "160,160,E1,2,as found,3.09,66"]);
        string[] line = ["time-left", "scenarios/quick.yaml", "legs.csv", "--set", bent, "--lifetimes", "400", "--json", "--no-plots"];
        var excursion = JsonNode.Parse(tool.Run(line).Exits(0).Output)!["excursion"]!;
        Assert.Equal((2.64 / 3.30) - 1.0, (double)excursion["deviation"]!, 1e-9);
        Assert.Equal("1", (string)excursion["site"]!);
        Assert.Equal("a disturbance of the transmission", (string)excursion["causes"]![0]!["cause"]!);

        // As left a fifth off the target on purpose: no excursion, for a leg is not held to the target.
        File.WriteAllLines(tool.At("legs.csv"), [.. head.Select(l => l.Replace("3.30", "3.90", StringComparison.Ordinal).Replace("3.28", "3.88", StringComparison.Ordinal)), "160,160,E1,1,as found,3.87,66", "160,160,E1,2,as found,3.09,66"]);
        Assert.Null(JsonNode.Parse(tool.Run(line).Exits(0).Output)!["excursion"]);

        // Without as-left readings it cannot be judged, and says why.
        File.WriteAllLines(tool.At("legs.csv"), [.. head.Where(l => !l.Contains("as left", StringComparison.Ordinal)), "160,160,E1,1,as found,2.64,66", "160,160,E1,2,as found,3.09,66"]);
        Assert.Contains("as-left readings, of which the log has none", (string)JsonNode.Parse(tool.Run(line).Exits(0).Output)!["excursionNotJudged"]!, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(4, "4 worlds are too few to bear an error of their own (8 at least)")]
    [InlineData(8, null)]
    [InlineData(2, "2 worlds are too few to bear an error of their own")]
    public void TimeLeft_OfFewWorlds_SaysThatErrorsAreByLifetime(int worlds, string? told)
    {
        using var tool = new Tool();
        var result = tool.Run("time-left", "scenarios/running-cell.yaml", "scenarios/samples/running-cell-log.csv", "--lifetimes", "400", "--no-plots", "--out", "x",
            "--set", $"run.worlds={worlds}", "--set", "run.lifetimes=100", "--set", "guide.transmission={ unknown: { normal: { mean: 90 %, sd: 1 % } } }").Exits(0);
        string said = string.Join(' ', result.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), page = File.ReadAllText(tool.At("x", "report.html"));
        Assert.Equal(told is not null, said.Contains(told ?? "bear an error", StringComparison.Ordinal));
        Assert.Equal(told is not null, page.Contains(told ?? "bear an error", StringComparison.Ordinal));
    }

    [Fact]
    public void MakeLog_LeavesAReport_ThatSaysInvented()
    {
        using var tool = new Tool();
        tool.Run("make-log", "scenarios/quick.yaml", "--lifetime", "3", "--until", "2000 h", "--out", "log", "--quiet").Exits(0);
        string page = File.ReadAllText(tool.At("log", "report.html"));
        Assert.Contains("Invented: no plant", page, StringComparison.Ordinal);
        Assert.Contains("lifetime 3 of world 0", page, StringComparison.Ordinal);
        Assert.True(File.Exists(tool.At("log", "plots", "readings.png")));
    }

    [Fact]
    public void MakeLog_CanBeMadeAgainFromItsFolder()
    {
        using var tool = new Tool();
        tool.Run("make-log", "scenarios/running-cell.yaml", "--lifetime", "7", "--until", "500 h", "--out", "log", "--quiet").Exits(0);
        Assert.Contains("byte for byte", tool.Run("reproduce", "log").Exits(0).Output, StringComparison.Ordinal);
    }
}

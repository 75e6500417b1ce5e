using System.Collections.Immutable;
using CureSim.Reports.Folders;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;

namespace CureSim.Tests.Reports.Pages;

/// <summary>A report with a figure of each kind, and names that try everything.</summary>
internal static class ReportExamples
{
    public const string Hostile = "</title><script>alert(1)</script> \"quoted\" & 'single' <img src=x onerror=alert(2)> 測試 Ωμέγα Кириллица עברית";

    public static readonly string LongWord = new('W', 400);

    public static ReportContent Content { get; } = new()
    {
        Command = "run",
        Title = Hostile,
        Question = "Does it hold? " + LongWord,
        Answer = "Above 1.40 (1.38 to 1.42).",
        Judgement = Judgement.Provisional,
        Decision = "Provisional " + Hostile,
        HowSure = "95 %",
        LargestAssumption = "The guide.",
        Lines = [new("Dose", "7 J/cm²"), new(Hostile, LongWord, AnswerTone.Missed)],
        Decisive = new("The first one.") { Figure = FigureExamples.All.Values.First(), File = "plots/a.png" },
        Evidence =
        [
            new(Reader.Line, "pictures", [Hostile], [.. FigureExamples.All.Values.Select((f, i) => new ReportItem($"Example {i}") { Figure = f, Group = i < 4 ? $"response {i % 2}" : null })]),
            new(Reader.Management, "a table", [], [ReportItem.Of(Table(45), "Forty-five rows.")]),
            new(Reader.Validation, "another", [], [ReportItem.Of(Table(2), Hostile)]),
        ],
        Inputs = [new(Hostile, new string('a', 64), [new("source.irradiance", "emitter", Hostile, "W/cm²", "typical", LongWord), new("guide.loss", null, "3 %", "%", "yours", "Loss")])],
        Basis = "1 of 2 inputs typical",
        Method = ["Method"],
        NotModelled = ["Spectra"],
        Checks = ["Read"],
        Cautions = ["UV light"],
        Reproduce = ["curesim reproduce FOLDER", "again"],
    };

    public static RunRecord Record { get; } = new()
    {
        Version = "1.2.3", Commit = "abc", Command = "run", Scenario = Hostile, ScenarioSha256 = new string('b', 64), Seed = ulong.MaxValue, Lifetimes = 1000, Threads = 2, Runtime = ".NET 10", Machine = "X64",
        Started = new(2026, 11, 28, 12, 0, 0, TimeSpan.Zero), DurationSeconds = 1.5,
    };

    public static PageTable Table(int rows) => new(
        "tables/x.csv", [new("Name", false), new("Value, ppm", true)], [.. Enumerable.Range(0, Math.Min(rows, PageTable.MostRows)).Select(i => (ImmutableArray<string>)[Hostile, $"{i}"])], rows);
}

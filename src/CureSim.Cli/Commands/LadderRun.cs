using CureSim.Core.Cell;
using CureSim.Reports.DoseLadders;
using CureSim.Reports.Runs;
using CureSim.Scenarios;
using CureSim.Studies.DoseLadders;

namespace CureSim.Cli;

/// <summary>Limits from the team's own dose ladder.</summary>
internal static class LadderRun
{
    public static readonly OptionInfo FromStudy = new(
        "--from-study", "DOSES.csv", "Without a scenario: limits from the team's own dose ladder. Columns irradiance and time (or dose), response and/or result (pass, fail); units in the headers.");

    public static readonly OptionInfo AtLeast = new("--at-least", "VALUE", "With --from-study: what the response must reach, such as \"18 N\".");

    public static readonly OptionInfo[] Own = [FromStudy, AtLeast];

    public static int Run(Call call)
    {
        var problems = new List<string>();
        if (call.Argument(0) is not null)
        {
            problems.Add("--from-study takes no scenario: limits come from measurements alone");
        }

        string path = call.Text(FromStudy)!;
        var reading = LadderFile.Read(path);
        if (reading.Ladder is not { } ladder)
        {
            throw new InputException([.. problems, .. reading.Problems.Select(p => p.ToString())]) { IsLocated = true };
        }

        double? need = Requirement(call, ladder, problems);
        var risk = RiskOf(call, problems);
        if (problems.Count > 0)
        {
            throw new InputException([.. problems]);
        }

        var (confidence, reliability) = WindowStudy.PairOf(risk);
        LadderPoint[] parts = [.. ladder.Parts.Select(p => new LadderPoint(p.Irradiance, p.Time, need is null ? null : p.Response, p.Passed))];
        var found = LadderLimits.Of(parts, need, confidence, reliability);
        string stem = ScenarioInput.StemOf(path);
        using var results = Results.Begin(call, stem, "window");
        var document = LadderReport.Summary(found, stem, ladder.Sha256, ladder.ResponseUnit);
        results.Folder.Add("summary.json", document.ToBytes());
        bool copied = results.Keep("doses.csv", path, ladder.Sha256);
        RunFiles.AddTables(results.Folder, LadderReport.Tables(found), call.Interruption.Token);
        if (!call.Has(Options.NoPlots))
        {
            RunFiles.AddPlots(results.Folder, LadderReport.Figures(found, parts, ladder.ResponseUnit), call.Interruption.Token);
        }

        results.Report(LadderContent.Of(found, parts, stem, ladder.Sha256, ladder.ResponseUnit, copied, !call.Has(Options.NoPlots)));
        results.Complete("window", ladder.Sha256, "window", 0, 0, 1, null);
        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(LadderReport.Heading(found, stem));
            call.Terminal.Say(LadderReport.Of(found, ladder.ResponseUnit));
        }

        results.Tell(call, document, 1, null);
        return ExitCode.Done;
    }

    /// <summary>Refuses options that only a ladder takes.</summary>
    public static void RefuseAlone(Call call)
    {
        if (call.Text(AtLeast) is not null)
        {
            throw new InputException("--at-least goes with --from-study");
        }
    }

    private static double? Requirement(Call call, DoseLadder ladder, List<string> problems)
    {
        if (call.Text(AtLeast) is not { } text)
        {
            if (ladder.Parts.Any(p => p.Passed is null))
            {
                problems.Add("--at-least is missing: a response needs a requirement, such as --at-least \"18 N\" (a column \"result\" with pass or fail needs none)");
            }

            return null;
        }

        if (ladder.ResponseName is null)
        {
            problems.Add("--at-least: the file has no column \"response\"");
            return null;
        }

        var unit = ladder.ResponseUnit is { } u ? SampleUnit.Find(u)! : SampleUnit.None;
        if (unit.TryRead(text, out double value, out string? problem))
        {
            return value;
        }

        problems.Add($"--at-least: found \"{text}\"; accepted: {(unit.IsNone ? "a number, as the header of the response has no unit" : $"a value with its unit, such as \"18 {unit.Shown}\"")}");
        _ = problem;
        return null;
    }

    private static BondRisk RiskOf(Call call, List<string> problems)
    {
        switch (call.Text(WindowCommand.Risk))
        {
            case null or "medium":
                return BondRisk.Medium;
            case "high":
                return BondRisk.High;
            case "low":
                return BondRisk.Low;
            case var other:
                problems.Add($"--risk: found \"{other}\"; accepted: high, medium or low");
                return BondRisk.Medium;
        }
    }
}

using CureSim.Reports.Interval;
using CureSim.Scenarios;
using CureSim.Studies.Interval;

namespace CureSim.Cli;

/// <summary>How often the output must be checked: the interval study, or one reading of today judged.</summary>
internal static class IntervalCommand
{
    public static readonly OptionInfo Candidates = new("--candidates", "LIST", "Candidate intervals, such as \"1 shift, 1 day, 1 week\", instead of those of the scenario.");
    private static readonly OptionInfo Reading = new("--reading", "VALUE", "Judge one as-found reading of today instead, such as \"3.31 W/cm2\": verdict, what to do, likely causes. Writes no files.");
    private static readonly OptionInfo Site = new("--site", "N", "With --reading: the site that was read, from 1. Left out: 1.");
    private static readonly OptionInfo Require = new("--require", null, "Exit with 1 when no candidate meets the reliability target and the limit on nonconforming parts.");
    public static readonly OptionInfo Only = new("--only-candidates", null, "Simulate the candidates only: no contributors, crossed limits or faults.");

    public static CommandInfo Info { get; } = new(
        "interval",
        "How often to check, with which limits, and what a wrong answer costs.",
        [new("SCENARIO", "Scenario file (YAML) with checks.")],
        [
            Candidates, Only, Reading, Site, Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Require, Options.Json, Options.Quiet,
        ],
        [
            new("curesim interval scenarios/quick.yaml --candidates \"1 day, 1 week, 1 month\"", "Three intervals over the same lifetimes; results in output/quick/interval."),
            new("curesim interval scenarios/quick.yaml --reading \"3.0 W/cm2\" --site 2", "What today's reading means and what to do."),
        ],
        Run)
    {
        More = "Candidates, target and limits are those of the scenario's interval_study block, else the calendar ladder from a shift to a year at 95 % in tolerance; costs are those of its costs block. "
            + "A recommendation holds at the unfavourable confidence limit and the unfavourable end of the band over worlds.",
    };

    private static int Run(Call call)
    {
        var reading = ScenarioInput.Read(call, 0, Given(call));
        var cell = reading.Cell!;
        var problems = new List<string>();
        if (cell.Checks is null)
        {
            problems.Add("the scenario has no checks, so there is no interval to choose; write a block \"checks\"");
        }

        double? today = ReadingOf(call, problems);
        int site = (int)(call.Whole(Site, 1, (ulong)cell.Production.SiteCount) ?? 1);
        if (call.Text(Site) is not null && call.Text(Reading) is null)
        {
            problems.Add("--site goes with --reading");
        }

        if (cell.Checks is not null && CheckTimings.For(cell).IsEmpty)
        {
            problems.Add("no calendar interval fits the steps and the horizon; name candidates with --candidates");
        }

        if (problems.Count > 0)
        {
            throw new InputException([.. problems]);
        }

        return today is { } value ? Judge(call, reading, value, site - 1) : Study(call, reading);
    }

    // Candidates of the command line take the place of the scenario's, by the same reader, so that they are judged by the same rules.
    private static string[] Given(Call call) => call.Text(Candidates) is { } list
        ? ["interval_study.routines=", $"interval_study.intervals=[ {string.Join(", ", list.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(c => $"\"{c.Replace("\"", "", StringComparison.Ordinal)}\""))} ]"]
        : [];

    private static double? ReadingOf(Call call, List<string> problems)
    {
        if (call.Text(Reading) is not { } text)
        {
            return null;
        }

        if (SampleUnit.Find("W/cm2")!.TryRead(text, out double found, out _) && found > 0.0)
        {
            return found * 1e4;
        }

        problems.Add($"--reading: found \"{text}\"; accepted: an irradiance above 0 with its unit, such as \"3.31 W/cm2\"");
        return null;
    }

    private static int Study(Call call, ScenarioReading reading)
    {
        var cell = reading.Cell!;
        int threads = Simulation.Threads(call);
        var context = ScenarioInput.ContextOf(reading, call.Argument(0)!);
        using var results = Results.Begin(call, context.FileStem, "interval");
        IntervalResult study;
        double? rate;
        long clock = System.Diagnostics.Stopwatch.GetTimestamp();
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            study = call.Interruption.Compute(() => IntervalResult.Run(cell, threads, progress.Report, call.Interruption.Token, !call.Has(Only)));
            double seconds = System.Diagnostics.Stopwatch.GetElapsedTime(clock).TotalSeconds;
            rate = seconds > 0.0 ? study.BondExposures / seconds : null;
            progress.Say("writing tables and plots");
            IntervalFiles.Add(results.Folder, study, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(IntervalContent.Of(study, context, !call.Has(Options.NoPlots)));
            results.Complete(cell, reading.Sha256, "interval", study.Lifetimes, threads, rate);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(IntervalAnswer.Heading(study));
            call.Terminal.Say(IntervalAnswer.Of(study));
        }

        results.Tell(call, IntervalSummary.Of(study, context.Sha256), threads, rate);
        return call.Has(Require) && study.Longest is null ? ExitCode.RequirementMissed : ExitCode.Done;
    }

    private static int Judge(Call call, ScenarioReading reading, double value, int site)
    {
        int threads = Simulation.Threads(call);
        var found = call.Interruption.Compute(() => ReadingToday.Of(reading.Cell!, value, site, threads, call.Interruption.Token));
        if (call.Json)
        {
            call.Terminal.Say(ReadingAnswer.Document(found, reading.Cell!.Name, reading.Sha256).ToBytes());
        }
        else if (!call.Quiet)
        {
            call.Terminal.Head(reading.Cell!.Name);
            call.Terminal.Say(ReadingAnswer.Of(found));
        }

        return ExitCode.Done;
    }
}

using CureSim.Reports.Fit;
using CureSim.Studies.Fit;

namespace CureSim.Cli;

/// <summary>How long a running cell has left, given its log so far; or where an excursion came from.</summary>
internal static class TimeLeftCommand
{
    private const int LeastLifetimes = 200, MostLifetimes = 100_000;

    public static readonly OptionInfo Simulated = new("--lifetimes", "N", $"Lifetimes simulated in all. Left out: {TimeLeft.DefaultLifetimes}, or the scenario's where it has fewer.");

    public static CommandInfo Info { get; } = new(
        "time-left",
        "How long a running cell has left before it must be requalified, given its log so far.",
        [new("SCENARIO", "Scenario file (YAML) with checks."), new("LOG.csv", "Radiometer log of the cell from its commissioning up to now (CSV, UTF-8).")],
        [.. LogInput.All, Simulated, Options.Set, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Options.Json, Options.Quiet],
        [
            new("curesim time-left scenarios/running-cell.yaml scenarios/samples/running-cell-log.csv", "An invented cell at 1000 h: its time left against the fleet's."),
            new("curesim time-left my-cell.yaml my-log.csv --column \"reading=UV power\" --unit mW/cm2", "A log with headers of its own."),
        ],
        Run)
    {
        More = "Simulated lifetimes are weighted by the likelihood of what was read. When the last check reads outside the action limit, it says instead when the excursion most likely began and why.",
    };

    private static int Run(Call call)
    {
        var reading = ScenarioInput.Read(call, 0);
        var (log, context, start) = LogInput.Read(call, 1);
        var cell = reading.Cell!;
        if (cell.Checks is null)
        {
            throw new InputException("the scenario has no checks, so nothing that a log holds is simulated; write a block \"checks\"");
        }

        if (start is > 0.0)
        {
            throw new InputException("--start-hours: a forecast needs the log from the cell's commissioning on; for a cell that is older, give the scenario a block \"now\" and the log since then");
        }

        int threads = Simulation.Threads(call);
        long all = (long)cell.Run.Worlds * cell.Run.LifetimesPerWorld;
        int lifetimes = (int)(call.Whole(Simulated, LeastLifetimes, MostLifetimes) ?? (ulong)Math.Max(LeastLifetimes, Math.Min(TimeLeft.DefaultLifetimes, all)));
        using var results = Results.Begin(call, ScenarioInput.StemOf(call.Argument(0)!), "time-left");
        context = context with { Copied = results.Keep(LogInput.Copy, call.Argument(1)!, context.Sha256) };
        TimeLeft found;
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            found = call.Interruption.Compute(() => TimeLeft.Of(cell, log, lifetimes, threads, call.Interruption.Token));
            TimeLeftFiles.Add(results.Folder, found, cell.Name, reading.Sha256, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            results.Folder.Add("scenario.yaml", reading.ResolvedYaml);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(TimeLeftContent.Of(found, cell, ScenarioInput.ContextOf(reading, call.Argument(0)!), context, !call.Has(Options.NoPlots)));
            results.Complete(cell, reading.Sha256, "time-left", found.Lifetimes, threads, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head($"{cell.Name}: {context.File}");
            call.Terminal.Say(TimeLeftFiles.Answer(found, context));
        }

        results.Tell(call, TimeLeftFiles.Summary(found, cell.Name, reading.Sha256, context), threads, null);
        return ExitCode.Done;
    }
}

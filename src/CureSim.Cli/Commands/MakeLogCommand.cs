using System.Text.Json.Nodes;
using CureSim.Engine.Plan;
using CureSim.Reports.Fit;
using CureSim.Reports.Json;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

namespace CureSim.Cli;

/// <summary>Writes the log that a plant would have kept of one simulated lifetime.</summary>
internal static class MakeLogCommand
{
    public static readonly OptionInfo Repeats = new("--repeats", "N", "Readings of every site as found, each with an error of its own. Left out: 1.");
    public static readonly OptionInfo Until = new("--until", "TIME", "Production time at which the log ends, such as \"1500 h\". Left out: the horizon.");

    public static CommandInfo Info { get; } = new(
        "make-log",
        "Write an invented radiometer log: what a plant would have kept of one simulated lifetime.",
        [new("SCENARIO", "Scenario file (YAML) with checks.")],
        [TraceCommand.Lifetime, TraceCommand.World, Repeats, Until, Options.Set, Options.Seed, Options.Lifetimes, Options.Out, Options.NoPlots, Options.Pdf, Options.Json, Options.Quiet],
        [
            new("curesim make-log scenarios/emitter-log.yaml --lifetime 0 --repeats 2", "The log of the first lifetime, every site read twice as found; in output/emitter-log/make-log/log.csv."),
            new("curesim make-log scenarios/quick.yaml --lifetime 3 --until \"600 h\"", "The first 600 h of the fourth lifetime, as if the cell were still running."),
        ],
        Run)
    {
        More = "The file says that it is invented. Its truth is known, so fit and time-left can be tried on it.",
    };

    private static int Run(Call call)
    {
        var reading = ScenarioInput.Read(call, 0);
        var cell = reading.Cell!;
        if (cell.Checks is null)
        {
            throw new InputException("the scenario has no checks, so nothing is read; write a block \"checks\"");
        }

        int world = (int)(call.Whole(TraceCommand.World, 0, (ulong)cell.Run.Worlds - 1) ?? 0);
        uint lifetime = (uint)(call.Whole(TraceCommand.Lifetime, 0, (ulong)cell.Run.LifetimesPerWorld - 1)
            ?? throw new InputException($"--lifetime is missing; the run has lifetimes 0 to {cell.Run.LifetimesPerWorld - 1} in each world"));
        int repeats = (int)(call.Whole(Repeats, 1, InventedLog.MostRepeats) ?? 1);
        double? until = LogInput.Hours(call, Until);
        using var results = Results.Begin(call, ScenarioInput.StemOf(call.Argument(0)!), "make-log");
        var log = call.Interruption.Compute(() => InventedLog.Of(new RunPlan(cell with { Run = cell.Run with { PartsAStep = 1 } }), world, lifetime, repeats, until * 3600.0));
        results.Folder.Add("scenario.yaml", reading.ResolvedYaml);
        results.Folder.Add("log.csv", LogTable.Bytes(
            log, $"Invented by CureSim {ThisTool.Version}: no plant's figures.", FormattableString.Invariant($"Lifetime {lifetime} of world {world}, seed {cell.Run.Seed}, scenario {Reports.Text.PlainText.OneLine(cell.Name)}.")));
        var document = new SummaryDocument("make-log", cell.Name);
        document.Root.Text("scenarioSha256", reading.Sha256).Count("world", world).Count("lifetime", lifetime).Count("rows", log.Rows.Length).Count("readings", log.Readings.Count());
        document.Root.Add("invented", true);
        document.Root.Number("untilHours", log.Rows.IsEmpty ? null : log.Rows.Max(r => r.Hours), "the log is empty").Count("repeats", repeats);
        results.Folder.Add("summary.json", document.ToBytes());
        bool plots = !call.Has(Options.NoPlots);
        if (plots && log.Readings.Any())
        {
            Reports.Runs.RunFiles.AddPlots(results.Folder, [("readings", MakeLogContent.Picture(log, cell))], call.Interruption.Token);
        }

        results.Report(MakeLogContent.Of(log, cell, ScenarioInput.ContextOf(reading, call.Argument(0)!), world, lifetime, repeats, plots));
        results.Complete(cell, reading.Sha256, "make-log", 1, 1, null);
        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head($"{cell.Name}: invented log of lifetime {lifetime} of world {world}");
            call.Terminal.SayLine($"{log.Readings.Count()} readings and {log.Rows.Count(r => !r.Events.IsEmpty)} rows with events in {Path.Combine(Path.GetRelativePath(Environment.CurrentDirectory, results.Folder.Target), "log.csv")}");
        }

        results.Tell(call, document, 1, null);
        return ExitCode.Done;
    }
}

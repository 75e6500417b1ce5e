using System.Globalization;
using CureSim.Reports.ProcessWindow;
using CureSim.Scenarios;
using CureSim.Studies.ProcessWindow;
using CureSim.Studies.Runs;

namespace CureSim.Cli;

/// <summary>The process window: its edges, the rectangle for a protocol, and the qualification plan; or limits from the team's own dose ladder.</summary>
internal static class WindowCommand
{
    public static readonly OptionInfo AlongAxis = new("--along", "KEY=FROM..TO", "Setting along the map, instead of irradiance: \"fixture.distance.nominal=8..12 mm\". Goes with --up.");
    public static readonly OptionInfo UpAxis = new("--up", "KEY=FROM..TO", "Setting up the map, instead of exposure time.");
    public static readonly OptionInfo MapOnly = new("--map-only", null, "The map, set-point and rectangle only: no qualification plan.");
    public static readonly OptionInfo EveryNode = new("--every-node", null, "Judge every node, not only those near contours.");
    public static readonly OptionInfo Risk = new("--risk", "LEVEL", "Risk of a nonconforming bond, instead of window_study.risk: high, medium or low (95/99, 95/95, 95/90).");
    private static readonly OptionInfo Require = new("--require", null, "Exit with 1 when the setting of the scenario is not inside the operating rectangle.");

    public static CommandInfo Info { get; } = new(
        "window",
        "The process window of two settings: edges, set-point, rectangle, qualification plan.",
        [new("SCENARIO", "Scenario file (YAML).", Required: false)],
        [
            AlongAxis, UpAxis, MapOnly, EveryNode, Risk, .. LadderRun.Own, Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Require, Options.Json, Options.Quiet,
        ],
        [
            new("curesim window scenarios/process-window.yaml", "Map of irradiance and exposure time; results in output/process-window/window."),
            new("curesim window --from-study scenarios/dose-ladder.csv --at-least \"18 N\"", "Limits from the team's own dose ladder."),
        ],
        Run)
    {
        More = "Ranges, requirement and risk are those of the scenario's window_study block; what is left out is found. Paths of lifetimes are followed once for each irradiance setting with the same draws, and the states that they pass "
            + "are judged at every exposure time. With --from-study the limits come from measurements alone, and are tested points or inside them, never beyond.",
    };

    private static int Run(Call call)
    {
        if (call.Text(LadderRun.FromStudy) is not null)
        {
            return LadderRun.Run(call);
        }

        LadderRun.RefuseAlone(call);
        if (call.Argument(0) is null)
        {
            throw new InputException("a scenario is missing: curesim window SCENARIO, or curesim window --from-study DOSES.csv --at-least VALUE");
        }

        string[] risk = call.Text(Risk) is { } level ? [$"window_study.risk={level}"] : [];
        var reading = ScenarioInput.Read(call, 0, risk);
        var cell = reading.Cell!;
        int threads = Simulation.Threads(call);
        var context = ScenarioInput.ContextOf(reading, call.Argument(0)!);
        var study = WindowAxes.Case(call, reading);
        using var results = Results.Begin(call, context.FileStem, "window");
        WindowResult result;
        double? rate = null;
        long lifetimes;
        using (var progress = new ProgressBar(call.Terminal, "mapping", call.Quiet))
        {
            var clock = System.Diagnostics.Stopwatch.StartNew();
            void Tell(string what, double share) => progress.Report(new((long)(1000.0 * share), 1000, clock.Elapsed));
            result = call.Interruption.Compute(() => WindowResult.Run(study, threads, Tell, call.Has(MapOnly), call.Has(EveryNode), call.Interruption.Token));
            progress.Say("writing tables and plots");
            WindowFiles.Add(results.Folder, result, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            lifetimes = (long)cell.Run.Worlds * cell.Run.LifetimesPerWorld * result.Map.X.Length * study.TimesOfPath.Length;
            results.Report(WindowContent.Of(result, context, !call.Has(Options.NoPlots)));
            results.Complete(cell, reading.Sha256, "window", lifetimes, threads, rate);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(WindowAnswer.Heading(result));
            call.Terminal.Say(WindowAnswer.Of(result));
        }

        results.Tell(call, WindowSummary.Of(result, context.Sha256), threads, rate);
        bool inside = result.Map.Rectangle is { } r && study.Own is var (x, y) && x >= r.FromX && x <= r.ToX && y >= r.FromY && y <= r.ToY;
        return call.Has(Require) && !inside ? ExitCode.RequirementMissed : ExitCode.Done;
    }
}

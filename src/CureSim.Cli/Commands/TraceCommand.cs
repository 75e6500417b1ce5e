using System.Text.Json.Nodes;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;

namespace CureSim.Cli;

/// <summary>Replays one lifetime of a run and writes down everything that happens to it.</summary>
internal static class TraceCommand
{
    public static readonly OptionInfo Lifetime = new("--lifetime", "N", "Number of the lifetime in its world, from 0, as in tables/lifetimes.csv of the run. Needed.");
    public static readonly OptionInfo World = new("--world", "M", "Number of the world, from 0. Left out: 0.");
    public static readonly OptionInfo Events = new("--events", "N", "Events to print; events.csv holds all of them. Left out: 40.");

    public static CommandInfo Info { get; } = new(
        "trace",
        "Replay one lifetime of a run, with all that happens to it.",
        [new("SCENARIO", "Scenario file (YAML).")],
        [Lifetime, World, Events, Options.Set, Options.Seed, Options.Lifetimes, Options.Out, Options.Pdf, Options.Json, Options.Quiet],
        [
            new("curesim trace scenarios/quick.yaml --lifetime 3", "The fourth lifetime: events, steps and bonds in output/quick/trace."),
            new("curesim trace scenarios/hub-bond-lamp.yaml --world 2 --lifetime 17 --events 100", "A lifetime of the third world, its first hundred events printed."),
        ],
        Run)
    {
        More = "The lifetime is the same as in the run: each of its draws depends on its address, not on the lifetimes around it.",
    };

    private static int Run(Call call)
    {
        var reading = ScenarioInput.Read(call, 0);
        var cell = reading.Cell!;

        // A run to a precision may have gone on up to its cap.
        int most = cell.Run.Precision?.MostLifetimes ?? 0;
        int worlds = cell.Run.Worlds == 1 ? 1 : Math.Max(cell.Run.Worlds, most / cell.Run.LifetimesPerWorld);
        int lifetimes = cell.Run.Worlds == 1 ? Math.Max(cell.Run.LifetimesPerWorld, most) : cell.Run.LifetimesPerWorld;
        int world = (int)(call.Whole(World, 0, (ulong)worlds - 1) ?? 0);
        uint lifetime = (uint)(call.Whole(Lifetime, 0, (ulong)lifetimes - 1)
            ?? throw new InputException($"--lifetime is missing; the run has lifetimes 0 to {lifetimes - 1} in each world"));
        int events = (int)(call.Whole(Events, 0, int.MaxValue) ?? 40);
        using var results = Results.Begin(call, ScenarioInput.StemOf(call.Argument(0)!), "trace");
        var trace = call.Interruption.Compute(() => LocalRunner.Trace(new RunPlan(cell), world, lifetime));
        results.Folder.Add("scenario.yaml", reading.ResolvedYaml);
        RunFiles.AddTables(results.Folder, TraceTables.Of(cell, trace), call.Interruption.Token);
        var document = Document(cell.Name, reading.Sha256, world, lifetime, TraceTimeline.Summary(cell, trace), trace);
        results.Folder.Add("summary.json", document.ToBytes());
        results.Report(TraceContent.Of(cell, trace, ScenarioInput.ContextOf(reading, call.Argument(0)!), world, lifetime));
        results.Complete(cell, reading.Sha256, "trace", 1, 1, null);
        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head($"{cell.Name}: lifetime {lifetime} of world {world}");
            call.Terminal.Say(TraceTimeline.Summary(cell, trace));
            call.Terminal.SayLine();
            call.Terminal.Say(AlignedText.Of(TraceTimeline.Events(trace, events), call.Terminal.Letters.Of));
            if (trace.Events.Count > events)
            {
                call.Terminal.SayLine($"… {trace.Events.Count - events} more in tables/events.csv");
            }
        }

        results.Tell(call, document, 1, null);
        return ExitCode.Done;
    }

    private static SummaryDocument Document(string name, string sha256, int world, uint lifetime, IEnumerable<AnswerLine> lines, LifetimeTrace trace)
    {
        var document = new SummaryDocument("trace", name);
        document.Root.Text("scenarioSha256", sha256).Count("world", world).Count("lifetime", lifetime)
            .Count("events", trace.Events.Count).Count("steps", trace.Steps.Count).Count("bonds", trace.Bonds.Count);
        var counts = document.Root.Array("eventCounts");
        foreach (var kind in trace.Events.GroupBy(e => e.What).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            counts.Add(new JsonObject().Text("event", kind.Key).Count("count", kind.Count()));
        }

        var words = document.Root.Object("words");
        foreach (var line in lines)
        {
            words.Text(line.Label, line.Text);
        }

        return document;
    }
}

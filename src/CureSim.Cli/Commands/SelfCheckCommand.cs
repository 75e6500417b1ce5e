using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using CureSim.Checks;
using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Reports.SelfCheck;

namespace CureSim.Cli;

/// <summary>Makes the checks of the catalogue on this machine and leaves a dated record.</summary>
internal static class SelfCheckCommand
{
    private const int LinesOfACell = 6;

    public static readonly OptionInfo Topic = new("--topic", "TOPIC", "Only the checks of this topic, such as \"closed form\".", Repeatable: true);

    public static readonly OptionInfo Id = new("--id", "START", "Only the checks whose short name starts so, such as CF-AIM.", Repeatable: true);

    public static readonly OptionInfo Summary = new("--summary", null, "Print counts and misses, not the table of all checks; the record holds it all the same.");

    // Its own words: a record of a self-check is evidence and is never replaced.
    private static readonly OptionInfo Out = Options.Out with
    {
        Meaning = "Folder for the record, instead of output/self-check/<date and time>. A folder that holds anything is left alone.",
    };

    public static CommandInfo Info { get; } = new(
        "self-check",
        "Check this tool on this machine against published values and closed forms, and write a dated record.",
        [],
        [Topic, Id, Summary, Options.Threads, Out, Options.Json, Options.Quiet],
        [
            new("curesim self-check", "All checks, in well under a minute on two cores; exit code 1 when one is missed."),
            new("curesim self-check --topic capability --id CF-AIM --summary", "One topic and the closed forms of aim, counts and misses only."),
        ],
        Run)
    {
        More = "The checks are those that the tests run. The record (page to print and sign, text, tables) names version, commit, system, instruction sets and date.",
    };

    private static int Run(Call call)
    {
        var chosen = Chosen(call);
        int threads = Simulation.Threads(call);
        var started = TimeProvider.System.GetUtcNow();
        using var results = Results.Begin(call, SelfCheckFiles.Name, FreeName(call, started));
        long clock = Stopwatch.GetTimestamp();
        ImmutableArray<CheckRun> runs;
        using (var progress = new ProgressBar(call.Terminal, "checking", call.Quiet))
        {
            runs = call.Interruption.Compute(() => CheckRun.Of(
                chosen, threads, done => progress.Say(string.Create(CultureInfo.InvariantCulture, $"checking: {done} of {chosen.Length}")), call.Interruption.Token));
        }

        var place = new CheckedPlace(
            ThisTool.Version, ThisTool.Commit, started, Stopwatch.GetElapsedTime(clock).TotalSeconds, threads, ThisTool.System,
            string.Create(CultureInfo.InvariantCulture, $"{ThisTool.Architecture}, {Environment.ProcessorCount} processors"), ThisTool.Instructions, ThisTool.Runtime);
        var record = new SelfCheckRecord([.. runs.Select(Item)], place, CheckCatalogue.All.Length);
        SelfCheckFiles.Add(results.Folder, record, call.Interruption.Token);
        call.Interruption.Token.ThrowIfCancellationRequested();
        results.Complete(Info.Name, SelfCheckFiles.Name, threads);
        Say(call, results, record);
        return record.AllPassed ? ExitCode.Done : ExitCode.DoesNotHold;
    }

    private static void Say(Call call, Results results, SelfCheckRecord record)
    {
        var text = new SelfCheckText(record, call.Terminal.Width, call.Terminal.Letters.Of);
        if (call.Json)
        {
            var document = SelfCheckSummary.Of(record);
            results.Tell(call, document, record.Place.Threads, null);
        }
        else if (!call.Quiet)
        {
            call.Terminal.Say((call.Has(Summary) ? "" : text.Table(LinesOfACell)) + text.Misses() + text.Summary());
            string folder = Path.GetRelativePath(Environment.CurrentDirectory, results.Folder.Target);
            call.Terminal.Say((AnswerLine[])
            [
                new("time", string.Create(CultureInfo.InvariantCulture, $"{record.Place.Seconds:F1} s on {record.Place.Threads} threads")),
                new("record", $"{folder}: self-check.html (to print and sign), self-check.txt, tables, summary.json, record.json; every text in full"),
            ]);
        }
        else if (!record.AllPassed)
        {
            call.Terminal.Tell(text.Verdict());
        }
    }

    private static ImmutableArray<Check> Chosen(Call call)
    {
        string[] topics = call.Texts(Topic), starts = call.Texts(Id);
        if (topics.Length + starts.Length == 0)
        {
            return CheckCatalogue.All;
        }

        string[] known = [.. CheckCatalogue.All.Select(c => c.Topic).Distinct()];
        string[] problems =
        [
            .. topics.Where(t => !known.Contains(t, StringComparer.OrdinalIgnoreCase)).Select(t => $"--topic: found \"{t}\"; accepted: {string.Join(", ", known)}"),
            .. starts.Where(s => s.Length == 0 || !CheckCatalogue.All.Any(c => Starts(c, s))).Select(s => $"--id: no check's name starts with \"{s}\""),
        ];
        return problems.Length > 0
            ? throw new InputException([.. problems])
            : [.. CheckCatalogue.All.Where(c => topics.Contains(c.Topic, StringComparer.OrdinalIgnoreCase) || starts.Any(s => Starts(c, s)))];
    }

    private static bool Starts(Check check, string start) => check.Id.StartsWith(start, StringComparison.OrdinalIgnoreCase);

    // A record of the same second, or a folder that the user named and that holds one, is not replaced.
    private static string FreeName(Call call, DateTimeOffset started)
    {
        if (call.Text(Options.Out) is { } given)
        {
            return Path.Exists(given) && !(Directory.Exists(given) && !Directory.EnumerateFileSystemEntries(given).Any())
                ? throw new ResultFolderException($"'{given}' holds something already, and a record of a self-check replaces nothing; choose another folder with --out.")
                : "";
        }

        string stamp = started.ToString("yyyy-MM-dd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
        return Enumerable.Range(1, int.MaxValue).Select(n => n == 1 ? stamp : string.Create(CultureInfo.InvariantCulture, $"{stamp}-{n}"))
            .First(name => !Path.Exists(Path.Combine("output", SelfCheckFiles.Name, name)));
    }

    private static CheckedItem Item(CheckRun run) => new(
        run.Check.Id, run.Check.Topic, run.Check.What, run.Check.Source, run.Check.Provenance, run.Check.Kind == CheckKind.Sampled, run.Check.ThroughEngine,
        run.Check.CountedWith, run.Outcome.Expected, run.Outcome.Found, run.Outcome.Tolerance, run.Outcome.Passed,
        run.Outcome.SmallestDetectable is { } d && double.IsFinite(d) ? d : null, run.Outcome.Figures);
}

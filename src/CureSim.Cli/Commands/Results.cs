using System.Collections.Immutable;
using System.Diagnostics;
using System.Text.Json.Nodes;
using CureSim.Core.Cell;
using CureSim.Reports.Folders;
using CureSim.Reports.Runs;
using CureSim.Reports.Json;
using CureSim.Reports.Pages;

namespace CureSim.Cli;

/// <summary>The folder of a command's results and the record of how they came about.</summary>
internal sealed class Results : IDisposable
{
    private readonly DateTimeOffset started = TimeProvider.System.GetUtcNow();
    private readonly long clock = Stopwatch.GetTimestamp();

    private readonly ImmutableArray<string> options;
    private readonly bool pdf;
    private readonly List<DataFile> data = [];
    private ReportContent? report;

    private Results(ResultFolder folder, ImmutableArray<string> options, bool pdf)
    {
        Folder = folder;
        this.options = options;
        this.pdf = pdf;
    }

    /// <summary>Where files are added.</summary>
    public ResultFolder Folder { get; }

    /// <summary>Begins the results of a command, before anything is computed.</summary>
    /// <exception cref="ResultFolderException">The folder cannot be written or must not be replaced.</exception>
    public static Results Begin(Call call, string stem, string command) =>
        new(ResultFolder.Begin(OutOf(call) ?? Path.Combine("output", stem, command)), call.Given, call.Has(Options.Pdf));

    private static string? OutOf(Call call) =>
        call.Text(Options.Out) is not { } given ? null : string.IsNullOrWhiteSpace(given) ? throw new InputException("--out: found nothing; accepted: a folder") : given;

    /// <summary>Notes a data file of the user in the record, and copies it into the folder unless it is too large; true when it was copied.</summary>
    /// <param name="name">Its name in the folder.</param>
    /// <param name="path">Where it lies.</param>
    /// <param name="sha256">Of the bytes that were read.</param>
    /// <exception cref="InputException">It changed since it was read, or cannot be read.</exception>
    public bool Keep(string name, string path, string sha256)
    {
        try
        {
            long length = new FileInfo(path).Length;
            bool copied = length <= DataFile.MostCopied;
            if (copied)
            {
                byte[] bytes = File.ReadAllBytes(path);
                if (RunRecord.Hash(bytes) != sha256)
                {
                    throw new InputException($"{path}: it was changed while it was read");
                }

                Folder.Add(name, bytes);
            }

            data.Add(new(name, Path.GetFileName(path), sha256, length, copied));
            return copied;
        }
        catch (Exception e) when (e is (IOException or UnauthorizedAccessException) and not ResultFolderException)
        {
            throw new InputException($"{path}: a file that cannot be read ({e.Message.TrimEnd('.')})");
        }
    }

    /// <summary>Takes what the report says; its page is written with the record.</summary>
    public void Report(ReportContent content) => report = content;

    /// <summary>Writes the record and moves the folder into its place.</summary>
    /// <param name="cell">The scenario.</param>
    /// <param name="sha256">Hash of its resolved text.</param>
    /// <param name="command">The command.</param>
    /// <param name="lifetimes">Lifetimes simulated.</param>
    /// <param name="threads">Threads used.</param>
    /// <param name="exposuresPerSecond">Simulated bond exposures a second; null when that is not of interest.</param>
    /// <param name="ended">What ended a run to a precision; null when its size was given.</param>
    public void Complete(Scenario cell, string sha256, string command, long lifetimes, int threads, double? exposuresPerSecond, string? ended = null) =>
        Complete(cell.Name, sha256, command, cell.Run.Seed, lifetimes, threads, exposuresPerSecond, ended, SamplingText.Of(cell.Run));

    /// <summary>The same for a command that works on nothing but itself.</summary>
    /// <param name="command">The command.</param>
    /// <param name="about">What stands in the scenario's place.</param>
    /// <param name="threads">Threads used.</param>
    public void Complete(string command, string about, int threads) => Complete(about, null, command, 0, 0, threads, null);

    /// <summary>The same for a command without scenario.</summary>
    /// <param name="name">Name of what was worked on.</param>
    /// <param name="sha256">Hash of it; null for none.</param>
    /// <param name="command">The command.</param>
    /// <param name="seed">Key of the draws.</param>
    /// <param name="lifetimes">Lifetimes simulated; 0 for none.</param>
    /// <param name="threads">Threads used.</param>
    /// <param name="exposuresPerSecond">Simulated bond exposures a second; null when that is not of interest.</param>
    /// <param name="ended">What ended a run to a precision; null when its size was given.</param>
    /// <param name="sampling">How lifetimes were drawn; null where none were.</param>
    public void Complete(string name, string? sha256, string command, ulong seed, long lifetimes, int threads, double? exposuresPerSecond,
        string? ended = null, string? sampling = null)
    {
        var record = new RunRecord
        {
            Version = ThisTool.Version,
            Commit = ThisTool.Commit,
            Command = command,
            Options = options,
            Data = [.. data],
            Scenario = name,
            ScenarioSha256 = sha256,
            Seed = seed,
            Lifetimes = lifetimes,
            Ended = ended,
            Sampling = sampling,
            Threads = threads,
            Runtime = ThisTool.Runtime,
            Machine = ThisTool.Machine,
            Started = started,
            DurationSeconds = Stopwatch.GetElapsedTime(clock).TotalSeconds,
            ExposuresPerSecond = exposuresPerSecond,
        };
        if (report is not null)
        {
            ReportFiles.Add(Folder, report, record, pdf);
        }

        Folder.Complete(record);
    }

    /// <summary>Says where the results are; as text, or as the document with where and how fast.</summary>
    public void Tell(Call call, SummaryDocument document, int threads, double? exposuresPerSecond)
    {
        if (call.Json)
        {
            var timing = new JsonObject().Count("threads", threads).Number("seconds", Stopwatch.GetElapsedTime(clock).TotalSeconds);
            if (exposuresPerSecond is { } rate)
            {
                timing.Number("exposuresPerSecond", rate);
            }

            if (report is not null)
            {
                document.Root.Object("answer").Text("question", report.Question).Text("judgement", report.Judgement.ToString().ToLowerInvariant()).Text("decision", report.Decision)
                    .Text("sentence", report.Answer).Text("howSure", report.HowSure).Text("largestAssumption", report.LargestAssumption);
            }

            document.Root.Text("folder", Folder.Target);
            document.Root.Add("timing", timing);
            call.Terminal.Say(document.ToBytes());
        }
        else if (!call.Quiet)
        {
            int tables = Folder.Files.Keys.Count(f => f.StartsWith("tables/", StringComparison.Ordinal)), plots = Folder.Files.Keys.Count(f => f.EndsWith(".png", StringComparison.Ordinal));
            string[] files =
            [.. !Folder.Files.ContainsKey(ReportFiles.Page) ? Array.Empty<string>() : [pdf ? "report.html and report.pdf (open one of them first)" : "report.html (open it first)"], "summary.json", .. tables > 0 ? [tables == 1 ? "1 table" : $"{tables} tables"] : Array.Empty<string>(), .. plots > 0 ? [plots == 1 ? "1 plot (PNG, SVG)" : $"{plots} plots (PNG, SVG)"] : Array.Empty<string>(), .. new[] { "log.csv", "parts.csv", "fitted.yaml", "fitted-scenario.yaml", "scenario.yaml" }.Where(Folder.Files.ContainsKey), "record.json"];
            if (report is { Judgement: Judgement.Provisional, Basis: { } basis })
            {
                call.Terminal.SayLine();
                call.Terminal.SayLine(WrappedText.Of($"Provisional: {basis.Split(". ")[0].Split(": ")[0]}; the report says which and why.", 0, call.Terminal.Width));
            }

            call.Terminal.SayLine();
            call.Terminal.SayLine($"The rest is in {Path.GetRelativePath(Environment.CurrentDirectory, Folder.Target)}: {string.Join(", ", files)}");
        }

        if (Folder.LeftBehind is { } former)
        {
            call.Terminal.Tell($"curesim: the former results could not be deleted; they are in '{former}'");
        }
    }

    public void Dispose() => Folder.Dispose();
}

using CureSim.Reports.Fit;
using CureSim.Reports.Text;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

namespace CureSim.Cli;

/// <summary>Fits a plant's own records: a radiometer log, or measured parts.</summary>
internal static class FitCommand
{
    public static readonly OptionInfo Quantity = new("--fitted", "WHAT", "What is fitted against the emitter's hours: reading, \"reading over drive\" or drive. Left out: chosen from the log, and said.");
    public static readonly OptionInfo Forms = new("--forms", "LIST", "Ageing forms to compare, such as \"exponential, stretched\". Left out: exponential, stretched, two_stage.");
    public static readonly OptionInfo Into = new("--scenario", "SCENARIO", "Scenario file: what was fitted is put into it (fitted-scenario.yaml), and the log is compared with what it then simulates.");
    public static readonly OptionInfo AsItIs = new("--as-it-is", null, "With --scenario: compare with the scenario as it is, without what was fitted.");
    public static readonly OptionInfo Parts = new("--parts", null, "The file holds measured parts (distances, thicknesses, times), one value a row: fit a distribution to a column, said with --column HEADER where there are several.");

    public static CommandInfo Info { get; } = new(
        "fit",
        "Fit your own records: ageing, spread and meter from a radiometer log, or a distribution from measured parts.",
        [new("LOG.csv", "Radiometer log, or with --parts measured parts (CSV, UTF-8).")],
        [
            Parts, .. LogInput.All, Quantity, Forms, Into, AsItIs, Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Options.Json, Options.Quiet,
        ],
        [
            new("curesim fit scenarios/samples/emitter-log.csv --scenario scenarios/emitter-log.yaml", "An invented log; fitted.yaml is ready to paste, fitted-scenario.yaml to run."),
            new("curesim fit scenarios/connector-distances.csv --parts --column deviation_mm", "The distribution of measured distances, as YAML."),
        ],
        Run)
    {
        More = "The log is cut at replacements; every emitter is fitted by weighted least squares, the forms are compared by AICc, and the spread between emitters is estimated with the error of fit taken out. "
            + "Every value carries its uncertainty into the scenario as an unknown. An event on a row happened before its reading, unless the reading is as found.",
    };

    private static int Run(Call call) => call.Has(Parts) ? FitPartsRun.Run(call) : FitLog(call);

    private static int FitLog(Call call)
    {
        var problems = new List<string>();
        var settings = Settings(call, problems);
        (Core.Logs.ReadingLog Log, FitContext Context, double? Start)? read = null;
        bool located = false;
        try
        {
            read = LogInput.Read(call, 0);
        }
        catch (InputException e)
        {
            problems.InsertRange(0, e.Problems);
            located = e.IsLocated;
        }

        string? path = call.Text(Into);
        string[] sets = [.. call.Texts(Options.Set)];
        if (path is null && (sets.Length > 0 || call.Has(AsItIs) || call.Text(Options.Lifetimes) is not null || call.Text(Options.Seed) is not null))
        {
            problems.Add("--set, --as-it-is, --lifetimes, --seed: they go with --scenario");
        }

        var before = path is null ? null : ScenarioReader.Read(path, Sets(call, sets));
        if (before is { Cell: null })
        {
            problems.AddRange(before.Problems.Select(p => p.ToString()));
            located = true;
        }

        if (problems.Count > 0)
        {
            throw new InputException([.. problems]) { IsLocated = located };
        }

        var (log, context, start) = read!.Value;
        int threads = Simulation.Threads(call);
        using var results = Results.Begin(call, context.Stem, "fit");
        context = context with { Copied = results.Keep(LogInput.Copy, call.Argument(0)!, context.Sha256) };
        LogFit fit;
        PredictiveCheck? check = null;
        using (var progress = new ProgressBar(call.Terminal, "fitting", call.Quiet))
        {
            fit = call.Interruption.Compute(() => LogFit.Of(log, settings with { StartHours = start }));
            if (before is not null)
            {
                progress.Say("simulating the scenario");
                var after = Fitted(path!, call, sets, fit, before);
                results.Folder.Add("scenario.yaml", before.ResolvedYaml);
                results.Folder.Add("fitted-scenario.yaml", after.ResolvedYaml);
                check = call.Interruption.Compute(() => PredictiveCheck.Of((call.Has(AsItIs) ? before : after).Cell!, log, threads, call.Interruption.Token));
            }

            progress.Say("writing tables and plots");
            FitFiles.Add(results.Folder, fit, context, check, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(FitContent.Of(fit, context, check, !call.Has(Options.NoPlots)));
            results.Complete(context.Stem, context.Sha256, "fit", before?.Cell!.Run.Seed ?? 0, check?.Lifetimes ?? 0, before is null ? 1 : threads, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(FitAnswer.Heading(fit, context));
            call.Terminal.Say(FitAnswer.Of(fit, context, check));
        }

        results.Tell(call, FitSummary.Of(fit, context, check), threads, null);
        return ExitCode.Done;
    }

    // A list such as disturbances is not replaced where the scenario has one of its own.
    private static ScenarioReading Fitted(string path, Call call, string[] sets, LogFit fit, ScenarioReading before)
    {
        bool disturbed = !before.Cell!.Disturbances.IsEmpty, seenByMeter = fit.Quantity != FittedQuantity.Drive;
        var further = FittedKeys.Of(fit).Where(k => !k.IsList || !disturbed).SelectMany(k => new[] { $"{k.Path}=", $"{k.Path}={(k.IsList ? $"[ {k.Text} ]" : k.Text)}" });

        // What is unknown needs several worlds, each of as many lifetimes as before: said by number, so that the resolved scenario gives the same as the one that was written.
        if (before.Cell.Run is { Worlds: 1, Precision: null } run)
        {
            further = further.Concat(["run.worlds=", FormattableString.Invariant($"run.lifetimes={run.LifetimesPerWorld}")]);
        }

        // What a key replaces is taken out first, so that no parameter of the former value stays beside the new one.
        var after = ScenarioReader.Read(path, [.. Sets(call, sets), .. further]);
        return after.Cell is not null ? after
            : throw new InputException([$"what was fitted does not go into the scenario; {(seenByMeter ? "" : "the drive was fitted; ")}fit without --scenario writes it for you to place", .. after.Problems.Select(p => p.ToString())]) { IsLocated = true };
    }

    private static string[] Sets(Call call, string[] sets)
    {
        var all = new List<string>(sets);
        if (call.Whole(Options.Seed, 0, ulong.MaxValue) is { } seed)
        {
            all.Add(FormattableString.Invariant($"run.seed={seed}"));
        }

        if (call.Whole(Options.Lifetimes, 1, 10_000_000) is { } lifetimes)
        {
            all.AddRange(["run.precision=", FormattableString.Invariant($"run.lifetimes={lifetimes}")]);
        }

        return [.. all];
    }

    private static FitSettings Settings(Call call, List<string> problems)
    {
        FittedQuantity? quantity = null;
        switch (call.Text(Quantity)?.Trim().ToLowerInvariant())
        {
            case null:
                break;
            case "reading":
                quantity = FittedQuantity.Reading;
                break;
            case "reading over drive":
                quantity = FittedQuantity.ReadingOverDrive;
                break;
            case "drive":
                quantity = FittedQuantity.Drive;
                break;
            default:
                problems.Add($"--fitted: found \"{call.Text(Quantity)}\"; accepted: reading, \"reading over drive\", drive");
                break;
        }

        var forms = new List<AgeingForm>();
        foreach (string name in (call.Text(Forms) ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (AgeingForm.All.FirstOrDefault(f => f.Name == name) is { } form && !forms.Contains(form))
            {
                forms.Add(form);
            }
            else if (!forms.Any(f => f.Name == name))
            {
                problems.Add($"--forms: found \"{name}\"; accepted: {string.Join(", ", AgeingForm.All.Select(f => f.Name))}");
            }
        }

        return new(quantity, null, [.. forms]);
    }
}

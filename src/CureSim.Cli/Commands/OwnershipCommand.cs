using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Reports.Ownership;
using CureSim.Reports.Runs;
using CureSim.Scenarios;
using CureSim.Studies.Ownership;

namespace CureSim.Cli;

/// <summary>What options cost over the years, when changing between them costs money.</summary>
internal static class OwnershipCommand
{
    private const int MostSites = 64;
    private const int MostPoints = 32;

    public static readonly OptionInfo Sites = new("--sites", "LIST", "Compare at several numbers of sites instead, such as \"1..8\" or \"1, 2, 4, 8\": all sites belong to one part, the rate of parts stays.");
    public static readonly OptionInfo Only = new("--only-present", null, "The options as they are: no search for each option's cheapest checks, and of the what-if only the prices.");
    private static readonly OptionInfo Require = new("--require", null, "Exit with 1 when the cheaper option of the answer does not hold the window, or which is cheaper cannot be told.");

    public static CommandInfo Info { get; } = new(
        "ownership",
        "Which option costs least over the years, how sure that is, and what would turn the decision.",
        [new("SCENARIO", "Two or more scenario files (YAML) with costs and an ownership block, over the same production.", Least: 2)],
        [Sites, Only, Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Require, Options.Json, Options.Quiet],
        [
            new("curesim ownership scenarios/own-lamp.yaml scenarios/own-led.yaml", "A lamp that is installed against LED heads; results in output/own-lamp/ownership-own-led."),
            new("curesim ownership scenarios/sites-lamp.yaml scenarios/sites-led.yaml --sites 1..8", "One lamp whose light is split against one head a site."),
        ],
        Run)
    {
        More = "What the options share is drawn alike in all (common random numbers), and so is a price that they state alike. Money is discounted to the decision. "
            + "Worlds, lifetimes and seed are those of the scenario with most worlds, then most lifetimes; the order of the files changes nothing but the order of rows.",
    };

    private static int Run(Call call)
    {
        string[] paths = call.Series(0);
        var readings = ReadAll(call, paths);
        var problems = OptionRules.Problems([.. paths.Zip(readings, (f, r) => (f, r.Cell!))]);
        if (!problems.IsEmpty)
        {
            throw new InputException([.. problems]);
        }

        var options = OptionRules.Options([.. readings.Select(r => (r.Cell!, r.Sha256))]);
        return SitesOf(call) is { } sites ? Sweep(call, paths, readings, options, sites) : Study(call, paths, readings, options);
    }

    // All are read before anything is refused, so that all problems are told at once.
    private static ScenarioReading[] ReadAll(Call call, string[] paths)
    {
        var readings = new List<ScenarioReading>();
        var problems = new List<string>();
        foreach (string path in paths)
        {
            try
            {
                readings.Add(ScenarioInput.Read(call, path));
            }
            catch (InputException e)
            {
                problems.AddRange(e.Problems);
            }
        }

        return problems.Count > 0 ? throw new InputException([.. problems]) { IsLocated = true } : [.. readings];
    }

    private static int Study(Call call, string[] paths, ScenarioReading[] readings, ImmutableArray<OwnershipOption> options)
    {
        int threads = Simulation.Threads(call);
        using var results = Results.Begin(call, ScenarioInput.StemOf(paths[0]), Folder("ownership", paths));
        OwnershipResult study;
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            study = call.Interruption.Compute(() => OwnershipResult.Run(options, threads, progress.Report, call.Interruption.Token, !call.Has(Only)));
            progress.Say("writing tables and plots");
            OwnershipFiles.Add(results.Folder, study, [.. readings.Select(r => r.ResolvedYaml)], !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(OwnershipContent.Of(study, Contexts(paths, readings), !call.Has(Options.NoPlots)));
            results.Complete(options[0].Scenario, readings[0].Sha256, "ownership", study.Lifetimes, threads, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(OwnershipAnswer.Heading(study));
            call.Terminal.Say(OwnershipAnswer.Of(study));
        }

        results.Tell(call, OwnershipSummary.Of(study), threads, null);
        return call.Has(Require) && !Decided(study) ? ExitCode.RequirementMissed : ExitCode.Done;
    }

    private static RunContext[] Contexts(string[] paths, ScenarioReading[] readings) => [.. paths.Zip(readings, (p, r) => ScenarioInput.ContextOf(r, p))];

    private static bool Decided(OwnershipResult study)
    {
        var mean = study.Pair.Mean[^1];
        var cheaper = mean.Value < 0.0 ? study.Challenger : study.Reference;
        return mean is { Lower95: > 0.0 } or { Upper95: < 0.0 } && cheaper.HoldsWindow != false;
    }

    private static int Sweep(Call call, string[] paths, ScenarioReading[] readings, ImmutableArray<OwnershipOption> options, int[] sites)
    {
        int threads = Simulation.Threads(call);
        var cases = sites.Select(n => AtSites(readings, options, n)).ToArray();
        using var results = Results.Begin(call, ScenarioInput.StemOf(paths[0]), Folder("ownership-sites", paths));
        SitesSweep sweep;
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            sweep = call.Interruption.Compute(() => SitesSweep.Run(cases, [.. options.Select(o => o.Label)], threads, progress.Report, call.Interruption.Token));
            progress.Say("writing tables and plots");
            OwnershipFiles.Add(results.Folder, sweep, [.. readings.Select(r => r.ResolvedYaml)], !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(OwnershipContent.Of(sweep, Contexts(paths, readings), readings[0].Cell!, !call.Has(Options.NoPlots)));
            results.Complete(options[0].Scenario, readings[0].Sha256, "ownership", sweep.Lifetimes, threads, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head($"{string.Join(" or ", sweep.Labels)}, at {sweep.Points[0].Sites} to {sweep.Points[^1].Sites} sites");
            call.Terminal.Say(SitesReport.Answer(sweep));
        }

        results.Tell(call, SitesReport.Document(sweep), threads, null);
        return ExitCode.Done;
    }

    // The resolved text holds everything that was given, so that it reads alike wherever it lies; what cannot be at so many sites says why.
    private static (int Sites, ImmutableArray<OwnershipOption?> Options, ImmutableArray<string?> Why) AtSites(ScenarioReading[] readings, ImmutableArray<OwnershipOption> options, int sites)
    {
        string n = sites.ToString(CultureInfo.InvariantCulture);
        var read = readings.Select(r => ScenarioReader.ReadText(
            r.ResolvedYaml, "option",
            [
                $"production.sites={n}", $"production.sites_per_part={n}",

                // A guide with one leg has no legs to be unlike.
                .. sites == 1 && r.Cell is { Guide: not null, Source.Arrangement: EmitterArrangement.Shared, Production.SiteCount: > 1 } ? ["guide.imbalance="] : Array.Empty<string>(),
            ])).ToArray();
        return (sites,
            [.. read.Select((r, i) => r.Cell is { } cell ? new OwnershipOption(options[i].Label, cell with { Run = options[i].Scenario.Run }, r.Sha256) : null)],
            [.. read.Select(r => r.Cell is null ? string.Join("; ", r.Problems.Select(p => $"{p.Path}: found {p.Found}")) : null)]);
    }

    private static int[]? SitesOf(Call call)
    {
        if (call.Text(Sites) is not { } text)
        {
            return null;
        }

        int[]? found = Numbers(text);
        return found is { Length: > 0 and <= MostPoints } && found.All(n => n is >= 1 and <= MostSites)
            ? [.. found.Distinct().Order()]
            : throw new InputException($"--sites: found \"{text}\"; accepted: numbers of sites from 1 to {MostSites}, such as \"1..8\" or \"1, 2, 4, 8\"");
    }

    private static int[]? Numbers(string text)
    {
        static int? Whole(string t) => int.TryParse(t.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : null;
        if (text.Split("..") is [var first, var last])
        {
            return Whole(first) is { } from && Whole(last) is { } to && from <= to && to - from < 1000 ? [.. Enumerable.Range(from, to - from + 1)] : null;
        }

        int?[] all = [.. text.Split(',').Select(Whole)];
        return all.All(n => n is not null) ? [.. all.Select(n => n!.Value)] : null;
    }

    private static string Folder(string command, string[] paths) => string.Join('-', [command, .. paths.Skip(1).Select(ScenarioInput.StemOf)]);
}

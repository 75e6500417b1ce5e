using System.Numerics;
using CureSim.Reports.Drivers;
using CureSim.Studies.Drivers;

namespace CureSim.Cli;

/// <summary>What drives the spread: the drivers study.</summary>
internal static class DriversCommand
{
    public static readonly OptionInfo Site = new("--site", "N", "Site of the bond whose dose is taken apart, from 1. Left out: 1.");
    public static readonly OptionInfo Points = new("--points", "N", "Points of the indices, a power of two from 256 to 65536; the intervals shrink with its root. Left out: 256 to 1024 by the scenario's length.");

    public static CommandInfo Info { get; } = new(
        "drivers",
        "What drives the spread, and what halving each input would gain.",
        [new("SCENARIO", "Scenario file (YAML).")],
        [Site, Points, Options.Set, Options.Lifetimes, Options.Seed, Options.Threads, Options.Out, Options.NoPlots, Options.Pdf, Options.Json, Options.Quiet],
        [
            new("curesim drivers scenarios/quick.yaml", "What-if table, indices of the dose, importance; results in output/quick/drivers."),
            new("curesim drivers scenarios/quick.yaml --points 4096", "Narrower intervals of the indices."),
        ],
        Run)
    {
        More = "Every spread halved and every mean moved by its own standard deviation over the same lifetimes; Sobol' indices of the dose of one bond by quantity and by level; "
            + "boosted trees on the lifetimes' own draws, withheld where they explain less than half of lifetimes that they have not seen.",
    };

    private static int Run(Call call)
    {
        var reading = ScenarioInput.Read(call, 0);
        var cell = reading.Cell!;
        int site = (int)(call.Whole(Site, 1, (ulong)cell.Production.SiteCount) ?? 1);
        int? points = (int?)call.Whole(Points, DoseIndices.LeastPoints, 65536);
        if (points is { } p && !BitOperations.IsPow2(p))
        {
            throw new InputException($"--points: found \"{p}\"; accepted: a power of two from {DoseIndices.LeastPoints} to 65536");
        }

        int threads = Simulation.Threads(call);
        var context = ScenarioInput.ContextOf(reading, call.Argument(0)!);
        using var results = Results.Begin(call, context.FileStem, "drivers");
        DriversResult study;
        using (var progress = new ProgressBar(call.Terminal, "simulating", call.Quiet))
        {
            study = call.Interruption.Compute(() => DriversResult.Run(cell, site - 1, points, threads, progress.Report, call.Interruption.Token));
            progress.Say("writing tables and plots");
            DriversFiles.Add(results.Folder, study, context, !call.Has(Options.NoPlots), call.Interruption.Token);
            call.Interruption.Token.ThrowIfCancellationRequested();
            results.Report(DriversContent.Of(study, context, !call.Has(Options.NoPlots)));
            results.Complete(cell, reading.Sha256, "drivers", study.Lifetimes, threads, null);
        }

        if (!call.Json && !call.Quiet)
        {
            call.Terminal.Head(DriversAnswer.Heading(study));
            call.Terminal.Say(DriversAnswer.Of(study));
        }

        results.Tell(call, DriversSummary.Of(study, context.Sha256), threads, null);
        return ExitCode.Done;
    }
}

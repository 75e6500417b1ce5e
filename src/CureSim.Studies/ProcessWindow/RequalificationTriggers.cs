using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.ProcessWindow;

/// <summary>A reason to requalify and when it is to be expected.</summary>
/// <param name="Name">What.</param>
/// <param name="SeenBy">How it is noticed.</param>
/// <param name="WithinHorizon">Chance that it happens within the horizon; null for a date or a change.</param>
/// <param name="Tenth">Hours by which one cell in ten has met it.</param>
/// <param name="Median">Hours by which half have.</param>
/// <param name="Remark">A date, or that only a change brings it.</param>
public sealed record RequalificationTrigger(string Name, string SeenBy, Estimate? WithinHorizon, Estimate? Tenth, Estimate? Median, string? Remark);

/// <summary>Triggers of requalification at the recommended set-point.</summary>
public static class RequalificationTriggers
{
    private const int MostLifetimes = 512;

    private static readonly (RequalifyEvent Event, string Name, string SeenBy)[] Events =
    [
        (RequalifyEvent.OutOfToleranceFound, "as-found reading out of tolerance", "the check"),
        (RequalifyEvent.StateLost, "state not qualified after a check's routine", "not seen by instruments; test parts"),
        (RequalifyEvent.StateLeft, "state not qualified at any time", "not seen by instruments; test parts"),
        (RequalifyEvent.LoopSaturated, "loop saturated", "alarm or drive reading"),
        (RequalifyEvent.EmitterReplaced, "emitter replaced", "maintenance record"),
        (RequalifyEvent.GuideReplaced, "guide replaced", "maintenance record"),
    ];

    /// <summary>Triggers that the cell can meet, then dates, then changes.</summary>
    public static ImmutableArray<RequalificationTrigger> Of(WindowMap map, int threads, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(map);
        var cell = map.Case.At(map.SetPoint.X, map.SetPoint.Y);
        cell = cell with { Run = cell.Run with { LifetimesPerWorld = Math.Min(MostLifetimes, cell.Run.LifetimesPerWorld), PartsAStep = 1, Precision = null }, Qualification = [] };
        var can = Events.Where(e => e.Event switch
        {
            RequalifyEvent.OutOfToleranceFound or RequalifyEvent.StateLost => cell.Checks is not null,
            RequalifyEvent.LoopSaturated => cell.Loop.Kind != LoopKind.None,
            RequalifyEvent.GuideReplaced => cell.Guide is not null,
            _ => true,
        }).ToArray();
        var found = new RequalificationTrigger[can.Length];
        Parallel.For(0, can.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i =>
        {
            var (what, name, seen) = can[i];
            var one = cell with { Requalification = new([what], RecordOnly: true, map.Case.Required) };
            var plan = new RunPlan(one);
            double horizon = one.Production.HorizonSeconds;
            var times = new List<(int World, double Time, bool Happened)>();
            for (int w = 0; w < one.Run.Worlds; w++)
            {
                foreach (var record in StatePaths.Follow(plan, plan.ModelOf(w), new StateRecording(one, 0, 0), cancel).Where(r => !r.NeverQualified))
                {
                    bool yes = !double.IsNaN(record.RequalifySeconds);
                    times.Add((w, yes ? record.RequalifySeconds : horizon, yes));
                }
            }

            if (times.Count == 0)
            {
                found[i] = new(name, seen, Estimate.Withhold("no cell qualifies at commissioning"), null, null, null);
                return;
            }

            if (one.Run.Worlds > 1)
            {
                var shared = new TimesOfWorlds(times);
                found[i] = new(name, seen, shared.Share(), shared.Quantile(0.1).Scale(1.0 / 3600.0), shared.Quantile(0.5).Scale(1.0 / 3600.0), null);
                return;
            }

            var curve = KaplanMeier.Fit([.. times.Select(t => t.Time)], [.. times.Select(t => t.Happened)]);
            var share = BinomialInterval.Counted(times.Count(t => t.Happened), times.Count);
            found[i] = new(name, seen, share, curve.Quantile(0.1).Scale(1.0 / 3600.0), curve.Quantile(0.5).Scale(1.0 / 3600.0), null);
        });
        return [.. found, .. Dates(cell), .. Changes()];
    }

    private static IEnumerable<RequalificationTrigger> Dates(Scenario cell)
    {
        double step = cell.Production.StepSeconds / 3600.0;
        if (cell.Radiometer.CalibrationSteps > 0 && cell.Checks is not null)
        {
            yield return new("radiometer calibrated", "calibration record: compare before and after", null, null, null, FormattableString.Invariant($"every {cell.Radiometer.CalibrationSteps * step:G5} h"));
        }

        if (cell.Cure is { LotSteps: > 0 } cure)
        {
            yield return new("adhesive lot", "incoming test against the slow and fast lot of the challenge", null, null, null, FormattableString.Invariant($"every {cure.LotSteps * step:G5} h; verify, requalify when outside"));
        }

        if (cell.Substrate is { LotSteps: > 0 } substrate)
        {
            yield return new("substrate lot", "incoming transmission against the challenge", null, null, null, FormattableString.Invariant($"every {substrate.LotSteps * step:G5} h; verify, requalify when outside"));
        }
    }

    // Reasons for revalidation after GHTF SG3/N99-10:2004, section 6.4; the list of changes is common practice.
    private static IEnumerable<RequalificationTrigger> Changes() => new[]
    {
        "type of source or of its emission (lamp to LED, peak wavelength)", "radiometer of another type, or another calibration house", "adhesive or its photoinitiator",
        "substrate material, thickness or colour", "distance, fixture, guide or lens", "software or firmware of the source", "transfer to another site", "negative trend of quality indicators",
    }.Select(c => new RequalificationTrigger(c, "change control", null, null, null, "on change"));
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Interval;

/// <summary>What a control sees of a fault.</summary>
/// <param name="Control">Which control.</param>
/// <param name="Chance">Share of the lifetimes in which the fault came to matter that the control sees before the horizon; withheld with the reason when there is no such control.</param>
/// <param name="MedianHours">Median time from onset to detection among those it sees, h; negative: it warns before the onset. Null when it sees none.</param>
/// <param name="PartsMeanwhile">Mean number of parts made from onset to detection among those it sees.</param>
/// <param name="Remark">Why it is blind, or what is assumed; null for nothing to say.</param>
public sealed record DetectionCell(string Control, Estimate Chance, double? MedianHours, double? PartsMeanwhile, string? Remark);

/// <summary>A fault and what each control sees of it.</summary>
/// <param name="Fault">The fault.</param>
/// <param name="Lifetimes">Lifetimes simulated with this fault alone.</param>
/// <param name="Onsets">… in which it came to matter within the horizon.</param>
/// <param name="MedianOnsetHours">Median of the time of onset among those, h.</param>
/// <param name="Cells">By control.</param>
public sealed record DetectionRow(string Fault, int Lifetimes, int Onsets, double? MedianOnsetHours, ImmutableArray<DetectionCell> Cells);

/// <summary>Faults against controls.</summary>
/// <remarks>
/// Each fault is simulated alone: everything else is perfect (no ageing, no loss, exact set-ups and readings, lots at their medians, nothing replaced as planned) and
/// nothing is done, so that the fault runs its course and every control is asked whether it would have seen it. The fault matters (onset) at the first step at which the
/// nominal irradiance of a bond is further than the action limit from its commissioned value, or the state has left qualification. A control sees it at the first
/// check, step, alarm or arrival at which its own indication is further than the action limit from its commissioned value.
/// Drift of the radiometer acts only through setting: that fault is simulated with the output set to target at every check. 'Chance' has an exact binomial interval.
/// </remarks>
public sealed class DetectionMatrix
{
    /// <summary>Lifetimes simulated for each fault: a chance of one half is then known to ±9 percentage points.</summary>
    public const int Lifetimes = 120;

    /// <summary>Names of the controls, in the order of the cells.</summary>
    public static readonly ImmutableArray<string> Controls = ["check", "fixture check", "alarm", "drive reading", "recalibration", "incoming test"];

    private DetectionMatrix(CheckTiming timing, ImmutableArray<DetectionRow> rows)
    {
        Timing = timing;
        Rows = rows;
    }

    /// <summary>The timing of the checks.</summary>
    public CheckTiming Timing { get; }

    /// <summary>Rows by fault.</summary>
    public ImmutableArray<DetectionRow> Rows { get; }

    /// <summary>Simulates all faults.</summary>
    public static DetectionMatrix Of(Scenario cell, CheckTiming timing, int threads, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var rows = ImmutableArray.CreateBuilder<DetectionRow>();
        foreach (var fault in Fault.All.Where(f => f.IsIn(cell)))
        {
            rows.Add(Row(cell, timing, fault, threads, cancel));
        }

        return new(timing, rows.ToImmutable());
    }

    private static DetectionRow Row(Scenario cell, CheckTiming timing, Fault fault, int threads, CancellationToken cancel)
    {
        var scenario = fault.Alone(cell, timing);
        var plan = new RunPlan(scenario);
        int n = (int)Math.Min(Lifetimes, (long)cell.Run.Worlds * cell.Run.LifetimesPerWorld), worlds = cell.Run.Worlds;
        var seen = new FaultSeen[n];
        CellModel[] models = [.. Enumerable.Range(0, Math.Min(worlds, n)).Select(w => plan.ModelOf(w))];
        Parallel.For(0, n, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i =>
            seen[i] = FaultSeen.In(OneLifetime.Trace(plan, models[i % worlds], (uint)(i / worlds)), scenario, cell.Checks!.ActionLimit));
        FaultSeen[] mattered = [.. seen.Where(s => !double.IsNaN(s.Onset))];
        double? onset = mattered.Length == 0 ? null : SampleQuantile.Of([.. mattered.Select(s => s.Onset / 3600.0)], 0.5);
        return new(fault.Name, n, mattered.Length, onset, [.. Controls.Select((c, k) => Cell(c, k, cell, scenario, fault, mattered))]);
    }

    private static DetectionCell Cell(string control, int k, Scenario cell, Scenario alone, Fault fault, FaultSeen[] mattered)
    {
        if (Missing(control, cell) is { } missing)
        {
            return new(control, Estimate.Withhold(missing), null, null, null);
        }

        if (mattered.Length == 0)
        {
            return new(control, Estimate.Withhold("the fault alone never comes to matter within the horizon"), null, null, null);
        }

        double At(FaultSeen s) => control == "incoming test" ? fault.Id == "lot" ? s.Onset : double.NaN : s.Seen[k];
        FaultSeen[] found = [.. mattered.Where(s => !double.IsNaN(At(s)))];
        double horizon = alone.Production.HorizonSeconds;
        var chance = found.Length == 0
            ? Estimate.Bounded(0.0, null, 0.0, 1.0 - Math.Pow(0.05, 1.0 / mattered.Length), mattered.Length)
            : BinomialInterval.Counted(found.Length, mattered.Length);
        double? median = found.Length == 0 ? null : SampleQuantile.Of([.. found.Select(s => (At(s) - s.Onset) / 3600.0)], 0.5);
        double? parts = found.Length == 0 ? null : found.Average(s => alone.Production.PartsPerSecond * Math.Max(0.0, Math.Min(horizon, At(s)) - s.Onset));
        return new(control, chance, median, parts, found.Length == 0 ? fault.Blind(control, cell) : fault.Caution(control));
    }

    private static string? Missing(string control, Scenario cell) => control switch
    {
        "fixture check" when !cell.Checks!.FixtureCheck => "the routine does not look at the fixture",
        "alarm" or "drive reading" when cell.Loop.Kind == LoopKind.None => "no loop",
        "alarm" when !cell.Loop.Alarm => "the loop has no alarm",
        "recalibration" when cell.Radiometer.CalibrationSteps == 0 => "the radiometer is never recalibrated",
        _ => null,
    };
}

/// <summary>Replays single lifetimes of a model that is made already.</summary>
internal static class OneLifetime
{
    public static LifetimeTrace Trace(RunPlan plan, CellModel model, uint lifetime)
    {
        var trace = new LifetimeTrace();
        var leaf = new Core.Summaries.CellSummary(plan.Layout, withTimeline: false);
        new LifetimeBlock(model, lifetime, 1, [leaf], new Core.Summaries.CellSummary(plan.Layout, withTimeline: true), new Core.Summaries.LifetimeRecord[1], trace)
            .Run(CancellationToken.None);
        return trace;
    }
}

/// <summary>When a fault came to matter in one lifetime, and when each control saw it; NaN: never.</summary>
internal sealed record FaultSeen(double Onset, double[] Seen)
{
    public static FaultSeen In(LifetimeTrace trace, Scenario scenario, double action)
    {
        var first = trace.Steps[0];
        double[] light = [.. first.Sites.Select(s => s.NominalIrradiance)], drive = [.. first.Sites.Select(s => s.Drive)];
        double onset = double.NaN, byDrive = double.NaN;
        foreach (var step in trace.Steps)
        {
            bool off = !step.Qualified && first.Qualified;
            bool driven = false;
            for (int i = 0; i < light.Length; i++)
            {
                off |= Math.Abs((step.Sites[i].NominalIrradiance / light[i]) - 1.0) > action;
                driven |= Math.Abs((step.Sites[i].Drive / drive[i]) - 1.0) > action;
            }

            onset = off && double.IsNaN(onset) ? step.Seconds : onset;
            byDrive = driven && double.IsNaN(byDrive) ? step.Seconds : byDrive;
        }

        double interval = scenario.Checks!.IntervalSteps * scenario.Production.StepSeconds, calibration = scenario.Radiometer.CalibrationSteps * scenario.Production.StepSeconds;
        double NextOf(double period, double from) => Math.Ceiling((from / period) - 1e-9) * period is var t && t <= scenario.Production.HorizonSeconds * (1.0 + 1e-9) ? t : double.NaN;
        double byCheck = trace.Readings.Where(r => r.AsFound && Math.Abs((r.Indication / Reference(trace, r, scenario)) - 1.0) > action).Select(r => r.Seconds).FirstOrDefault(double.NaN);
        double byFixture = trace.Events.Where(e => e.What == "disturbance" && scenario.Disturbances.Any(d => d.Name == e.Detail && d.ClearedBy == ClearedBy.FixtureCheck))
            .Select(e => NextOf(interval, e.Seconds)).FirstOrDefault(double.NaN);
        double byAlarm = trace.Events.Where(e => e.What == "alarm").Select(e => e.Seconds).FirstOrDefault(double.NaN);
        double byCalibration = calibration > 0.0 && scenario.Radiometer.Drift is { } drift && (!drift.IsFixed || drift.Mean != 0.0) && !double.IsNaN(onset) ? NextOf(calibration, onset) : double.NaN;
        return new(onset, [byCheck, byFixture, byAlarm, byDrive, byCalibration, double.NaN]);
    }

    // A leg of a shared emitter is held to its own commissioned value, any other site to the target.
    private static double Reference(LifetimeTrace trace, TraceReading reading, Scenario scenario) =>
        scenario.Source.Arrangement == EmitterArrangement.Shared && scenario.Production.SiteCount > 1
            ? trace.Readings.LastOrDefault(r => !r.AsFound && r.Site == reading.Site && (r.Seconds < reading.Seconds || r.Seconds <= 0.0))?.Indication ?? scenario.Checks!.TargetWattsPerSquareMetre
            : scenario.Checks!.TargetWattsPerSquareMetre;
}

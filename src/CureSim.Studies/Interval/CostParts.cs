using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Summaries;

namespace CureSim.Studies.Interval;

/// <summary>One part of the yearly cost.</summary>
/// <param name="Id">Name in tables; the total is <see cref="IntervalMeasures.Cost"/>.</param>
/// <param name="Name">In words.</param>
/// <param name="Amount">Over one lifetime, in the currency.</param>
public sealed record CostPart(string Id, string Name, Func<LifetimeRecord, double> Amount);

/// <summary>What a lifetime costs, by part. Money is not discounted: all candidates spread their costs alike over the horizon.</summary>
public static class CostParts
{
    /// <summary>The parts that have a price, after their total.</summary>
    public static ImmutableArray<CostPart> Of(Scenario cell, Costs costs)
    {
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(costs);
        double year = cell.Production.YearSeconds, horizon = cell.Production.HorizonSeconds;
        int every = cell.Radiometer.CalibrationSteps;
        double calibrations = every > 0 ? cell.Production.StepCount / every : 0;
        // Yearly costs are means, so what is not known of a price enters with its mean.
        double check = costs.Check.Mean, lost = costs.LostHour.Mean / 3600.0, suspect = costs.SuspectPart.Mean, nonconforming = costs.NonconformingPart.Mean;
        double emitter = costs.Emitter.Mean, guide = costs.Guide.Mean, requalification = costs.Requalification.Mean, calibration = costs.Calibration.Mean;
        (double Price, CostPart Part)[] all =
        [
            (check, new("cost_checks_per_year", "checks", r => check * r.Checks)),
            (lost, new("cost_downtime_per_year", "lost production", r => lost * r.DowntimeSeconds)),

            // Suspect parts are known up to the last check: their rate holds for the time since as well.
            (suspect, new("cost_suspect_per_year", "suspect parts", r => r.LastCheckSeconds > 0.0 ? suspect * r.SuspectParts * horizon / r.LastCheckSeconds : 0.0)),
            (nonconforming, new("cost_nonconforming_per_year", "nonconforming parts", r => nonconforming * IntervalMeasures.Nonconforming(r))),
            (emitter, new("cost_emitters_per_year", "emitters", r => emitter * IntervalMeasures.Emitters(r))),
            (guide, new("cost_guides_per_year", "guides", r => guide * (r.GuidesPlanned + r.GuidesShort))),
            (requalification, new("cost_requalifications_per_year", "requalifications", r => requalification * r.Requalifications)),
            (calibration, new("cost_calibrations_per_year", "calibrations", _ => calibration * calibrations)),
        ];
        CostPart[] priced = [.. all.Where(a => a.Price > 0.0).Select(a => a.Part)];
        return [new(IntervalMeasures.Cost, "cost a year, all parts", r => priced.Sum(p => p.Amount(r))), .. priced];
    }
}

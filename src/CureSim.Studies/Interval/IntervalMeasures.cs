using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Interval;

/// <summary>The figures of one candidate, in the order in which they are printed. All rest on the records of lifetimes.</summary>
public static class IntervalMeasures
{
    /// <summary>Checks that found the cell in tolerance: the end-of-period reliability.</summary>
    public const string InTolerance = "found_in_tolerance_percent";

    /// <summary>Nonconforming parts.</summary>
    public const string Ppm = "parts_nonconforming_conditional_ppm";

    /// <summary>Cost a year, all parts together.</summary>
    public const string Cost = "cost_per_year";

    /// <summary>Checks a year.</summary>
    public const string Checks = "checks_per_year";

    /// <summary>Figures that a scenario can give.</summary>
    public static ImmutableArray<Measure> For(Scenario cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var p = cell.Production;
        double horizon = p.HorizonSeconds, years = horizon / p.YearSeconds;
        var measures = ImmutableArray.CreateBuilder<Measure>();
        void Yearly(string id, string meaning, string unit, Func<LifetimeRecord, double> amount) => measures.Add(Ratio(id, meaning, unit, 1.0, r => (amount(r), years)));
        measures.Add(Ratio(InTolerance, "checks that found the cell in tolerance (end-of-period reliability)", "%", 100.0, r => (r.Checks - r.FoundOutOfTolerance, r.Checks)));
        measures.Add(Ratio("found_adjusted_percent", "checks after which the output was adjusted, in tolerance as found", "%", 100.0, r => (r.FoundAdjust + r.FoundRecord, r.Checks)));
        measures.Add(Ratio("found_out_of_tolerance_percent", "checks that found the cell out of tolerance", "%", 100.0, r => (r.FoundOutOfTolerance, r.Checks)));
        measures.Add(Ratio("found_beyond_action_percent", "checks that found the cell beyond the action limit", "%", 100.0, r => (r.FoundRecord + r.FoundOutOfTolerance, r.Checks)));
        measures.Add(Ratio(Ppm, "nonconforming parts (any bond outside), averaged over judged states", "ppm", 1e6, r => (r.ConditionalParts, r.ConditionalStates)) with { BandInLogs = true, NeedsSupport = true });
        Yearly("nonconforming_parts_per_year", "nonconforming parts a year", "1/yr", Nonconforming);
        Yearly("unseen_out_hours_per_year", "time out of the qualified state before anybody knows, mean over cells", "h/yr", r => r.OutUndetectedSeconds / 3600.0);
        measures.Add(Quantile("unseen_out_p95_hours_per_year", "… the cell that is worse than 95 % of the cells", r => r.OutUndetectedSeconds / 3600.0 / years));
        Yearly("unseen_outside_hours_per_year", "time with a nominal bond outside the window before anybody knows, mean over cells", "h/yr", r => r.OutOfWindowUndetectedSeconds / 3600.0);
        measures.Add(Quantile("unseen_outside_p95_hours_per_year", "… the cell that is worse than 95 % of the cells", r => r.OutOfWindowUndetectedSeconds / 3600.0 / years));
        measures.Add(Ratio("unseen_out_hours_per_excursion", "time before anybody knows, for each excursion", "h", 1.0 / 3600.0, r => (r.OutUndetectedSeconds, r.Excursions)));
        measures.Add(Ratio("parts_at_risk_per_excursion", "parts made in the first excursion before it is detected or ends", "1", 1.0, r => double.IsNaN(r.FirstExcursionSeconds) ? (0.0, 0.0) : (r.FirstExcursionParts, 1.0)));
        measures.Add(Ratio("suspect_parts_per_year", "suspect parts a year, up to the last check made", "1/yr", p.YearSeconds, r => (r.SuspectParts, r.LastCheckSeconds)));
        measures.Add(Ratio("open_at_horizon_hours", "open bracket: production time since the last check at the horizon, in no yearly rate of suspect parts", "h", 1.0 / 3600.0, r => (horizon - r.LastCheckSeconds, 1.0)));
        Yearly(Checks, "checks made a year", "1/yr", r => r.Checks);
        measures.Add(Ratio("availability_percent", "production time not lost", "%", 100.0 / horizon, r => (horizon - r.DowntimeSeconds, 1.0)));
        Yearly("emitters_per_year", "emitters replaced a year", "1/yr", Emitters);
        if (cell.Guide is not null)
        {
            Yearly("guides_per_year", "guides replaced a year", "1/yr", r => r.GuidesPlanned + r.GuidesShort);
        }

        Yearly("requalifications_per_year", "requalifications a year", "1/yr", r => r.Requalifications);
        if (!cell.Requalification.On.IsEmpty)
        {
            measures.Add(RunMeasures.Curve("requalify_median_hours", "median time to requalify (Kaplan–Meier, first cycles)", "h", curve => curve.Quantile(0.5).Scale(1.0 / 3600.0), curve => curve.Quantile(0.5).Value));
        }

        if (cell.Costs is { } costs)
        {
            foreach (var part in CostParts.Of(cell, costs))
            {
                Yearly(part.Id, part.Name, costs.Currency + "/yr", part.Amount);
            }
        }

        return measures.ToImmutable();
    }

    /// <summary>Nonconforming parts of a lifetime: parts made times the mean of p(state) over its judged states.</summary>
    public static double Nonconforming(LifetimeRecord r) => r.ConditionalStates > 0.0 ? r.PartsMade * r.ConditionalParts / r.ConditionalStates : 0.0;

    /// <summary>Emitters that a lifetime used up beside the first.</summary>
    internal static double Emitters(LifetimeRecord r) => r.EmittersPlanned + r.EmittersFailed + r.EmittersShort;

    private static Measure Ratio(string id, string meaning, string unit, double scale, Func<LifetimeRecord, (double, double)> ratio) =>
        new(id, meaning, unit, piece => RunMeasures.Total(piece, ratio) is var (a, m) && m > 0.0 ? scale * a / m : null) { Error = ErrorBy.Lifetimes, Ratio = ratio, Scale = scale };

    private static Measure Quantile(string id, string meaning, Func<LifetimeRecord, double> amount) => new(id, meaning, "h/yr", piece =>
    {
        var values = new double[piece.Records.Length];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = amount(piece.Records.Span[i]);
        }

        return values.Length == 0 ? null : SampleQuantile.Of(values, 0.95);
    });
}

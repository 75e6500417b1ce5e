using System.Collections.Immutable;
using CureSim.Core.Logs;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>Makes what is fitted from the rows of an emitter.</summary>
internal static class Observations
{
    private const double DriveMoves = 0.005;      // ln: less is no change of drive
    private const double FlatShare = 1.0 / 3.0;   // under a loop the reading spreads less than this share of the drive. Common practice, no source
    private const double MostSettings = 2.0;      // an emitter: each adds the rounding of two drives to what the drive tells

    /// <summary>What the log's drives and readings ask for, with the reason.</summary>
    public static (FittedQuantity Quantity, string Why) Choose(ImmutableArray<EmitterRun> runs)
    {
        LogRow[] rows = [.. runs.SelectMany(r => r.Rows).Where(r => !double.IsNaN(r.Reading) && !r.Cold)];
        LogRow[] driven = [.. rows.Where(r => !double.IsNaN(r.Drive))];
        if (driven.Length < 0.9 * rows.Length)
        {
            return (FittedQuantity.Reading, driven.Length == 0 ? "no column of drive" : "drives are missing in more than one row of ten");
        }

        double Spread(Func<LogRow, double> of) => Math.Sqrt(runs.Select(r => r.Rows.Where(x => !double.IsNaN(x.Reading) && !x.Cold && !double.IsNaN(x.Drive)).GroupBy(x => x.Site)
            .Select(g => g.Select(of).ToArray()).Where(v => v.Length > 2).Select(v => SampleMoments.Of(v).StandardDeviation ?? 0.0).Select(s => s * s).DefaultIfEmpty(0.0).Average()).DefaultIfEmpty(0.0).Average());
        double reading = Spread(r => Math.Log(r.Reading)), drive = Spread(r => Math.Log(r.Drive));
        if (drive < DriveMoves)
        {
            return (FittedQuantity.Reading, "the drive does not change");
        }

        int settings = runs.Sum(r => Settings(r));
        return reading > FlatShare * drive ? (FittedQuantity.ReadingOverDrive, "drive and reading both change")
            : settings <= MostSettings * runs.Length ? (FittedQuantity.Drive, "the reading is flat and the drive rises: a loop holds it")
            : (FittedQuantity.ReadingOverDrive, FormattableString.Invariant($"the reading is held, but {settings} settings moved the drive, each with a rounding of its own"));
    }

    /// <summary>The observations of an emitter.</summary>
    /// <param name="run">The emitter.</param>
    /// <param name="quantity">What is fitted.</param>
    /// <param name="asLeft">True: where a check has as-found and as-left readings the latter are taken (clean tips).</param>
    public static ImmutableArray<Observation> Of(EmitterRun run, FittedQuantity quantity, bool asLeft)
    {
        var kept = new List<(LogRow Row, double Value)>();
        double shift = 0.0;
        LogRow? before = null;
        int calibrations = 0;
        foreach (var given in run.Rows)
        {
            // A radiometer that came back from calibration reads with another error: a level of its own.
            calibrations += kept.Count > 0 && given.Events.Any(e => e.Kind == LogEventKind.Calibrated) ? 1 : 0;
            var row = calibrations == 0 ? given : given with { Meter = FormattableString.Invariant($"{given.Meter} calibration {calibrations}") };
            if (double.IsNaN(row.Reading) || row.Cold || double.IsNaN(row.EmitterHours))
            {
                continue;
            }

            if (quantity != FittedQuantity.Reading && double.IsNaN(row.Drive))
            {
                continue;
            }

            if (quantity == FittedQuantity.Drive)
            {
                // As left after as found at one moment: the setting moved the drive, not the emitter.
                if (before is { } b && row.Moment == ReadingMoment.AsLeft && b.Moment == ReadingMoment.AsFound && b.EmitterHours == row.EmitterHours)
                {
                    shift += Math.Log(row.Drive / b.Drive);
                }

                // All sites of a shared emitter have one drive.
                bool same = before is { } s && s.EmitterHours == row.EmitterHours && (s.Moment == row.Moment || row.Moment == ReadingMoment.AsLeft);
                before = row;
                if (!same)
                {
                    kept.Add((row with { Site = "", Meter = "" }, shift - Math.Log(row.Drive)));
                }

                continue;
            }

            kept.Add((row, Math.Log(row.Reading) - (quantity == FittedQuantity.ReadingOverDrive ? Math.Log(row.Drive) : 0.0)));
        }

        // Of a check's two readings one is taken, so that the session's error counts once.
        bool both = quantity != FittedQuantity.Drive && kept.Any(k => k.Row.Moment == ReadingMoment.AsFound) && kept.Any(k => k.Row.Moment == ReadingMoment.AsLeft);
        return
        [
            .. kept.GroupBy(k => (k.Row.EmitterHours, k.Row.Site, k.Row.Meter)).SelectMany(at =>
            {
                var wanted = both && at.Any(k => k.Row.Moment == ReadingMoment.AsLeft) == at.Any(k => k.Row.Moment == ReadingMoment.AsFound)
                    ? at.Where(k => (k.Row.Moment == ReadingMoment.AsLeft) == asLeft) : at;
                return wanted.GroupBy(k => k.Row.Moment).Select(g => new Observation(
                    g.First().Row.Line, g.First().Row.Hours, g.First().Row.EmitterHours, g.Average(k => k.Value), g.Count(),
                    $"{g.First().Row.Site}|{g.First().Row.Meter}|{(both ? Word(g.Key) : "")}", g.Average(k => k.Row.Reading)));
            }).OrderBy(o => o.Hours).ThenBy(o => o.Line),
        ];
    }

    // What a tip loses between cleanings stands between the two kinds of reading.
    private static string Word(ReadingMoment moment) => moment == ReadingMoment.AsFound ? "as found" : "as left";

    private static int Settings(EmitterRun run)
    {
        int count = 0;
        LogRow? before = null;
        foreach (var row in run.Rows.Where(r => !double.IsNaN(r.Drive)))
        {
            bool set = before is { } b && row.Moment == ReadingMoment.AsLeft && b.Moment == ReadingMoment.AsFound && b.EmitterHours == row.EmitterHours && Math.Abs(Math.Log(row.Drive / b.Drive)) > DriveMoves;
            count += set ? 1 : 0;
            before = row;
        }

        return count;
    }
}

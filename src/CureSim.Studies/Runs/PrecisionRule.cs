using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Runs;

/// <summary>Whether the figures of a run are as precise as asked; a pure function of the run's result.</summary>
/// <remarks>
/// JCGM 101:2008, 7.9 adds sequences of trials until twice the standard deviation of the average is below the numerical tolerance. Here half the 95 % interval
/// of each figure, as it is printed, takes the place of the former, and the half-width asked for that of the latter.
/// The interval shrinks with the root of the number of units, hence n (h/h_asked)² lifetimes, in whole rounds, are likely to be enough.
/// </remarks>
public sealed class PrecisionRule
{
    private const string WithinHorizon = "requalify_within_horizon_percent";
    private readonly Precision asked;
    private readonly ImmutableArray<(PrecisionTarget Target, Measure Measure)> figures;
    private readonly Measure? within;
    private int looks;

    /// <summary>Prepares the rule.</summary>
    /// <param name="asked">What is asked.</param>
    /// <param name="measures">The figures that the run gives.</param>
    public PrecisionRule(Precision asked, ImmutableArray<Measure> measures)
    {
        ArgumentNullException.ThrowIfNull(asked);
        this.asked = asked;
        figures = [.. asked.Targets.SelectMany(t => measures.Where(m => Concerns(t.Figure, m.Id, measures)).Select(m => (t, m)))];
        within = measures.FirstOrDefault(m => m.Id == WithinHorizon);
    }

    /// <summary>Judges what is simulated so far.</summary>
    public PrecisionVerdict Judge(RunResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        looks++;
        Measure[] needed = [.. figures.Select(f => f.Measure), .. within is null ? [] : new[] { within }];
        var estimates = RunAnalysis.Estimates(result, needed);
        var share = within is null ? null : estimates[^1];
        return new([.. figures.Select((f, i) => Find(result, f.Target, f.Measure, estimates[i], share))], result.Records.Length, asked.MostLifetimes, looks);
    }

    private static bool Concerns(PreciseFigure figure, string id, ImmutableArray<Measure> measures) => figure switch
    {
        PreciseFigure.MeanDose => id.StartsWith("dose_mean_", StringComparison.Ordinal),
        PreciseFigure.Ppk => id.EndsWith("_ppk", StringComparison.Ordinal),
        PreciseFigure.Cpk => id.EndsWith("_cpk", StringComparison.Ordinal),
        PreciseFigure.StateIndex => id == (measures.Any(m => m.Id == "state_index_before_check_p05") ? "state_index_before_check_p05" : "state_index_end_p05"),
        PreciseFigure.FractionNonconforming => id.EndsWith("_nonconforming_conditional_ppm", StringComparison.Ordinal),
        _ => id == "requalify_median_hours",
    };

    private PrecisionFinding Find(RunResult result, PrecisionTarget target, Measure measure, Estimate estimate, Estimate? share)
    {
        // Printed units: hours for the median, plain numbers and parts of the figure otherwise.
        double half = target.Figure == PreciseFigure.MedianTimeToRequalify ? target.HalfWidth / 3600.0 : target.HalfWidth;
        double? reached = estimate.HalfWidth95 is { } h ? (!target.IsRelative ? h : estimate.Value > 0.0 ? h / estimate.Value : null) : null;
        PrecisionFinding Finding(PrecisionOutcome outcome, long? enough, string? reason) => new(target, measure, estimate, half, reached, outcome, enough, reason);
        if (reached is { } found)
        {
            return found <= half ? Finding(PrecisionOutcome.Met, null, null) : Finding(PrecisionOutcome.NotMet, Enough(result, result.Records.Length * Square(found / half)), null);
        }

        if (Unreachable(result, target, measure, estimate, share) is { } why)
        {
            return Finding(PrecisionOutcome.Unreachable, null, why);
        }

        long? enough = estimate.Enough is { } n ? Enough(result, n) : null;
        return Finding(PrecisionOutcome.NotMet, enough, estimate.Withheld ?? (estimate.Value == 0.0 ? "none was seen" : "its interval has no end on one side"));
    }

    /// <summary>Why no number of lifetimes would give the figure; null when more may.</summary>
    private static string? Unreachable(RunResult result, PrecisionTarget target, Measure measure, Estimate estimate, Estimate? share)
    {
        if (estimate.Withheld is not { } reason)
        {
            return null;
        }

        if (target.Figure == PreciseFigure.MedianTimeToRequalify && share?.Value is null)
        {
            return "no cell is qualified after commissioning";
        }

        if (target.Figure == PreciseFigure.MedianTimeToRequalify && share is { Upper95: < 50.0 })
        {
            return FormattableString.Invariant($"fewer than half of the cells ({share.Value:0.##} %) requalify within the horizon, so there is no median; a longer horizon is needed");
        }

        // A world that cannot give the figure stays among the worlds, however many are added.
        return result.UnitsAreWorlds ? reason
            : target.Figure is PreciseFigure.MedianTimeToRequalify || measure.NeedsSupport ? null
            : measure.Value(new RunPiece(result.Plan, result.Total, result.Records.AsMemory())) is null ? reason : null;
    }

    private static double Square(double x) => x * x;

    /// <summary>Lifetimes in whole rounds.</summary>
    private static long Enough(RunResult result, double lifetimes)
    {
        int each = result.UnitsAreWorlds ? result.Plan.Scenario.Run.LifetimesPerWorld : 1;
        long round = result.UnitsAreWorlds ? (long)LeafRounds.Worlds(each) * each : LeafRounds.Lifetimes;
        return lifetimes < long.MaxValue / 4.0 ? Math.Max(1, (long)Math.Ceiling(lifetimes / round)) * round : long.MaxValue / 4;
    }
}

namespace CureSim.Studies.Runs;

/// <summary>How the Monte-Carlo error of a figure is found when a run has one world.</summary>
public enum ErrorBy
{
    /// <summary>From 64 batches, each a summary of its own.</summary>
    Batches,

    /// <summary>From what the figure becomes without each of 64 batches: for smooth functions of the moments kept by response and site.</summary>
    LeaveOneOut,

    /// <summary>A ratio of two sums over lifetimes, by linearisation.</summary>
    Lifetimes,

    /// <summary>From the Kaplan–Meier curve itself (Greenwood, log-log).</summary>
    SurvivalCurve,
}

/// <summary>One figure of a run, as a function of a set of lifetimes.</summary>
/// <param name="Id">Name in tables and JSON: lower case, with its unit at the end.</param>
/// <param name="Meaning">What it is, in words.</param>
/// <param name="Unit">Unit as printed; null for a plain number.</param>
/// <param name="Value">The figure of a piece; null when the piece cannot give it.</param>
public sealed record Measure(string Id, string Meaning, string? Unit, Func<RunPiece, double?> Value)
{
    /// <summary>How its Monte-Carlo error is found.</summary>
    public ErrorBy Error { get; init; } = ErrorBy.Batches;

    /// <summary>For <see cref="ErrorBy.Lifetimes"/>: numerator and denominator of one lifetime.</summary>
    public Func<Core.Summaries.LifetimeRecord, (double Numerator, double Denominator)>? Ratio { get; init; }

    /// <summary>For <see cref="ErrorBy.Lifetimes"/>: what the ratio is multiplied by to come to the printed unit.</summary>
    public double Scale { get; init; } = 1.0;

    /// <summary>For <see cref="ErrorBy.SurvivalCurve"/>: the estimate from the curve of first cycles, whose times are in seconds.</summary>
    public Func<Core.Statistics.SurvivalCurve, Core.Statistics.Estimate>? Curve { get; init; }

    /// <summary>For <see cref="ErrorBy.SurvivalCurve"/>: the time of the curve at which its limits count, s, when it is a quantile; null for a mean over the curve.</summary>
    public Func<Core.Statistics.SurvivalCurve, double?>? CurveAt { get; init; }

    /// <summary>True for a share of a whole in %, whose interval cannot leave 0 to 100.</summary>
    public bool IsShare { get; init; }

    /// <summary>True for fractions whose band over worlds is formed in logarithms.</summary>
    public bool BandInLogs { get; init; }

    /// <summary>True when the figure must be withheld if a few lifetimes carry most of the numerator.</summary>
    public bool NeedsSupport { get; init; }

    /// <summary>With <see cref="NeedsSupport"/>: lifetimes that the numerator must rest on at least, counted as (Σa)²/Σa².</summary>
    public double LeastSupport { get; init; } = MeasureEstimator.LeastSupport;
}

/// <summary>A figure with its Monte-Carlo interval and, when something is unknown, its band over worlds.</summary>
/// <param name="Measure">What it is.</param>
/// <param name="Estimate">Value with its Monte-Carlo interval, or why it is withheld.</param>
/// <param name="Band">5–95 % band over worlds; null with one world.</param>
public sealed record KeyFigure(Measure Measure, Core.Statistics.Estimate Estimate, Core.Statistics.WorldBand? Band);

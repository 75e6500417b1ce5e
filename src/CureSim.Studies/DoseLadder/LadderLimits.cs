using System.Collections.Immutable;
using CureSim.Core.Statistics;

namespace CureSim.Studies.DoseLadders;

/// <summary>A part of a ladder: irradiance (W/cm²), time (s), response, result.</summary>
public sealed record LadderPoint(double Irradiance, double Time, double? Response, bool? Passed);

/// <summary>One tested setting.</summary>
/// <param name="Irradiance">W/cm².</param>
/// <param name="Time">s.</param>
/// <param name="Parts">Parts.</param>
/// <param name="Failed">Of them failed; null when results were not noted.</param>
/// <param name="Mean">Mean response; null without.</param>
/// <param name="Bound">Its own lower tolerance bound, scatter pooled over settings; null without responses.</param>
/// <param name="Fitted">Fitted response; null without a fit.</param>
/// <param name="FittedBound">Lower tolerance bound of the fit there.</param>
/// <param name="Holds">True when what was measured at this setting holds the requirement: see the study.</param>
/// <param name="Why">What speaks against it; null when it holds.</param>
public sealed record TestedSetting(double Irradiance, double Time, int Parts, int? Failed, double? Mean, double? Bound, double? Fitted, double? FittedBound, bool Holds, string? Why)
{
    /// <summary>J/cm².</summary>
    public double Dose => Irradiance * Time;
}

/// <summary>Limits of dose at one tested irradiance.</summary>
/// <param name="Irradiance">W/cm².</param>
/// <param name="Lower">J/cm²; null when no tested setting holds.</param>
/// <param name="LowerIs">"between two tested doses", "a tested dose", or why there is none.</param>
/// <param name="Upper">J/cm²: a tested dose.</param>
/// <param name="UpperIs">What it is.</param>
/// <param name="LowestTested">J/cm².</param>
/// <param name="HighestTested">J/cm².</param>
public sealed record LadderLimit(double Irradiance, double? Lower, string LowerIs, double? Upper, string UpperIs, double LowestTested, double HighestTested);

/// <summary>Lower and upper limits of dose from measured parts: tested points or inside them, never beyond.</summary>
/// <param name="Requirement">The response must be at least this; null with results alone.</param>
/// <param name="Confidence">Confidence.</param>
/// <param name="Reliability">Reliability.</param>
/// <param name="Fit">The fitted response; null when it could not be fitted.</param>
/// <param name="UsesFit">True when lower limits come from the fit's bound, false when from tested settings alone.</param>
/// <param name="Settings">Tested settings by irradiance and time.</param>
/// <param name="Limits">By irradiance.</param>
/// <param name="PooledDeviation">Scatter within settings; null without responses.</param>
public sealed record LadderLimits(
    double? Requirement, double Confidence, double Reliability, DoseResponseFit? Fit, bool UsesFit, ImmutableArray<TestedSetting> Settings, ImmutableArray<LadderLimit> Limits, double? PooledDeviation)
{
    private const double LeastFitP = 0.01;

    /// <summary>Works them out.</summary>
    /// <remarks>
    /// A setting holds when the lower tolerance bound of its own responses (scatter pooled over settings) reaches the requirement; with results, when its parts show the reliability with the confidence
    /// (exact binomial). Lower limit: where the fit's bound reaches the requirement and stays there, inside the tested doses of that irradiance; the highest tested dose is the upper limit
    /// unless a tested setting above the lower limit does not hold. Against the fit (lack of fit, p below 1 %) or without one, tested settings alone.
    /// </remarks>
    public static LadderLimits Of(IReadOnlyList<LadderPoint> parts, double? requirement, double confidence, double reliability)
    {
        ArgumentNullException.ThrowIfNull(parts);
        bool measured = requirement is not null && parts.All(p => p.Response is not null);
        var fit = measured ? DoseResponseFit.Of([.. parts.Select(p => p.Irradiance)], [.. parts.Select(p => p.Time)], [.. parts.Select(p => p.Response!.Value)]) : null;
        bool uses = fit is not null && !(fit.LackOfFitP < LeastFitP);
        var groups = parts.GroupBy(p => (p.Irradiance, p.Time)).OrderBy(g => g.Key).ToArray();
        double sum = measured ? groups.Sum(g => g.Sum(p => Math.Pow(p.Response!.Value - g.Average(q => q.Response!.Value), 2))) : 0.0;
        int degrees = parts.Count - groups.Length;
        double? pooled = measured && degrees > 1 ? Math.Sqrt(sum / degrees) : null;
        var settings = groups.Select(g => Setting(g.Key.Irradiance, g.Key.Time, [.. g], requirement, confidence, reliability, fit, pooled, degrees)).ToImmutableArray();
        var limits = settings.GroupBy(s => s.Irradiance).Select(g => LimitOf([.. g], requirement, confidence, reliability, uses ? fit : null)).ToImmutableArray();
        return new(requirement, confidence, reliability, fit, uses, settings, limits, pooled);
    }

    private static TestedSetting Setting(double i, double t, LadderPoint[] parts, double? requirement, double confidence, double reliability, DoseResponseFit? fit, double? pooled, int degrees)
    {
        int? failed = parts.All(p => p.Passed is not null) ? parts.Count(p => p.Passed == false) : null;
        double? mean = parts.All(p => p.Response is not null) ? parts.Average(p => p.Response!.Value) : null;
        double? bound = mean is { } m && pooled is { } s ? GroupTolerance.Lower(m, parts.Length, s, degrees, confidence, reliability) : null;
        string? why = null;
        if (requirement is { } need)
        {
            why = bound is not { } b ? "no setting was repeated, so there is no scatter to judge by" : b < need ? "the lower tolerance bound of its parts is below the requirement" : null;
        }

        if (failed is { } c && why is null)
        {
            // Beside responses a failure speaks; too few parts to show the reliability by counting do not.
            double shown = c < parts.Length ? SamplePlan.Confidence(parts.Length, c, reliability) : 0.0;
            why = requirement is not null ? c > 0 ? $"{c} of {parts.Length} failed" : null
                : shown >= confidence ? null : c > 0 ? $"{c} of {parts.Length} failed" : $"{parts.Length} parts without a failure show the reliability with {100.0 * shown:F0} % confidence only";
        }

        return new(i, t, parts.Length, failed, mean, bound, fit?.At(i, t), fit?.LowerTolerance(i, t, confidence, reliability), why is null, why);
    }

    private static LadderLimit LimitOf(TestedSetting[] tested, double? requirement, double confidence, double reliability, DoseResponseFit? fit)
    {
        double i = tested[0].Irradiance, lowest = tested[0].Dose, highest = tested[^1].Dose;
        int first = Array.FindIndex(tested, s => s.Holds);
        if (first < 0)
        {
            return new(i, null, "the data do not reach it: no tested dose holds the requirement", null, "no tested dose holds the requirement", lowest, highest);
        }

        int last = first;
        while (last + 1 < tested.Length && tested[last + 1].Holds)
        {
            last++;
        }

        string upper = last == tested.Length - 1 ? "the highest tested dose; the data do not reach an upper edge" : $"the last tested dose that holds; at the next, {tested[last + 1].Why}";
        if (first == 0)
        {
            return new(i, lowest, "the lowest tested dose; the data do not reach a dose that fails", tested[last].Dose, upper, lowest, highest);
        }

        if (fit is not null && requirement is { } need)
        {
            // Downwards from the first setting that holds, as far as the fit's bound does, not to the tested one that does not hold.
            double Over(double t) => fit.LowerTolerance(i, t, confidence, reliability) - need;
            double good = tested[first].Time, bad = tested[first - 1].Time;
            if (Over(good) >= 0.0)
            {
                if (Over(bad) >= 0.0)
                {
                    return new(i, tested[first].Dose, "a tested dose: below it the fit would hold but the tested parts do not", tested[last].Dose, upper, lowest, highest);
                }

                for (int k = 0; k < 60; k++)
                {
                    double middle = Math.Sqrt(good * bad);
                    (good, bad) = Over(middle) >= 0.0 ? (middle, bad) : (good, middle);
                }

                return new(i, i * good, "between two tested doses: the bound of the fit", tested[last].Dose, upper, lowest, highest);
            }

            // The fit asks for more than the first tested setting that holds by itself: the more careful of the two.
            int from = Array.FindIndex(tested, first, last - first + 1, s => Over(s.Time) >= 0.0);
            if (from < 0)
            {
                return new(i, null, "the data do not reach it: the bound of the fit stays below the requirement", null, "the bound of the fit stays below the requirement", lowest, highest);
            }

            (good, bad) = (tested[from].Time, tested[from - 1].Time);
            for (int k = 0; k < 60; k++)
            {
                double middle = Math.Sqrt(good * bad);
                (good, bad) = Over(middle) >= 0.0 ? (middle, bad) : (good, middle);
            }

            return new(i, i * good, "between two tested doses: the bound of the fit", tested[last].Dose, upper, lowest, highest);
        }

        return new(i, tested[first].Dose, "a tested dose", tested[last].Dose, upper, lowest, highest);
    }
}

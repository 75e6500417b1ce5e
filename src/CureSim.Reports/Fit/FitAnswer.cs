using System.Collections.Immutable;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>A fitted log in ten lines.</summary>
public static class FitAnswer
{
    /// <summary>The heading.</summary>
    public static string Heading(LogFit fit, FitContext context)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        int readings = fit.Log.Readings.Count(), emitters = fit.Runs.Length;
        return $"{PlainText.OneLine(context.File)}: {Format.Count(readings)} readings, {Format.Count(emitters)} emitter{(emitters == 1 ? "" : "s")}, {Format.Hours(fit.Hours)} watched";
    }

    /// <summary>The lines.</summary>
    /// <param name="fit">The log fitted.</param>
    /// <param name="context">Where it comes from.</param>
    /// <param name="check">Its predictive check; null without a scenario.</param>
    public static ImmutableArray<AnswerLine> Of(LogFit fit, FitContext context, PredictiveCheck? check)
    {
        ArgumentNullException.ThrowIfNull(fit);
        ArgumentNullException.ThrowIfNull(context);
        var chosen = fit.Chosen;
        string Reason() => fit.Forms.IsEmpty ? "no form asked" : string.Join("; ", fit.Forms.Select(f => f.Withheld).Distinct());
        return
        [
            new("Ageing", chosen.IsEmpty ? $"withheld: {Reason()}" : $"{FitWords.Name(chosen[0].Form)}: {FitWords.All(chosen[0])}"),
            new("Forms compared", Compared(fit)),
            new("Between emitters", Spread(fit)),
            new("Scatter", chosen.IsEmpty ? $"no curve; repeatability {FitWords.PerCent(fit.Repeatability)}"
                : $"{Format.Value(100.0 * chosen[0].ResidualDeviation, "%", 3)} about the curves; repeatability {FitWords.PerCent(fit.Repeatability)}"),
            new("Cleaning", fit.CleaningLoss.Value is null ? $"withheld: {fit.CleaningLoss.Withheld}" : $"gave back {FitWords.PerCent(fit.CleaningLoss)} a check, over {Format.Count(fit.CleaningLoss.Count!.Value)} checks"),
            new("Failures", Failures(fit)),
            new("Unexplained steps", Steps(fit)),
            new("Screening", fit.Screening.IsEmpty ? "nothing found" : fit.Screening.Length == 1 ? fit.Screening[0] : $"{fit.Screening[0]} And {Format.Count(fit.Screening.Length - 1)} more in tables/screening.csv"),
            PredictiveLine(check),
            new("Columns", $"{FitWords.Of(fit.Quantity)} fitted ({fit.QuantityWhy}); " + string.Join(", ", context.Columns.Select(c => $"{c.Role} = {c.Header}{(c.Guessed ? "" : " (said)")}"))),
        ];
    }

    internal static AnswerLine PredictiveLine(PredictiveCheck? check) => check is null ? new("Predictive check", "none: --scenario SCENARIO compares the log with what that scenario simulates")
        : check.Withheld is { } why ? new("Predictive check", $"withheld: {why}")
        : new("Predictive check", $"{Format.Count(check.Inside)} of {Format.Count(check.Compared)} as-found readings inside the simulated 90 % band; p = {Format.Value(check.PValue!.Value, null, 2)}"
            + $" from {Format.Count(check.Lifetimes)} lifetimes" + (check.Contradicts ? ": the scenario contradicts your log" : ": no contradiction seen"), check.Contradicts ? AnswerTone.Missed : AnswerTone.Plain);

    private static string Compared(LogFit fit)
    {
        var chosen = fit.Chosen;
        if (chosen.IsEmpty)
        {
            return "none";
        }

        string[] others = [.. fit.Forms.Where(f => f != chosen[0]).OrderBy(f => f.Difference ?? double.PositiveInfinity)
            .Select(f => f.Withheld is null && f.Difference is { } d ? $"{FitWords.Name(f.Form)} AICc +{Format.Value(d, null, 3)}" : $"{FitWords.Name(f.Form)} not fitted ({f.Withheld ?? "too few readings for AICc"})")];
        string verdict = chosen.Length > 1 ? $"; {string.Join(" and ", chosen.Select(c => FitWords.Name(c.Form)))} cannot be told apart" : others.Length > 0 && fit.Forms.Count(f => f.Difference is not null) > 1 ? "; told apart" : "";
        return string.Join(", ", others) + verdict;
    }

    private static string Spread(LogFit fit)
    {
        if (fit.Chosen.IsEmpty)
        {
            return "none";
        }

        var best = fit.Chosen[0];
        return best.Parameters[0].Units < 2 ? "one emitter shows no spread between emitters"
            : $"sd of ln, fit error removed, {Format.Count(best.Parameters[0].Units)} emitters: " + string.Join(", ", best.Form.Parameters.Select((p, j) =>
                best.Parameters[j].Spread is { Value: { } s, Lower95: { } l, Upper95: { } u } ? $"{FitWords.Name(p)} {Format.Interval(s, l, u)}" : $"{FitWords.Name(p)} withheld"));
    }

    private static string Failures(LogFit fit)
    {
        int replaced = fit.Runs.Count(r => r.End == EmitterEnd.Replaced), running = fit.Runs.Count(r => r.End == EmitterEnd.StillRunning);
        string counts = $"{Format.Count(fit.Failures)} sudden, {Format.Count(replaced)} replaced before failing, {Format.Count(running)} running";
        var life = fit.Life;
        return life.Withheld is { } why ? $"{counts}; no law: {why}"
            : $"{counts}; Weibull scale {Times(life.Scale, life.ScaleErrorLog, "h")}, shape {Times(life.Shape, life.ShapeErrorLog, "")}";
    }

    private static string Times(double value, double errorLog, string unit)
    {
        double factor = Math.Exp(1.959963984540054 * errorLog);
        return Format.Interval(value, value / factor, value * factor, unit);
    }

    private static string Steps(LogFit fit)
    {
        double hours = FittedKeys.SiteHours(fit);
        string rate = $"{Format.Count(fit.Steps.Length)} in {Format.Hours(hours)} of sites";
        return fit.Steps.IsEmpty ? $"{rate}: none above 3 % and 5 standard errors"
            : $"{rate}, {string.Join(", ", fit.Steps.Take(3).Select(s => $"×{Format.Value(s.Factor, null, 3)} at line {Format.Count(s.Line)}"))}{(fit.Steps.Length > 3 ? " …" : "")}";
    }
}

using CureSim.Core.Statistics;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;

namespace CureSim.Reports.Fit;

/// <summary>Tables of a fitted log as its report shows them: values with their intervals; every digit stands in the files that they name.</summary>
internal static class FitPageTables
{
    /// <summary>Ageing forms beside one another.</summary>
    public static PageTable Forms(LogFit fit) => PageTable.OfTexts(
        ["Form", "Emitters fitted", "Residual standard deviation, %", "AICc above best", "Taken"],
        fit.Forms.Select(f => (string[])
        [
            FitWords.Name(f.Form), Format.Count(f.Usable.Count()), f.Withheld is null ? Format.Value(100.0 * f.ResidualDeviation, null, 3) : "–", f.Difference is { } d ? Format.Value(d, null, 3) : "–",
            fit.Chosen.Contains(f) ? "yes" : f.Withheld is { } why ? $"not fitted: {why}" : "no",
        ])) with { File = "tables/forms.csv" };

    /// <summary>Parameters of the forms that were taken: medians and spreads over emitters.</summary>
    public static PageTable Parameters(LogFit fit) => PageTable.OfTexts(
        ["Form", "Parameter", "Median over emitters", "Spread between emitters, standard deviation of ln"],
        fit.Chosen.SelectMany(f => f.Form.Parameters.Select((p, j) => (string[])[FitWords.Name(f.Form), FitWords.Name(p), FitWords.Median(f, j), Spread(f.Parameters[j].Spread)]))) with { File = "tables/parameters.csv" };

    /// <summary>Every emitter by the form that fits best.</summary>
    public static PageTable Emitters(LogFit fit)
    {
        var best = fit.Chosen[0];
        return PageTable.OfTexts(
            ["Emitter", "Readings", "Emitter hours, h", "End", .. best.Form.Parameters.Select(p => PlainText.Capital(FitWords.Name(p)) + (p.Unit.Length > 0 ? $", {p.Unit}" : ""))],
            best.Emitters.Select(e => (string[])
            [
                PlainText.OneLine(e.Run.Name), Format.Count(e.Run.Observations.Length), $"{Hours(e.Run.FirstHours)} to {Hours(e.Run.LastHours)}",
                e.Run.End switch { EmitterEnd.Failed => "failed", EmitterEnd.Replaced => "replaced", _ => "running" },
                .. best.Form.Parameters.Select((p, j) => e.Fit.Withheld is null ? Format.Value(Math.Exp(e.Log(j)) * p.PerUnit, null, 3) + (e.IsUsable ? "" : " (at a limit, left out)") : "withheld"),
            ])) with { File = "tables/emitters.csv" };
    }

    /// <summary>Errors of reading.</summary>
    public static PageTable Errors(LogFit fit) => PageTable.OfTexts(
        ["What", "Size", "Degrees of freedom"],
        new[] { ("Repeatability", fit.Repeatability), ("Day to day about the curve, beyond repeatability", fit.Session), ("Loss that cleaning gave back, mean", fit.CleaningLoss) }
            .Select(e => (string[])[e.Item1, FitWords.PerCent(e.Item2), e.Item2.Count is { } n ? Format.Count(n) : "–"])) with { File = "tables/reading_error.csv" };

    /// <summary>Steps that no event of the log explains.</summary>
    public static PageTable Steps(LogFit fit) => PageTable.OfTexts(
        ["Emitter", "Site", "Line of the log", "Emitter hours, h", "Factor (standard error of ln)", "Put right"],
        fit.Steps.Select(s => (string[])
        [
            PlainText.OneLine(s.Emitter), PlainText.OneLine(s.Site), Format.Count(s.Line), Hours(s.Hours), $"{Format.Value(s.Factor, null, 3)} ({Format.Value(s.FactorErrorLog, null, 2)})", s.PutRight ? "yes" : "no",
        ])) with { File = "tables/steps.csv" };

    /// <summary>What the columns of the log were taken for.</summary>
    public static PageTable Columns(FitContext context) => PageTable.OfTexts(
        ["Role", "What it holds", "Header in the log", "How known"],
        context.Columns.Select(c => (string[])[c.Role, c.Meaning, PlainText.OneLine(c.Header), c.Guessed ? "guessed from the header" : "said"])) with { File = "tables/columns.csv" };

    private static string Spread(Estimate spread) => spread is { Value: { } v, Lower95: { } low, Upper95: { } high } ? Format.Interval(v, low, high) : $"withheld: {spread.Withheld}";

    private static string Hours(double hours) => double.IsNaN(hours) ? "?" : Format.Value(hours, null, 4);
}

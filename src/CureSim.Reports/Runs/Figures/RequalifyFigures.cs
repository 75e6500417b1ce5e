using System.Collections.Immutable;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>Time to requalify and what ends it.</summary>
internal static class RequalifyFigures
{
    /// <summary>Kaplan–Meier curve with its band; null without events to requalify on.</summary>
    public static Figure? Survival(RunFindings findings)
    {
        if (!findings.HasRequalification || findings.Survival.Steps.Count == 0)
        {
            return null;
        }

        double end = findings.Run.Scenario.Production.HorizonSeconds;
        var (line, band) = Curve(findings, end, null, Tone.First);
        var median = findings.Run.Find("requalify_median_hours")?.Estimate;
        string half = median?.Value is { } m ? $"median {Format.Hours(m)}" : "median not reached";
        return new Figure
        {
            Title = "How long until a cell must be requalified?",
            Subtitle = $"{Format.Count(findings.Survival.Subjects)} cells that were qualified at the start; {half}; band: 95 % interval {(findings.Run.Result.UnitsAreWorlds ? "from the scatter of the worlds" : "of the simulation")}",
            X = new Axis("Production time", "h") { From = 0.0, To = end / 3600.0 },
            Y = new Axis("Cells not yet requalified", "%") { From = 0.0, To = 100.0 },
            Layers = [.. band, line],
            Note = Never(findings),
        };
    }

    /// <summary>Cumulative incidence of the causes, stacked; null without events.</summary>
    public static Figure? Causes(RunFindings findings)
    {
        if (!findings.HasRequalification || findings.Incidence.Times.Count == 0)
        {
            return null;
        }

        double end = findings.Run.Scenario.Production.HorizonSeconds;
        double[] x = Grid(findings.Incidence.Times, end);

        // At most five areas can be told apart; the smallest are put together.
        var causes = findings.EndCauses.Where(c => c.Percent > 0.0).ToArray();
        var shown = causes.Length <= 5 ? causes : causes[..4];
        var areas = shown.Select(c => new StackArea($"{RunFindings.Words(c.Cause)} {Format.Value(c.Percent, "%", 2)}", [.. x.Select(t => Percent(findings, (int)c.Cause, t))])).ToList();
        if (causes.Length > 5)
        {
            var rest = causes[4..];
            areas.Add(new($"other {Format.Value(rest.Sum(c => c.Percent), "%", 2)}", [.. x.Select(t => rest.Sum(c => Percent(findings, (int)c.Cause, t)))]));
        }

        return new Figure
        {
            Title = "What makes a cell be requalified?",
            Subtitle = $"First event of {Format.Count(findings.Survival.Subjects)} cells that were qualified at the start; share of cells by cause, at the end of the horizon beside it",
            X = new Axis("Production time", "h") { From = 0.0, To = end / 3600.0 },
            Y = new Axis("Cells to requalify", "%") { From = 0.0, To = 100.0 },
            Layers = [new Stack([.. x.Select(t => t / 3600.0)], [.. areas])],
            Note = Never(findings),
        };
    }

    /// <summary>A survival curve and its band as layers, time in hours.</summary>
    public static (Line Line, ImmutableArray<Layer> Band) Curve(RunFindings findings, double end, string? label, Tone tone)
    {
        var survival = findings.Survival;
        var at = survival.Steps.Select(s => s.Time).Prepend(0.0).Append(end).Distinct().Where(t => t <= end).ToArray();
        ImmutableArray<double> x = [.. at.Select(t => t / 3600.0)];
        var estimates = at.Select(t => findings.SurvivalAt(Math.Min(t, survival.LastTime))).ToArray();
        var line = new Line(x, [.. estimates.Select(e => 100.0 * (e.Value ?? 0.0))], label, tone, Stepped: true);
        ImmutableArray<Layer> band = x.Length < 2
            ? []
            : [new Band(
                x, [.. estimates.Select(e => 100.0 * (e.Lower95 ?? e.Value ?? 0.0))], [.. estimates.Select(e => 100.0 * (e.Upper95 ?? e.Value ?? 0.0))], null, tone, Stepped: true)];
        return (line, band);
    }

    private static string? Never(RunFindings findings) =>
        findings.Run.Find("never_qualified_percent")?.Estimate.Value is > 0.0 and var never
            ? $"{Format.Value(never, "%", 3)} of all cells were not qualified after commissioning and are left out."
            : null;

    private static double Percent(RunFindings findings, int cause, double time) =>
        100.0 * (findings.Incidence.At(cause + 1, Math.Min(time, findings.Survival.LastTime)).Value ?? 0.0);

    // A stack joins its heights by straight lines: each event time stands twice, before and after its step, unless there are very many.
    private static double[] Grid(IReadOnlyList<double> times, double end)
    {
        const int most = 400;
        if (times.Count > most)
        {
            return [.. Enumerable.Range(0, most + 1).Select(i => end * i / most)];
        }

        double hair = 1e-6 * end;
        return [.. times.SelectMany(t => new[] { t - hair, t }).Prepend(0.0).Append(end).Where(t => t >= 0.0 && t <= end).Distinct().Order()];
    }
}

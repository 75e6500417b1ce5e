using CureSim.Reports.Figures;

namespace CureSim.Reports.Runs;

/// <summary>The figures of a run.</summary>
public static class RunFigures
{
    /// <summary>Figures with the names of their files (without extension), made one after the other as they are asked for.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(RunFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        IEnumerable<(string Name, Func<Figure?> Make)> all =
        [
            .. findings.Responses.Select(r => ($"{r.Id}_histogram", (Func<Figure?>)(() => SpreadFigures.Histogram(findings, r)))),
            .. findings.Responses.Select(r => ($"{r.Id}_over_time", (Func<Figure?>)(() => TimeFigures.Fan(findings, r)))),
            ("state_index_over_time", () => TimeFigures.StateIndex(findings)),
            ("time_to_requalify", () => RequalifyFigures.Survival(findings)),
            ("causes_of_requalification", () => RequalifyFigures.Causes(findings)),
            ("variance_by_level", () => SpreadFigures.Variance(findings)),
            ("light_budget", () => SpreadFigures.LightBudget(findings.Context)),
        ];
        foreach (var (name, make) in all)
        {
            // A run may be too short or too plain for a figure; what there is to say then stands in the tables.
            if (make() is { } figure)
            {
                yield return (name, figure);
            }
        }
    }
}

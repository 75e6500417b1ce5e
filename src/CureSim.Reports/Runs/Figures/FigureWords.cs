using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>Words that several figures share.</summary>
internal static class FigureWords
{
    /// <summary>Of how many lifetimes, over what time.</summary>
    public static string Size(RunFindings findings)
    {
        var run = findings.Run.Scenario.Run;
        string lifetimes = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds of {Format.Count(run.LifetimesPerWorld)} lifetimes" : $"{Format.Count(run.LifetimesPerWorld)} lifetimes";
        return $"{lifetimes}, {Horizon(findings)}";
    }

    /// <summary>The horizon in years, or in hours when it is short.</summary>
    public static string Horizon(RunFindings findings)
    {
        var production = findings.Run.Scenario.Production;
        double years = production.HorizonSeconds / production.YearSeconds;
        return years >= 0.5 ? $"{Format.Value(years, null, 3)} {(years == 1.0 ? "year" : "years")}" : Format.Hours(production.HorizonSeconds / 3600.0);
    }
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Logs;

namespace CureSim.Studies.Fit;

/// <summary>One as-found reading of a log beside a scenario: mean of repeats.</summary>
/// <param name="Seconds">Production time since the log began, s.</param>
/// <param name="Site">Site from 0.</param>
/// <param name="SiteName">As the log names it.</param>
/// <param name="LogReading">ln of the reading in W/m².</param>
/// <param name="LogDrive">ln of the drive; NaN when the log does not say.</param>
/// <param name="Repeats">Readings in it.</param>
/// <param name="EmitterSeconds">Burn time of the emitter, s; the clock where the log does not say.</param>
/// <param name="Line">Line of the first of them.</param>
public sealed record LoggedCheck(double Seconds, int Site, string SiteName, double LogReading, double LogDrive, int Repeats, double EmitterSeconds, int Line)
{
    /// <summary>ln of the site's last as-left reading before it, in W/m²; NaN without one.</summary>
    public double LogLeft { get; init; } = double.NaN;
}

/// <summary>The as-found readings of a log as a scenario's checks.</summary>
internal static class LoggedChecks
{
    /// <summary>The readings in order of time, or why they cannot be laid beside the scenario.</summary>
    public static (ImmutableArray<LoggedCheck> Checks, string? Withheld) Of(ReadingLog log, Scenario scenario)
    {
        if (log.ToWattsPerSquareMetre is not { } unit)
        {
            return ([], $"the readings have {(log.Unit is null ? "no unit" : "the unit " + log.Unit)}; an irradiance is needed");
        }

        if (scenario.Checks is null)
        {
            return ([], "the scenario has no checks");
        }

        LogRow[] rows = [.. EmitterRuns.Cut(log, log.StartsNew ? 0.0 : null).Runs.SelectMany(r => r.Rows).Where(r => !double.IsNaN(r.Reading) && !r.Cold && r.Moment != ReadingMoment.AsLeft && !double.IsNaN(r.Hours)).OrderBy(r => r.Line)];
        // What a site was left at before each row: a leg of a shared emitter is held to it.
        var left = new Dictionary<(int, double, string), double>();
        var last = new Dictionary<string, double>();
        foreach (var row in log.Rows.Where(r => !double.IsNaN(r.Reading) && !r.Cold))
        {
            if (row.Moment == ReadingMoment.AsLeft)
            {
                last[row.Site] = Math.Log(row.Reading * unit);
            }
            else
            {
                left.TryAdd((row.Line, row.Hours, row.Site), last.GetValueOrDefault(row.Site, double.NaN));
            }
        }

        string[] names = [.. rows.Select(r => r.Site).Distinct().OrderBy(n => int.TryParse(n, out int number) ? number : int.MaxValue).ThenBy(n => n, StringComparer.Ordinal)];
        int sites = scenario.Production.SiteCount;
        if (names.Length == 0 || names.Length > sites)
        {
            return ([], names.Length == 0 ? "the log has no as-found readings with a clock" : FormattableString.Invariant($"the log has {names.Length} sites and the scenario {sites}"));
        }

        double first = log.Rows.Where(r => !double.IsNaN(r.Hours)).Min(r => r.Hours);
        return ([.. rows.Where(r => r.Hours > first).GroupBy(r => (r.Hours, r.Site)).Select(g => new LoggedCheck(
            (g.Key.Hours - first) * 3600.0, Array.IndexOf(names, g.Key.Site), g.Key.Site, g.Average(r => Math.Log(r.Reading * unit)), g.Average(r => Math.Log(r.Drive)), g.Count(),
            double.IsNaN(g.First().EmitterHours) ? (g.Key.Hours - first) * 3600.0 : g.First().EmitterHours * 3600.0, g.First().Line)
        {
            LogLeft = left.GetValueOrDefault((g.First().Line, g.First().Hours, g.First().Site), double.NaN),
        })
            .OrderBy(c => c.Seconds).ThenBy(c => c.Site)], null);
    }
}

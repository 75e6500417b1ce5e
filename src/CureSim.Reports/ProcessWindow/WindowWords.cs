using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>Words and units that all reports of the window study share.</summary>
internal static class WindowWords
{
    /// <summary>Column names may hold lower case letters, digits and underscores only.</summary>
    public static string Header(WindowAxis axis)
    {
        string name = string.Concat(axis.Key.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToLowerInvariant(c) : '_'));
        string unit = axis.Unit switch { "W/cm²" => "_w_per_cm2", "" => "", _ => "_" + string.Concat(axis.Unit.Replace("²", "2", StringComparison.Ordinal).Replace("/", "_per_", StringComparison.Ordinal).Where(c => char.IsAsciiLetterOrDigit(c) || c == '_').Select(char.ToLowerInvariant)) };
        return name + unit;
    }

    /// <summary>A value of an axis with its unit.</summary>
    public static string At(WindowAxis axis, double value) => Format.Value(value, axis.Unit.Length == 0 ? null : axis.Unit, 4);

    /// <summary>Both settings.</summary>
    public static string At(WindowCase study, double x, double y) => $"{At(study.X, x)}, {At(study.Y, y)}";

    /// <summary>A range of an axis.</summary>
    public static string Range(WindowAxis axis, double from, double to) => $"{Format.Value(from, null, 4)} to {At(axis, to)}";

    /// <summary>Shown unit of a response and its size in SI.</summary>
    public static (string Unit, string Header, double Si) UnitOf(Response response) => response switch
    {
        Response.Irradiance => ("W/cm²", "w_per_cm2", 1e4),
        Response.Dose => ("J/cm²", "j_per_cm2", 1e4),
        _ => ("%", "percent", 0.01),
    };

    /// <summary>How sure the rectangle is: a confidence over simulated lifetimes, or a share of worlds that is limited by how many there are.</summary>
    public static string Sure(WindowCase study)
    {
        ArgumentNullException.ThrowIfNull(study);
        return study.Worlds > 1 ? $"in {Format.PerCent(study.Study.Confidence)} of {Format.Count(study.Worlds)} worlds" : $"with {Format.PerCent(study.Study.Confidence)} confidence";
    }

    /// <summary>That the set-point lies where a reading calls for action, and what to set instead; nothing when it does not.</summary>
    public static string BeyondReadings(WindowResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var study = result.Map.Case;
        return !result.SetPointIsActedOn ? ""
            : $"; the set-point's own {At(study.X, result.Map.SetPoint.X)} lies beyond them, so a cell set there would be acted on at once: "
                + (result.WithinReadings is { } node ? $"where readings are judged by them set {At(study, node.X, node.Y)}, margin {Margin(WindowMap.Unfavourable(node))}" : "no setting of the map lies between them");
    }

    /// <summary>What binds at a contour point or node.</summary>
    public static string Binds(WindowCase study, int limit, bool fraction) =>
        $"{study.Limits[limit].Name} ({(fraction ? "conforming fraction" : "state index")})";

    /// <summary>A state index margin with sign.</summary>
    public static string Margin(double value) => (value >= 0.0 ? "+" : "") + Format.Fixed(value, 2);

    /// <summary>A change of a margin with its interval.</summary>
    public static string Change(Estimate e) => e is { Lower95: { } low, Upper95: { } high } ? $"{Margin(e.Get())} ({Margin(low)} to {Margin(high)})" : $"{Margin(e.Get())} (no interval)";

    /// <summary>An estimate in per cent with its interval.</summary>
    public static string PerCent(Estimate estimate) => estimate is { Value: { } v, Lower95: { } l, Upper95: { } u }
        ? u - l < 1e-6 ? Format.PerCent(v) : Format.Interval(100.0 * v, 100.0 * l, 100.0 * u, "%")
        : estimate.Withheld ?? "withheld";

    /// <summary>A share of lifetimes; one that is withheld because all or none have it is told without the reason, which the tables give.</summary>
    public static string Chance(Estimate estimate) => estimate.Value is null && estimate.Withheld is { } reason ? reason.Split(',')[0] : PerCent(estimate);

    /// <summary>Acceptance at a point, in words.</summary>
    public static string Limits(Scenario cell) => string.Join("; ", cell.Window.Limits.Select(l =>
    {
        var (unit, _, si) = UnitOf(l.Response);
        return $"{LimitSide.WordOf(l.Response)} {(l.Lower is { } a && l.Upper is { } b ? $"{Format.Value(a / si)} to {Format.Value(b / si, unit)}" : l.Lower is { } low ? $"at least {Format.Value(low / si, unit)}" : $"at most {Format.Value(l.Upper!.Value / si, unit)}")}";
    }));
}

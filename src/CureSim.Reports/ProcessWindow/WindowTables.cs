using CureSim.Core.Statistics;
using CureSim.Reports.Plans;
using CureSim.Reports.Tables;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>The tables of the process-window study.</summary>
public static class WindowTables
{
    /// <summary>Tables for files.</summary>
    public static IEnumerable<Table> Of(WindowResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        yield return Map(result.Map);
        yield return Edges(result.Map);
        yield return Recommended(result.Map);
        yield return Compared(result);
        if (!result.Spreads.IsEmpty)
        {
            yield return Spreads(result);
        }

        if (!result.Challenges.IsEmpty)
        {
            yield return ProtocolTables.Protocol(result);
            yield return ProtocolTables.Conditions(result);
            yield return ProtocolTables.Predicted(result);
            yield return ProtocolTables.Triggers(result);
        }

        if (result.Assurance is { } assurance)
        {
            yield return ProtocolTables.Assured(assurance);
        }

        if (result.Actions is { } actions)
        {
            yield return ProtocolTables.Actions(actions);
        }

        if (!result.Challenges.IsEmpty)
        {
            foreach (var plan in PlanTables.Of(result.Plans))
            {
                yield return plan.Table;
            }
        }
    }

    private static Table Map(WindowMap map)
    {
        var study = map.Case;
        var table = new Table("window_map",
        [
            Number(WindowWords.Header(study.X)), Number(WindowWords.Header(study.Y)), Number("nonconforming_ppm"), Number("nonconforming_worlds_p05_ppm"), Number("nonconforming_worlds_p95_ppm"),
            Number("state_index_p05"), Number("margin_conforming"), Number("margin_conforming_se"), Number("margin_state"), Number("margin_state_se"), Number("smallest_margin"),
            Number("smallest_margin_worlds_p05"), Text("binds"), .. study.Limits.Select(l => Number("margin_" + l.Id)), Text("judged"),
        ]);
        foreach (var n in map.Nodes.SelectMany(c => c))
        {
            bool worlds = study.Worlds > 1;
            table.Add(
            [
                n.X, n.Y, 1e6 * n.Nonconforming.Average(), worlds ? 1e6 * SampleQuantile.Of(n.Nonconforming, 0.05) : (double?)null, worlds ? 1e6 * SampleQuantile.Of(n.Nonconforming, 0.95) : (double?)null,
                n.State.Mean + study.Required, n.Conforming.Mean, ErrorOf(n.Conforming), n.State.Mean, ErrorOf(n.State), n.Smallest, worlds ? WindowMap.Unfavourable(n) : (double?)null,
                WindowWords.Binds(study, n.Binding, n.FractionIsNearer), .. n.Own.Select(o => (Cell)o.Mean), n.Interpolated ? "interpolated" : "judged",
            ]);
        }

        return table;
    }

    // Over worlds: the error of the mean of their figures.
    private static double ErrorOf(Margins m) => m.Value.Length == 1 ? m.Error[0] : Math.Sqrt(m.Value.Sum(v => (v - m.Mean) * (v - m.Mean)) / (m.Value.Length - 1) / m.Value.Length);

    private static Table Edges(WindowMap map)
    {
        var study = map.Case;
        string y = WindowWords.Header(study.Y);
        var table = new Table("window_edges",
        [
            Number(WindowWords.Header(study.X)), Text("edge"), Number(y), Number(y + "_lower95"), Number(y + "_upper95"), Number(y + "_worlds_p05"), Number(y + "_worlds_p95"), Text("binds"), Text("withheld"),
        ]);
        foreach (var c in map.Crossings)
        {
            table.Add(c.X, c.Rising ? "lower" : "upper", c.Y, Finite(c.Lower95), Finite(c.Upper95), c.Band?.Lower05, c.Band?.Upper95, WindowWords.Binds(study, c.Binding, c.FractionBinds), c.Band?.Withheld);
        }

        return table;
    }

    private static double? Finite(double value) => double.IsFinite(value) ? value : null;

    private static Table Recommended(WindowMap map)
    {
        var study = map.Case;
        string x = WindowWords.Header(study.X), y = WindowWords.Header(study.Y);
        var table = new Table("recommended", [Text("what"), Number(x + "_from"), Number(x + "_to"), Number(y + "_from"), Number(y + "_to"), Number("smallest_margin"), Number("confidence_percent"), Text("remark")]);
        var p = map.SetPoint;
        table.Add("set-point", p.X, p.X, p.Y, p.Y, WindowMap.Unfavourable(p), (double?)null, map.IsEmpty ? "the window is empty: the best that the map holds" : "largest smallest margin");
        if (map.Rectangle is { } r)
        {
            table.Add("operating rectangle", r.FromX, r.ToX, r.FromY, r.ToY, r.LeastBound, 100.0 * study.Study.Confidence, r.ReachesEnd(map) ? "reaches the end of the map" : "within the map");
        }

        if (study.Own is var (ox, oy))
        {
            table.Add("setting of the scenario", ox, ox, oy, oy, (double?)null, (double?)null, map.Rectangle is { } w ? Inside(w, ox, oy) : "no rectangle");
        }

        return table;
    }

    /// <summary>How a pair of settings lies to the rectangle.</summary>
    internal static string Inside(OperatingRectangle r, double x, double y) =>
        x < r.FromX || x > r.ToX || y < r.FromY || y > r.ToY ? "beyond the rectangle"
        : x == r.FromX || x == r.ToX || y == r.FromY || y == r.ToY ? "touching its edge" : "inside the rectangle";

    private static Table Compared(WindowResult result)
    {
        var table = new Table("limits_compared", [Text("limit"), Text("unit"), Number("limit_value"), new("nearest_corner", ColumnKind.Number, "At the nearest corner"), new("room", ColumnKind.Number, "Room, logarithm of the ratio (degree of cure: difference)"), Text("verdict")]);
        foreach (var c in result.Comparisons)
        {
            var (unit, _, si) = WindowWords.UnitOf(c.Limit.Response);
            table.Add(c.Limit.Name, unit, c.Limit.Value / si, c.Nearest / si, c.Room, c.Verdict);
        }

        return table;
    }

    private static Table Spreads(WindowResult result)
    {
        var table = new Table("spreads_halved",
        [
            new("spread", ColumnKind.Text, "Spread that is halved"), new("smallest_margin", ColumnKind.Number, "Smallest margin, state index"), new("change", ColumnKind.Number, "Change of it"), Number("change_lower95"), Number("change_upper95"),
            new("margin_se", ColumnKind.Number, "Standard error of the margin"), Number(WindowWords.Header(result.Map.Case.Y)), new("opens", ColumnKind.Text, "Opens the window"),
        ]);
        foreach (var e in result.Spreads)
        {
            table.Add(e.Spread.Name, e.Margin, e.Change.Value, e.Change.Lower95, e.Change.Upper95, e.Error, e.Y, !result.Map.IsEmpty ? "open already" : e.Margin >= 0.0 ? "yes" : "no");
        }

        if (result.TwoSpreads is var (a, b, margin) && result.Map.IsEmpty)
        {
            table.Add($"{a.Spread.Name} and {b.Spread.Name}", margin, margin - WindowMap.Unfavourable(result.Map.SetPoint), (double?)null, (double?)null, (double?)null, (double?)null, margin >= 0.0 ? "yes" : "no");
        }

        return table;
    }

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);
}

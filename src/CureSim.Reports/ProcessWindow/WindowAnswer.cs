using CureSim.Core.Cell;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>The answer of the window study in about ten lines for a terminal.</summary>
public static class WindowAnswer
{
    /// <summary>What was mapped.</summary>
    public static string Heading(WindowResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var (map, study) = (result.Map, result.Map.Case);
        var run = study.Cell.Run;
        string worlds = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds × " : "";
        return $"{study.Cell.Name}: {Format.Count(map.X.Length)} × {Format.Count(map.Y.Length)} settings, each over the same {worlds}{Format.Count(run.LifetimesPerWorld)} lifetimes, seed {run.Seed}";
    }

    /// <summary>The lines.</summary>
    public static IReadOnlyList<AnswerLine> Of(WindowResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var map = result.Map;
        var study = map.Case;
        var lines = new List<AnswerLine> { Window(result), SetPoint(map) };
        lines.AddRange(new[] { Own(map), Edges(map) }.OfType<AnswerLine>());
        if (!result.Comparisons.IsEmpty)
        {
            lines.Add(new("against limits", string.Join("; ", result.Comparisons.Select(Compared))));
        }

        if (!result.Spreads.IsEmpty)
        {
            lines.Add(Spread(result));
        }

        var challenges = result.Challenges.Where(c => c.Name is "lowest dose" or "highest dose").ToArray();
        if (challenges.Length > 0)
        {
            lines.Add(new("challenges", string.Join("; ", challenges.Select(p => $"{p.Name} at {WindowWords.At(study, p.X, p.Y)}: {WindowWords.PerCent(p.Conforming)} of parts conform, all {p.Parts} do with {WindowWords.PerCent(p.Pass)} chance")), challenges.All(p => p.Pass.Value >= 0.8) ? AnswerTone.Plain : AnswerTone.Missed));
        }

        if (result.Assurance is { } assurance)
        {
            lines.Add(new("plans", string.Join("; ", assurance.Plans.Select(p => p.Own.Figures(p.Rule.Plan.Good) is { } f
                ? $"{p.Rule.Plan.Name} of {p.Rule.Plan.Parts}: passes {WindowWords.Chance(f.Pass.Estimate)}, passes while not good {WindowWords.Chance(f.PassAndNotGood.Estimate)}"
                : $"{p.Rule.Plan.Name}: {p.Own.Withheld}"))));
        }

        if (result.Actions is { } actions && actions.Rows[0] is { } row)
        {
            lines.Add(new("act on readings", row.Lower is { } low && row.Upper is { } high
                ? $"below {Format.Value(low)} or above {Format.Value(high, "W/cm²")}: a guard band of {Format.PerCent(row.Width)} for the radiometer's u = {Format.PerCent(actions.Uncertainty)}{WindowWords.BeyondReadings(result)}"
                : $"no room is left by the radiometer's u = {Format.PerCent(actions.Uncertainty)}: {row.Withheld}"));
        }

        lines.Add(new("brackets", study.Worlds > 1 ? "(…) 95 % Monte-Carlo intervals, […] 5 to 95 % of worlds; margins are in state index, 0 is the requirement" : "(…) 95 % Monte-Carlo intervals; margins are in state index, 0 is the requirement"));
        return lines;
    }

    private static AnswerLine Window(WindowResult result)
    {
        var map = result.Map;
        var study = map.Case;
        string requirement = $"at most {Format.PartsPerMillion(study.Study.NonconformingLimit)} nonconforming, 19 cells in 20 at state index {Format.Value(study.Required)} or more before a check";
        if (map.IsEmpty)
        {
            var best = map.SetPoint;
            var binding = Enumerable.Range(0, best.Own.Length).Where(r => best.Own[r].Mean < 0.0).ToArray();
            string names = string.Join(" and ", (binding.Length > 0 ? binding : [best.Binding]).Select(r => study.Limits[r].Name));
            return new("window", $"empty: no setting of the map meets {requirement}; nearest {WindowWords.At(study, best.X, best.Y)}, margin {WindowWords.Margin(WindowMap.Unfavourable(best))}, where the {names} bind", AnswerTone.Missed);
        }

        if (map.Rectangle is not { } r)
        {
            return new("window", $"settings meet {requirement}, but no rectangle of settings holds it {WindowWords.Sure(study)}: more lifetimes, more nodes, or less spread", AnswerTone.Missed);
        }

        string end = r.ReachesEnd(map) ? "; it reaches the end of the map, so it may be larger" : "";
        return new("window", $"{WindowWords.Range(study.X, r.FromX, r.ToX)} by {WindowWords.Range(study.Y, r.FromY, r.ToY)} ({WindowWords.Sure(study)} at all {r.Nodes} settings together): {requirement}{end}", AnswerTone.Met);
    }

    private static AnswerLine SetPoint(WindowMap map)
    {
        var p = map.SetPoint;
        string band = map.Case.Worlds > 1 ? $", in 19 of 20 worlds at least {WindowWords.Margin(WindowMap.Unfavourable(p))}" : "";
        return new(map.IsEmpty ? "nearest" : "set-point", $"{WindowWords.At(map.Case, p.X, p.Y)}: smallest margin {WindowWords.Margin(p.Smallest)} ({WindowWords.Margin(p.Smallest - (1.96 * p.Error))} to {WindowWords.Margin(p.Smallest + (1.96 * p.Error))}){band}; nearest is the {WindowWords.Binds(map.Case, p.Binding, p.FractionIsNearer)}");
    }

    private static AnswerLine? Own(WindowMap map)
    {
        if (map.Case.Own is not var (x, y))
        {
            return null;
        }

        string where = !Covers(map, x, y) ? "outside the map" : map.Rectangle is { } r ? WindowTables.Inside(r, x, y) : "there is no rectangle";
        string margin = map.Own is { } own ? $", smallest margin {WindowWords.Margin(own.Smallest)} ({WindowWords.Margin(own.Smallest - (1.96 * own.Error))} to {WindowWords.Margin(own.Smallest + (1.96 * own.Error))}), {Format.Value(1e6 * own.Nonconforming.Average(), "ppm", 2)} nonconforming" : "";
        return new("set today", $"{WindowWords.At(map.Case, x, y)}: {where}{margin}");
    }

    private static bool Covers(WindowMap map, double x, double y) => x >= map.X[0] && x <= map.X[^1] && y >= map.Y[0] && y <= map.Y[^1];

    private static AnswerLine? Edges(WindowMap map)
    {
        double x = map.SetPoint.X;
        var edges = map.Crossings.Where(c => c.X == x).ToArray();
        if (edges.Length == 0)
        {
            return null;
        }

        string Told(Crossing c) => $"{(c.Rising ? "from" : "to")} {(double.IsFinite(c.Lower95) && double.IsFinite(c.Upper95) ? Format.Interval(c.Y, Math.Min(c.Y, c.Lower95), Math.Max(c.Y, c.Upper95), map.Case.Y.Unit) : WindowWords.At(map.Case.Y, c.Y))}"
            + (c.Band is { Lower05: { } l, Upper95: { } u } ? $" [{Format.Value(l, null, 3)} to {Format.Value(u, null, 3)}]" : "") + $", {map.Case.Limits[c.Binding].Name}";
        return new("edges", $"at {WindowWords.At(map.Case.X, x)}: {string.Join("; ", edges.Select(Told))}");
    }

    private static string Compared(LimitComparison c)
    {
        var (unit, _, si) = WindowWords.UnitOf(c.Limit.Response);
        return $"{c.Limit.Name} {c.Verdict} (nominal {Format.Value(c.Nearest / si, unit, 3)})";
    }

    private static AnswerLine Spread(WindowResult result)
    {
        string Told(SpreadEffect e) => $"{e.Spread.Name} {WindowWords.Change(e.Change)}";
        if (!result.Map.IsEmpty)
        {
            return new("spreads", $"halved, one at a time, the margin moves by: {string.Join(", ", result.Spreads.Take(3).Select(Told))}");
        }

        var first = result.Spreads[0];
        if (first.Change.Get() < 0.005 && first.Margin < 0.0)
        {
            return new("would open it", "no spread halved moves the nearest settings: they are too far from any that hold, map another range" + (result.Map.Own is { Smallest: >= 0.0 } ? " (the settings of today hold)" : ""), AnswerTone.Missed);
        }

        return first.Margin >= 0.0 ? new("would open it", $"half the spread of {first.Spread.Name}: margin {WindowWords.Margin(first.Margin)}")
            : result.TwoSpreads is var (a, b, both) && both >= 0.0 ? new("would open it", $"half the spreads of {a.Spread.Name} and {b.Spread.Name} together: margin {WindowWords.Margin(both)}; neither alone does")
            : new("would open it", $"no single spread halved, nor the two largest together; most is gained with {string.Join(", ", result.Spreads.Take(3).Select(Told))}", AnswerTone.Missed);
    }
}

using System.Collections.Immutable;
using System.Text.Json.Nodes;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Folders;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;
using CureSim.Studies.Fit;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Fit;

/// <summary>Answer, tables and picture of a running cell's time left.</summary>
public static class TimeLeftFiles
{
    private const double Left = 0.005;

    /// <summary>The answer.</summary>
    /// <param name="found">The forecast.</param>
    /// <param name="log">How the log was read; null: not told.</param>
    public static ImmutableArray<AnswerLine> Answer(TimeLeft found, FitContext? log = null) =>
        log is null ? Lines(found) : Lines(found).Add(new("Columns", string.Join(", ", log.Columns.Select(c => $"{c.Role} = {PlainText.OneLine(c.Header)}{(c.Guessed ? "" : " (said)")}"))));

    private static ImmutableArray<AnswerLine> Lines(TimeLeft found)
    {
        ArgumentNullException.ThrowIfNull(found);
        var lines = ImmutableArray.CreateBuilder<AnswerLine>();
        if (found.Withheld is { } why)
        {
            return [new("Time to requalify", $"withheld: {why}")];
        }

        if (found.Origin is { } origin)
        {
            Excursion(lines, origin);
        }
        else
        {
            lines.Add(new("Time to requalify", $"{Middle(found.Cell!)} from now; 80 % of such cells: {Range(found.Cell!)}"));
            if (found.NotJudged is { } notJudged)
            {
                lines.Add(new("Excursion", $"not judged: {notJudged}", AnswerTone.Missed));
            }

            lines.Add(new("The fleet", $"{Middle(found.Fleet!)}; 80 %: {Range(found.Fleet!)} (all cells that come to {Format.Hours(found.NowHours)})"));
        }

        lines.Add(new("Read so far", $"{Format.Count(found.Checks)} as-found readings in {Format.Hours(found.NowHours)}"));
        lines.Add(new("Lifetimes", $"{Format.Count(found.Lifetimes)} simulated, {Format.Count(found.Alive)} come so far" + (found.Origin is null ? $"; {Format.Count((long)found.Weights.Effective)} effective after weighting by what was read" : "")));
        if (found.Origin is null)
        {
            lines.Add(new("Weights", found.Weights.Widening <= 1.0 ? "by the readings' own error" : $"readings' error widened {Format.Value(found.Weights.Widening, "times", 2)} to keep {Format.Value(HistoryWeights.LeastEffective)} effective lifetimes"
            + (found.Moved ? "; times moved by regression to where this cell stands" : "")));
        }

        if (FewWorlds(found) is { } few)
        {
            lines.Add(new("Intervals", few));
        }

        lines.Add(found.Weights.Chance < HistoryWeights.Contradiction
            ? new("Log and scenario", $"the log contradicts the scenario: {Format.PerCent(found.Weights.Chance)} of simulated cells lie as far out; the figures above rest on the scenario, not on this cell", AnswerTone.Missed)
            : new("Log and scenario", $"no contradiction: {Format.PerCent(found.Weights.Chance)} of simulated cells lie as far from the others"));
        return lines.ToImmutable();
    }

    /// <summary>That errors are by lifetime because worlds are too few; null where they are enough, or one.</summary>
    internal static string? FewWorlds(TimeLeft found) => found.TooFewWorlds == 0 ? null
        : $"by lifetime, not by world: {Format.Count(found.TooFewWorlds)} worlds are too few to bear an error of their own ({Format.Count(MonteCarloUnit.LeastWorlds)} at least), so they say nothing of how far what is unknown moves the answer";

    /// <summary>Adds the files.</summary>
    public static void Add(ResultFolder folder, TimeLeft found, string name, string sha256, FitContext log, bool plots, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(found);
        folder.Add("summary.json", Summary(found, name, sha256, log).ToBytes());
        RunFiles.AddTables(folder, [FitTables.Columns(log), .. found.Withheld is null ? Tables(found) : []], cancel);
        if (plots && !found.Curve.IsEmpty)
        {
            RunFiles.AddPlots(folder, [("time_left", Picture(found))], cancel);
        }

        if (plots && found.Origin is { Withheld: null } origin)
        {
            RunFiles.AddPlots(folder, [("excursion_start", StartPicture(origin))], cancel);
        }
    }

    /// <summary>summary.json.</summary>
    public static SummaryDocument Summary(TimeLeft found, string name, string sha256, FitContext log)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(log);
        var document = new SummaryDocument("time-left", name);
        var root = document.Root.Text("scenarioSha256", sha256).Text("log", log.File).Text("logSha256", log.Sha256).Number("nowHours", found.NowHours, "the log has no clock").Count("asFoundReadings", found.Checks)
            .Count("lifetimes", found.Lifetimes).Count("alive", found.Alive).Number("effectiveLifetimes", found.Weights.Effective).Number("widening", found.Weights.Widening).Number("chanceAsFarOut", found.Weights.Chance);
        root.Add("contradicts", found.Weights.Chance < HistoryWeights.Contradiction);
        FitSummary.AddColumns(root, log);
        root.Text("withheld", found.Withheld).Text("excursionNotJudged", found.NotJudged);
        foreach (var (who, time) in new[] { ("cellHours", found.Cell), ("fleetHours", found.Fleet) })
        {
            if (time is not null)
            {
                root.Object(who).Number("p10", time.Low.Value, time.Low.Withheld).Number("p50", time.Middle.Value, time.Middle.Withheld).Number("p90", time.High.Value, time.High.Withheld);
            }
        }

        if (found.Origin is { } o)
        {
            var target = root.Object("excursion").Text("site", o.Site).Number("deviation", o.Deviation).Number("bracketHours", o.BracketHours).Text("withheld", o.Withheld);
            target.Number("beganSinceLastCheck", o.SinceLastCheck.Value, o.SinceLastCheck.Withheld).Number("beganEarlier", o.Earlier.Value, o.Earlier.Withheld).Number("stillQualified", o.StillQualified.Value, o.StillQualified.Withheld);
            Json(target, "contained", o.Contained);
            Json(target, "sureHoursAgo", o.SureHoursAgo);
            target.Number("sure", ExcursionOrigin.Sure);
            Json(target, "beganHoursAgo", o.BeganHoursAgo);
            target.Number("effectiveLifetimes", o.Effective);
            target.Number("historyWidening", double.IsFinite(o.Widening) ? o.Widening : null, "history is not looked at: too few share it");
            var causes = target.Array("causes");
            foreach (var c in o.Causes)
            {
                var one = new JsonObject().Text("cause", c.Name).Number("chance", c.Chance.Value, c.Chance.Withheld).Number("lower95", c.Chance.Lower95, c.Chance.Withheld).Number("upper95", c.Chance.Upper95, c.Chance.Withheld);
                Json(one, "beganHoursAgo", c.BeganHoursAgo);
                causes.Add(one);
            }
        }

        MachineDigits.Apply(root);
        return document;
    }

    private static void Excursion(ImmutableArray<AnswerLine>.Builder lines, ExcursionOrigin o)
    {
        string site = o.Site.Length > 0 ? $" at site {PlainText.OneLine(o.Site)}" : "";
        lines.Add(new("Found today", $"{Format.Value(100.0 * o.Deviation, "%", 3)} from target{site}: outside the action limit, so this is about where it came from", AnswerTone.Missed));
        if (o.Withheld is { } why)
        {
            lines.Add(new("Origin", $"withheld: {why}"));
            return;
        }

        lines.Add(new("Containment", $"the bracket since the check {Format.Hours(o.BracketHours)} ago holds all that was made out of the qualified state with {Chance(o.Contained)}; for {Format.Value(100.0 * ExcursionOrigin.Sure, "%")} go back {Hours(o.SureHoursAgo)}"));
        lines.Add(new("State", $"lost since that check: {Chance(o.SinceLastCheck)}; lost before it: {Chance(o.Earlier)}; still qualified: {Chance(o.StillQualified)}"));
        lines.Add(new("Began", o.BeganHoursAgo is { } b ? $"{Hours(b.P50)} ago (median, where it did); 80 %: {Hours(b.P10)} to {Hours(b.P90)} ago; {Format.Count((long)b.Effective)} effective lifetimes" : "no simulated excursion is like it"));
        lines.Add(new("Cause", string.Join(", ", o.Causes.Take(3).Select(c => $"{c.Name} {Chance(c.Chance)}"))));
        lines.Add(new("Rests on", $"{Format.Count((long)o.Effective)} effective lifetimes that read so, {(double.IsFinite(o.Widening) ? $"after a history like this cell's (its error widened {Format.Value(o.Widening, "times", 2)})" : "whatever their history: too few share this cell's")}; brackets: 95 % Monte-Carlo intervals"));
    }

    internal static string Chance(Estimate e) => e.Value is { } v ? Format.Interval(100.0 * v, 100.0 * e.Lower95!.Value, 100.0 * e.Upper95!.Value, "%") : $"withheld: {e.Withheld}";

    /// <summary>A time with its Monte-Carlo interval.</summary>
    internal static string Hours(Estimate e) => e.Value is not { } v ? $"withheld: {e.Withheld}" : e is { Lower95: { } l, Upper95: { } u } && u > l ? Format.Interval(v, l, u, "h") : Format.Hours(v);

    private static void Json(JsonObject target, string name, Estimate e) =>
        target.Object(name).Number("value", e.Value, e.Withheld).Number("lower95", e.Lower95, e.Withheld ?? "none is stated").Number("upper95", e.Upper95, e.Withheld ?? "none is stated");

    private static void Json(JsonObject target, string name, StartTime? start)
    {
        if (start is null)
        {
            target.Text(name, null);
            return;
        }

        var times = target.Object(name);
        foreach (var (key, e) in new[] { ("p05", start.P05), ("p10", start.P10), ("p50", start.P50), ("p90", start.P90), ("p95", start.P95) })
        {
            Json(times, key, e);
        }

        times.Number("effectiveLifetimes", start.Effective);
    }

    private static string Middle(RemainingTime t) => t.Middle.Value is { } m ? $"{Format.Hours(m)} (median; {Ends(t.Middle)} by the number of lifetimes)" : "beyond the horizon (median)";

    private static string Ends(Estimate e) => $"{(e.Lower95 is { } l ? Format.Hours(l) : "?")} to {(e.Upper95 is { } u ? Format.Hours(u) : "beyond the horizon")}";

    private static string Range(RemainingTime t) => $"{(t.Low.Value is { } l ? Format.Hours(l) : "beyond the horizon")} to {(t.High.Value is { } h ? Format.Hours(h) : "beyond the horizon")}";

    private static IEnumerable<Table> Tables(TimeLeft found)
    {
        if (found.Cell is not null)
        {
            var table = new Table("time_left", new Column("who", ColumnKind.Text), new Column("quantile_percent", ColumnKind.Number), new Column("hours", ColumnKind.Number), new Column("monte_carlo_lower95_hours", ColumnKind.Number), new Column("monte_carlo_upper95_hours", ColumnKind.Number), new Column("withheld", ColumnKind.Text));
            foreach (var (who, t) in new[] { ("this cell", found.Cell), ("fleet", found.Fleet!) })
            {
                foreach (var (p, e) in new[] { (10, t.Low), (50, t.Middle), (90, t.High) })
                {
                    table.Add(who, p, e.Value, e.Lower95, e.Upper95, e.Withheld);
                }
            }

            yield return table;
        }

        if (!found.Curve.IsEmpty)
        {
            var table = new Table("still_running", Number("hours_from_now"), Number("cell_percent"), Number("cell_lower95_percent"), Number("cell_upper95_percent"), Number("fleet_percent"), Number("fleet_lower95_percent"), Number("fleet_upper95_percent"));
            foreach (var c in found.Curve)
            {
                table.Add(c.Hours, 100.0 * c.Cell, 100.0 * c.CellLow, 100.0 * c.CellHigh, 100.0 * c.Fleet, 100.0 * c.FleetLow, 100.0 * c.FleetHigh);
            }

            yield return table;
            static Column Number(string header) => new(header, ColumnKind.Number);
        }

        if (found.Origin is { Withheld: null } o)
        {
            var causes = new Table("excursion_causes",
                new Column("cause", ColumnKind.Text), new Column("chance", ColumnKind.Number), new Column("lower95", ColumnKind.Number), new Column("upper95", ColumnKind.Number), new Column("began_hours_ago_p10", ColumnKind.Number),
                new Column("began_hours_ago_p50", ColumnKind.Number), new Column("began_hours_ago_p90", ColumnKind.Number), new Column("effective_lifetimes", ColumnKind.Number));
            foreach (var c in o.Causes)
            {
                causes.Add(c.Name, c.Chance.Value, c.Chance.Lower95, c.Chance.Upper95, c.BeganHoursAgo?.P10.Value, c.BeganHoursAgo?.P50.Value, c.BeganHoursAgo?.P90.Value, c.BeganHoursAgo?.Effective);
            }

            yield return causes;

            var figures = new Table("excursion", new Column("figure", ColumnKind.Text), new Column("unit", ColumnKind.Text), new Column("value", ColumnKind.Number), new Column("monte_carlo_lower95", ColumnKind.Number), new Column("monte_carlo_upper95", ColumnKind.Number));
            void Add(string figure, string unit, Estimate e, double factor = 1.0) => figures.Add(figure, unit, e.Value * factor, e.Lower95 * factor, e.Upper95 * factor);
            Add("made out of the qualified state since the check before only", "%", o.Contained, 100.0);
            Add("began since the check before", "%", o.SinceLastCheck, 100.0);
            Add("began before that check", "%", o.Earlier, 100.0);
            Add("still qualified", "%", o.StillQualified, 100.0);
            Add("to go back for 95 %", "h", o.SureHoursAgo);
            if (o.BeganHoursAgo is { } b)
            {
                foreach (var (p, e) in new[] { (5, b.P05), (10, b.P10), (50, b.P50), (90, b.P90), (95, b.P95) })
                {
                    Add(FormattableString.Invariant($"began ago where it did, {p} % quantile"), "h", e);
                }
            }

            yield return figures;

            var held = new Table("excursion_start", new Column("hours_before_finding", ColumnKind.Number), new Column("held_percent", ColumnKind.Number), new Column("held_lower95_percent", ColumnKind.Number), new Column("held_upper95_percent", ColumnKind.Number));
            foreach (var (hours, chance) in o.Held)
            {
                held.Add(hours, 100.0 * chance.Value, 100.0 * chance.Lower95, 100.0 * chance.Upper95);
            }

            yield return held;
        }
    }

    /// <summary>How far to go back: the cumulative probability of the start, over what is still qualified.</summary>
    internal static Figure StartPicture(ExcursionOrigin o)
    {
        ImmutableArray<double> x = [.. o.Held.Select(h => h.HoursAgo)];
        ImmutableArray<double> Per(Func<Estimate, double> of) => [.. o.Held.Select(h => 100.0 * of(h.Chance))];
        return new Figure
        {
            Title = "How far back must parts be held?",
            Subtitle = $"Chance that the state was lost within that time before the finding, or is still qualified ({Format.PerCent(o.StillQualified.Value ?? 0.0)}, at 0 h); {Format.Count((long)o.Effective)} effective lifetimes that read like this one. Band: 95 % Monte-Carlo interval at each time.",
            X = new Axis("Time before the finding", "h") { From = 0.0 },
            Y = new Axis("Chance that all unqualified production lies since then", "%") { From = 0.0, To = 100.0 },
            Layers =
            [
                new Band(x, Per(e => e.Lower95 ?? 0.0), Per(e => e.Upper95 ?? 1.0), null, Tone.First),
                new Line(x, Per(e => e.Value ?? 0.0), "held", Tone.First),
                new Percentiles([new($"bracket: check {Format.Hours(o.BracketHours)} before", o.BracketHours)]),
                new Target(Along.Y, 100.0 * ExcursionOrigin.Sure, $"{Format.Value(100.0 * ExcursionOrigin.Sure, "%")} sure"),
            ],
        };
    }

    internal static Figure Picture(TimeLeft found)
    {
        // The last cells of a fleet go on long: the axis ends where one in two hundred is left.
        var curve = found.Curve.TakeWhile(c => c.Cell > Left || c.Fleet > Left || c.FleetHigh > 2.0 * Left).ToImmutableArray();
        curve = curve.Length < 2 ? found.Curve : curve;
        ImmutableArray<double> x = [.. curve.Select(c => c.Hours)];
        return new Figure
        {
            Title = "How long will this cell go on?",
            Subtitle = $"Share of cells not yet to be requalified, from {Format.Hours(found.NowHours)} on: cells like this one by {Format.Count(found.Checks)} readings ({Format.Count((long)found.Weights.Effective)} effective lifetimes), and all that come so far ({Format.Count(found.Alive)}). Bands: 95 % Monte-Carlo intervals at each time.",
            X = new Axis("Time from now", "h") { From = 0.0 },
            Y = new Axis("Cells still running", "%") { From = 0.0, To = 100.0 },
            Layers =
            [
                new Band(x, [.. curve.Select(c => 100.0 * c.FleetLow)], [.. curve.Select(c => 100.0 * c.FleetHigh)], null, Tone.Second, Stepped: true),
                new Band(x, [.. curve.Select(c => 100.0 * c.CellLow)], [.. curve.Select(c => 100.0 * c.CellHigh)], null, Tone.First, Stepped: true),
                new Line(x, [.. curve.Select(c => 100.0 * c.Fleet)], "fleet", Tone.Second, Stepped: true),
                new Line(x, [.. curve.Select(c => 100.0 * c.Cell)], "this cell", Tone.First, Stepped: true),
            ],
        };
    }
}

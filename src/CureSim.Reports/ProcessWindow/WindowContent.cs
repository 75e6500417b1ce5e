using CureSim.Core.Cell;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>What the report of a process-window study says.</summary>
public static class WindowContent
{
    /// <summary>The content.</summary>
    /// <param name="result">The study.</param>
    /// <param name="context">The scenario's texts.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(WindowResult result, RunContext context, bool plots)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(context);
        var map = result.Map;
        var study = map.Case;
        var lines = WindowAnswer.Of(result);
        string Line(string label) => lines.FirstOrDefault(l => l.Label == label)?.Text ?? "";
        var figures = plots ? CommonTexts.Items(WindowPlots.Of(result), Caption) : [];
        var tables = WindowTables.Of(result).ToDictionary(t => t.Name);
        ReportItem[] Table(string name, string caption, params string[] leave) => tables.TryGetValue(name, out var t) && t.Rows.Count > 0
            ? [ReportItem.Of(PageTable.Of(t, true, [.. t.Columns.Select(c => c.Header).Where(h => !leave.Contains(h))]), caption)] : [];
        ReportItem[] Figures(params string[] names) => [.. names.Where(figures.ContainsKey).Select(n => figures[n])];
        var common = CommonTexts.Base("window", study.Cell, context);
        var basis = TypicalBasis.Of(context.Inputs, study.Cell.Run.Worlds);
        var judgement = basis.Judge(lines[0].Tone == AnswerTone.Met);
        return common with
        {
            Question = "Which settings may a protocol print, and how sure is that?",
            Judgement = judgement,
            Decision = map.Rectangle is { } r && !map.IsEmpty
                ? $"{(judgement == Judgement.Provisional ? "Provisional: validate" : "Validate")} {WindowWords.Range(study.X, r.FromX, r.ToX)} by {WindowWords.Range(study.Y, r.FromY, r.ToY)}"
                : map.IsEmpty ? "No setting holds the requirement" : "No rectangle of settings holds the requirement",
            Answer = $"Window: {lines[0].Text}. Set-point: {Line("set-point")}.",
            HowSure = common.HowSure + " The rectangle holds at all its settings together, with the stated confidence; margins are in state index, 0 is the requirement.",
            LargestAssumption = LargestAssumption(result, context),
            Lines = judgement == Judgement.Provisional ? [.. lines.Select(l => l.Tone == AnswerTone.Met ? l with { Tone = AnswerTone.Plain } : l)] : [.. lines],
            Decisive = figures.GetValueOrDefault("window_map") ?? ReportItem.Of(Recommended(result), "Set-point and rectangle."),
            Evidence =
            [
                new(Reader.Line, "settings, margins and when to act", [ForLine(result), $"Limits of the scenario: {WindowWords.Limits(study.Cell)}."],
                    [.. figures.Count > 0 ? [ReportItem.Of(Recommended(result), "Set-point and rectangle.")] : Array.Empty<ReportItem>(), .. Table("action_limits", "Limits on readings, with the guard band of the radiometer's uncertainty."), .. Figures("margins_up", "margins_along")]),
                new(Reader.Validation, "edges, challenges and the plan", [.. ForValidation(result)],
                [
                    .. Figures("window_edges"), .. Table("limits_compared", "The limits against the nominal bond at the corners of the rectangle."), .. Table("spreads_halved", "Margin at the set-point's irradiance with one spread halved, the largest gain first.", map.IsEmpty ? ["margin_se"] : ["margin_se", "opens"]),
                    .. Table("protocol", "Points of the protocol with their predicted results.", "result", "verdict"), .. Table("plan_assurance", "Chance that each plan passes, and that it passes while the cell is not good."),
                    .. Table("requalification_triggers", "What would call for requalification, and how it would be seen."),
                ]),
            ],
            Method =
            [
                .. common.Method, "Lifetimes are followed once for each irradiance setting with the same draws; the states that they pass are judged at every exposure time. docs/window.md has requirement, margins and confidence.",
            ],
            NotModelled = [.. common.NotModelled, "Settings beyond the map, and settings between which the optics change."],
        };
    }

    private static PageTable Recommended(WindowResult result)
    {
        var map = result.Map;
        var study = map.Case;
        var rows = new List<string[]>
        {
            new[] { "Set-point", WindowWords.At(study.X, map.SetPoint.X), WindowWords.At(study.Y, map.SetPoint.Y), WindowWords.Margin(WindowMap.Unfavourable(map.SetPoint)), map.IsEmpty ? "no setting holds the requirement: the best that the map has" : "most room to the nearest limit" },
        };
        if (map.Rectangle is { } r)
        {
            rows.Add(["Operating rectangle", WindowWords.Range(study.X, r.FromX, r.ToX), WindowWords.Range(study.Y, r.FromY, r.ToY), $"at least {WindowWords.Margin(r.LeastBound)}", $"holds {WindowWords.Sure(study)}; {(r.ReachesEnd(map) ? "reaches the end of the map" : "within the map")}"]);
        }

        if (study.Own is var (x, y))
        {
            rows.Add(["Set today", WindowWords.At(study.X, x), WindowWords.At(study.Y, y), map.Own is { } own ? WindowWords.Margin(own.Smallest) : "–", map.Rectangle is { } w ? WindowTables.Inside(w, x, y) : "no rectangle"]);
        }

        return PageTable.OfTexts(["What", PlainText.Capital(study.X.Label), PlainText.Capital(study.Y.Label), "Margin, state index", "Remark"], rows) with { File = "tables/recommended.csv" };
    }

    private static string ForLine(WindowResult result)
    {
        var map = result.Map;
        if (map.IsEmpty)
        {
            return $"To do: no setting of the map holds the requirement, so none is to be set by this page; the nearest is {WindowWords.At(map.Case, map.SetPoint.X, map.SetPoint.Y)}.";
        }

        string act = result.Actions is { } actions && actions.Rows[0] is { Lower: { } low, Upper: { } high } ? $" Act on a reading below {Format.Value(low)} or above {Format.Value(high, "W/cm²")}{WindowWords.BeyondReadings(result)}." : "";
        string stay = map.Rectangle is { } r ? $" and never leave {WindowWords.Range(map.Case.X, r.FromX, r.ToX)} by {WindowWords.Range(map.Case.Y, r.FromY, r.ToY)}" : "";
        return $"To do: set {WindowWords.At(map.Case, map.SetPoint.X, map.SetPoint.Y)}{stay}.{act}";
    }

    private static IEnumerable<string> ForValidation(WindowResult result)
    {
        if (result.Map.Rectangle is { } r && !result.Map.IsEmpty)
        {
            yield return $"To print in the protocol: {WindowWords.Range(result.Map.Case.X, r.FromX, r.ToX)} by {WindowWords.Range(result.Map.Case.Y, r.FromY, r.ToY)}, which holds {WindowWords.Sure(result.Map.Case)} at all its settings together.";
        }

        if (!result.Challenges.IsEmpty)
        {
            yield return $"To challenge: {Format.Count(result.Challenges.Length)} points with their predicted results; protocol.html in the same folder is a form to fill in, with the same points.";
        }
    }

    // What halving a spread does to the margin says which input the window hangs on most.
    internal static string LargestAssumption(WindowResult result, RunContext context)
    {
        var study = result.Map.Case;
        string limit = study.Limits[result.Map.SetPoint.Binding].Name;
        foreach (var effect in result.Spreads)
        {
            if (context.Inputs.FirstOrDefault(i => i.Path == PathOf(effect.Spread.Id)) is { } input)
            {
                return Assumption.Of(input, $"were its spread half as large, the smallest margin would change by {WindowWords.Change(effect.Change)} in state index, were it larger, the window would be narrower; the {limit} is the nearest limit at the set-point");
            }
        }

        bool ofCure = study.Limits[result.Map.SetPoint.Binding].Response == Response.DegreeOfCure;
        string wrong = $"were its spread larger, the window would be narrower; what each spread moves was not simulated, and the {limit} is the nearest limit at the set-point";
        return WeightiestInput.Of(study.Cell, context, i => ofCure || !i.Path.StartsWith("cure.", StringComparison.Ordinal)) is { } most ? Assumption.Of(most, wrong)
            : Assumption.Of("that no input varies", null, "is what the scenario says", "every spread that the cell has in truth makes the window smaller");
    }

    private static string? PathOf(string spread) => spread switch
    {
        "part_distance" => "fixture.distance.part",
        "part_aim" => "fixture.aim.part",
        "setup_distance" => "fixture.distance.setup",
        "setup_aim" => "fixture.aim.setup",
        "tilt" => "fixture.tilt",
        "exposure_error" => "exposure.error",
        "ripple" => "loop.ripple",
        "sensor_drift" => "loop.sensor_drift",
        "emitter_irradiance" => "source.irradiance",
        "wander" => "source.wander.sd",
        "guide_legs" => "guide.imbalance",
        "guide_reseat" => "guide.reseat",
        "fouling" => "tip.fouling",
        "substrate_thickness" => "substrate.thickness",
        "substrate_lot" => "substrate.absorption",
        "adhesive_lot" => "cure.rate.lot",
        "adhesive_part" => "cure.rate.part",
        "meter" or "calibration" or "session" or "repeatability" => "radiometer." + spread,
        "checks" => "checks.interval",
        _ => null,
    };

    private static string Caption(string name) => name switch
    {
        "window_map" => "Smallest margin over both settings; the contour at 0 is the requirement.",
        "window_edges" => "Edges of the window along one setting, with their 95 % intervals and bands over worlds.",
        "margins_up" => "Margins of each limit along one setting, through the set-point.",
        _ => "Margins of each limit along the other setting, through the set-point.",
    };
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>What the report of a run says.</summary>
public static class RunContent
{
    private static readonly string[] ForLine =
        ["dose_x50_j_per_cm2", "checks_per_year", "found_leave_percent", "found_out_of_tolerance_percent", "time_out_percent", "time_out_undetected_percent", "time_outside_window_undetected_percent", "excursions_per_year"];

    private static readonly string[] ForManagement =
    [
        "parts_nonconforming_conditional_ppm", "parts_nonconforming_counted_ppm", "parts_made_per_year", "suspect_parts_per_year", "requalify_median_hours", "requalify_within_horizon_percent",
        "requalifications_per_year", "emitters_per_year", "guides_per_year", "downtime_percent", "never_qualified_percent",
    ];

    /// <summary>The content.</summary>
    /// <param name="findings">The run.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(RunFindings findings, bool plots)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var (cell, context) = (findings.Run.Scenario, findings.Context);
        var basis = findings.Basis;
        var figures = plots ? RunFigures.Of(findings).ToDictionary(f => f.Name) : [];
        var (judgement, decision, answer) = Decide(findings, basis);
        return new()
        {
            Command = "run",
            Title = cell.Name,
            Question = findings.Requirement is { } r
                ? $"Do nineteen cells in twenty keep a state index of {Format.Value(r.Required)} {r.Moment}, and how long until one must be requalified?"
                : "How capable does the cell stay, and how long until it must be requalified?",
            Answer = answer,
            Judgement = judgement,
            Decision = decision,
            HowSure = CommonTexts.HowSure(cell) + (findings.Requirement is { IsClose: true } ? " The requirement lies inside the interval: more lifetimes could turn the verdict." : ""),
            LargestAssumption = LargestAssumption(findings),
            Lines = RunAnswer.Of(findings),
            Decisive = new[] { "state_index_over_time", "dose_over_time", "dose_histogram" }.Where(figures.ContainsKey).Select(n => Picture(findings, figures[n])).FirstOrDefault(),
            Evidence = Evidence(findings, figures),
            Inputs = [new(cell.Name, context.Sha256, context.Inputs)],
            Basis = basis.Words,
            Method =
            [
                .. CommonTexts.Method(cell),
                "State index: Φ⁻¹(1 − p)/3 of the frozen state, p its fraction of nonconforming bonds; 1.33 is 33 ppm. Ppk: overall, with drift, replacements and checks inside (ISO 22514-2). Cpk: short-term spread at the worst site.",
                "Time to requalify: Kaplan–Meier over cells that were qualified; causes by cumulative incidence.",
            ],
            NotModelled = CommonTexts.NotModelled,
            Checks = [.. Checks(findings), .. CommonTexts.Checks(context)],
            Cautions = CommonTexts.Cautions,
            Reproduce = CommonTexts.Reproduce,
        };
    }

    /// <summary>The input that most of the spread of the dose hangs on, whose value it is, and what the answer does when it is wrong.</summary>
    /// <param name="findings">The run.</param>
    /// <param name="of">Whose, where several are compared.</param>
    internal static string LargestAssumption(RunFindings findings, string? of = null)
    {
        var rows = VarianceRows.Of(findings.Run).Where(r => r.IsPart).OrderByDescending(r => r.Percent).ToArray();
        if (rows.Length == 0)
        {
            return Assumption.Of("that no input varies", null, "is what the scenario says", "every spread that the cell has in truth makes the answer worse");
        }

        var (cell, share) = (findings.Run.Scenario, Math.Clamp(rows[0].Percent / 100.0, 0.0, 1.0));
        string part = rows[0] is { Lower: { } l, Upper: { } u } ? Format.Interval(rows[0].Percent, l, u, "%") : Format.Fixed(rows[0].Percent, 0, "%");
        string made = $"{Source(rows[0].Name)} makes {part} of the spread of the dose (variance of its logarithm)";
        if (WeightiestInput.Of(cell, findings.Context, i => IsBehind(rows[0].Name, i)) is not { } input)
        {
            return Assumption.Of(Source(rows[0].Name), null, "is taken as the scenario says", $"were its spread twice as large, the dose would spread about {Wider(share)} wider; {made}");
        }

        // A relative error enters ln dose as it is, so its own part is known to first order; of others the whole group's part is.
        double variance = findings.Run.Result.Total.Shares.Variance;
        bool alone = WeightiestInput.LogSpread(cell, input.Path) is { } sd && input.Path is "radiometer.meter" or "radiometer.calibration" or "radiometer.session" or "guide.imbalance" or "guide.reseat" or "loop.ripple";
        double own = alone ? Math.Min(Math.Pow(WeightiestInput.LogSpread(cell, input.Path)!.Value, 2) / variance, share) : share;
        string size = $"{(alone ? "were it" : "were it, and what works with it,")} twice as large, the dose would spread about {Wider(own)} wider, the state index would be lower and more parts nonconforming";
        return Assumption.Of(input, $"{size}; {made}", of);
    }

    // Doubling a part of the variance adds three times that part.
    private static string Wider(double share) => Format.Value(100.0 * (Math.Sqrt(1.0 + (3.0 * share)) - 1.0), "%", 2);

    /// <summary>Key figures in words with their intervals.</summary>
    internal static PageTable KeyFigures(RunAnalysis run, IEnumerable<string> ids) => PageTable.OfTexts(
        ["Figure", run.Result.UnitsAreWorlds ? "Value (95 % interval) [5 to 95 % of worlds]" : "Value (95 % interval)"],
        ids.Select(run.Find).OfType<KeyFigure>().Select(f => (string[])[Capital(f.Measure.Id == "time_out_undetected_percent" ? "production time out of the qualified state before anybody knows"
            : f.Measure.Id == "time_outside_window_undetected_percent" ? "production time with a nominal bond outside the window before anybody knows" : f.Measure.Meaning), FigureText.Of(f)]));

    private static (Judgement, string, string) Decide(RunFindings findings, TypicalBasis basis)
    {
        string requalify = findings.Run.Scenario.Requalification.On.IsEmpty ? "" : " Time to requalify: " + RunAnswer.Of(findings).First(l => l.Label == "Time to requalify").Text + ".";
        string parts = findings.Run.Find("parts_nonconforming_conditional_ppm") is { Estimate.Value: not null } ppm ? $" Nonconforming parts: {FigureText.Of(ppm)}." : "";
        if (findings.Requirement is not { } verdict)
        {
            return (Judgement.None, "No capability is required", RunAnswer.Of(findings).First(l => l.Label == "State index").Text + "." + parts + requalify);
        }

        string index = verdict.Percentile.Estimate.Value is not null ? FigureText.Of(verdict.Percentile)
            : double.IsNegativeInfinity(verdict.PercentileValue) ? "−3 or less, the end of its scale"
            : double.IsPositiveInfinity(verdict.PercentileValue) ? "more than 4, the end of its scale"
            : $"{Format.Value(verdict.PercentileValue)} (no interval)";
        var judgement = basis.Judge(verdict.IsMet);
        string required = Format.Value(verdict.Required);
        string decision = judgement switch
        {
            Judgement.Missed => $"Missed: {required} is not kept",
            Judgement.Provisional => $"Provisional: {required} is reached, on typical inputs",
            _ => $"Met: {required} is kept",
        };
        // The other half of the question, as far as the sample tells it; its interval stands in the answer.
        string within = findings.Run.Find("requalify_within_horizon_percent") is { Estimate.Value: { } percent } && findings.HasRequalification
            ? $"; {Share(percent)} of cells need requalifying within {FigureWords.Horizon(findings)}" : "";
        decision += within;
        return (judgement, decision, $"Nineteen cells in twenty have a state index above {index} {verdict.Moment}; {required} is required.{parts}{requalify}");
    }

    // 99.6 % is not all of them, and 0.3 % not none.
    private static string Share(double percent) =>
        percent is > 0.0 and < 1.0 or > 99.0 and < 100.0 ? Format.Fixed(Math.Clamp(percent, 0.1, 99.9), 1, "%") : Format.Fixed(percent, 0, "%");

    private static ImmutableArray<ReportSection> Evidence(RunFindings findings, Dictionary<string, (string Name, Figure Figure)> figures)
    {
        ImmutableArray<ReportItem> Pictures(params IEnumerable<string> names) => [.. names.Where(figures.ContainsKey).Select(n => Picture(findings, figures[n]))];
        string[] each = [.. findings.Responses.Select(r => r.Id)];
        return
        [
            new(Reader.Line, "what drifts, and what is seen in time", [.. RunActions.ForLine(findings)],
                [.. Pictures([.. each.Select(r => $"{r}_over_time"), "light_budget"]), ReportItem.Of(KeyFigures(findings.Run, ForLine), "Checks and time out of the qualified state.")]),
            new(Reader.Management, "parts, time and replacements", [.. RunActions.ForManagement(findings)],
                [.. Pictures("time_to_requalify", "causes_of_requalification"), ReportItem.Of(KeyFigures(findings.Run, ForManagement), "What a year costs in parts, time and replacements.")]),
            new(Reader.Validation, "indices, methods and where the spread comes from", [.. RunActions.ForValidation(findings)],
            [
                .. Pictures([.. each.Select(r => $"{r}_histogram"), "variance_by_level"]),
                ReportItem.Of(PageTable.Of(FigureTables.Capability(findings), true,
                    "response", "unit", "lower_limit", "target", "upper_limit", "method", "indices", "site", "both_limits", "nearer_limit", "withheld_because"), "Capability: overall by both methods, short-term at the worst site."),
                ReportItem.Of(PageTable.Of(FigureTables.Nonconforming(findings)), "Nonconforming bonds and parts, counted and averaged over judged states: two estimates of the same fraction."),
                ReportItem.Of(KeyFigures(findings.Run, findings.Run.Figures.Select(f => f.Measure.Id).Where(id => id.StartsWith("state_index", StringComparison.Ordinal) || id.StartsWith("cells_meeting", StringComparison.Ordinal) || id.Contains("ppk", StringComparison.Ordinal))),
                    "State index and overall capability with their intervals."),
            ]),
        ];
    }

    private static ReportItem Picture(RunFindings findings, (string Name, Figure Figure) plot)
    {
        var response = findings.Responses.FirstOrDefault(r => plot.Name == $"{r.Id}_histogram" || plot.Name == $"{r.Id}_over_time");
        string caption = plot.Name switch
        {
            "state_index_over_time" => "State index over the horizon: the median cell, and the value below which 5 % of the cells lie, with the requirement.",
            "time_to_requalify" => "Share of qualified cells not yet requalified, with its 95 % interval.",
            "causes_of_requalification" => "Share of qualified cells that each cause has made requalify.",
            "variance_by_level" => "Where the variance of ln dose comes from; what is at the top deserves the best data.",
            "light_budget" => "What each factor leaves of the source's light on the way to the bond.",
            _ when plot.Name.EndsWith("_histogram", StringComparison.Ordinal) => $"{response?.Title} of all bonds of all cells against the limits.",
            _ => $"{response?.Title} over the horizon: median and percentiles of bonds.",
        };
        return ReportItem.Of(plot, caption, response?.Words);
    }

    private static IEnumerable<string> Checks(RunFindings findings)
    {
        foreach (bool parts in new[] { false, true })
        {
            if (ConditionalGain.Of(findings.Run.Whole.Records.Span, parts, findings.Run.Result.Plan.IsStratified) is { Score: { } score } && double.IsFinite(score))
            {
                string agree = Math.Abs(score) <= 3.0 ? "agree" : "DO NOT AGREE";
                yield return $"Nonconforming {(parts ? "parts" : "bonds")}, counted and averaged over states, {agree}: they differ by {Format.Fixed(score, 1)} standard errors (bound: 3).";
            }
        }
    }

    private static string Source(string row) => row switch
    {
        "source as held" => "how the output is set and held (radiometer, loop, emitter)",
        "guide" => "the guide",
        "set-up" => "the set-up of the fixture",
        "fouling" => "fouling of the tip",
        "substrate lot" => "the lot of the substrate",
        "part to part" => "the spread from part to part",
        _ => row,
    };

    // Which inputs a row of the decomposition holds; by their places in the format.
    private static bool IsBehind(string row, InputRow input)
    {
        string path = input.Path;
        bool In(params string[] starts) => starts.Any(s => path.StartsWith(s, StringComparison.Ordinal));
        return row switch
        {
            "source as held" => In("source.", "loop.", "radiometer.", "checks."),
            "guide" => In("guide.") && !In("guide.reseat"),
            "set-up" => In("guide.reseat") || (In("fixture.") && path.EndsWith(".setup", StringComparison.Ordinal)),
            "fouling" => In("tip."),
            "disturbances" => In("disturbances."),
            "substrate lot" => In("substrate."),
            _ => input.Level == "part",
        };
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}

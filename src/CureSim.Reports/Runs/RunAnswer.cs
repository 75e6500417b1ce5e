using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>The answer of a run in about ten lines: what a line engineer, a manager and a validation team ask first.</summary>
public static class RunAnswer
{
    /// <summary>The heading: what was simulated, and how the brackets are read.</summary>
    public static string Heading(RunFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        bool worlds = findings.Run.Result.UnitsAreWorlds;
        bool intervals = worlds || findings.Run.Whole.Records.Length >= MeasureEstimator.LeastLifetimes;
        string round = intervals ? "( ) 95 % interval of the simulation" : "fewer than 64 lifetimes: few intervals";
        return $"{findings.Run.Scenario.Name}: {FigureWords.Size(findings)}; {round}" + (worlds ? ", [ ] 5 to 95 % of the worlds" : "");
    }

    /// <summary>The lines.</summary>
    public static ImmutableArray<AnswerLine> Of(RunFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var lines = ImmutableArray.CreateBuilder<AnswerLine>();
        lines.Add(new("Dose", Dose(findings)));
        foreach (var response in findings.Responses.Where(r => r.IsLimited))
        {
            var (both, use, either) = Overall(findings, response);
            lines.Add(new($"Ppk, {response.Words}", both + use) { Brief = either ? both : both + use });
        }

        if (ShortTerm(findings) is { } shortTerm)
        {
            lines.Add(new("Cpk, worst site", shortTerm + "; drift and replacements are not in it, Ppk holds them") { Brief = shortTerm });
        }

        foreach (string what in (string[])["bonds", "parts"])
        {
            string byState = $"by state {FractionBy(findings, what, "conditional")}";
            lines.Add(new($"Nonconforming {what}", $"{byState}; counted {FractionBy(findings, what, "counted")}") { Brief = byState });
        }

        lines.Add(State(findings));
        if (!findings.Run.Scenario.Requalification.On.IsEmpty)
        {
            var (when, causes) = Requalify(findings);
            lines.Add(new("Time to requalify", when + (causes.Length > 0 ? $", first by {string.Join(", ", causes)}" : "")) { Brief = when + (causes.Length > 0 ? $", first by {causes[0]}" : "") });
        }

        lines.Add(new("Never qualified", Never(findings)));
        var (unseen, all) = (Show(findings, "time_out_undetected_percent"), Show(findings, "time_out_percent"));
        lines.Add(new("Time out unseen", $"{unseen} of production time out of the qualified state before anybody knows; {all} in all")
        {
            Brief = $"{unseen} of production time; out of the qualified state in all {all}",
        });
        if (findings.Run.Precision is { } precision)
        {
            lines.Add(PrecisionText.Line(precision));
        }

        if (findings.TimeModel is { } model)
        {
            lines.Add(new("ISO 22514-2 class", $"{model.Model.Letter}: {model.Reason}") { Brief = $"{model.Model.Letter} (the report says why)" });
        }

        return lines.ToImmutable();
    }

    private static string Dose(RunFindings findings)
    {
        var dose = findings.Responses[0];
        string spread = RunMeasures.Quantile(findings.Run.Whole, 0, PercentileCapability.LowProbability) is { } low
            && RunMeasures.Quantile(findings.Run.Whole, 0, PercentileCapability.HighProbability) is { } high
            ? $"; 99.73 % of bonds from {Format.Fixed(low, Digits.ForSignificant(low, 3))} to {Format.Fixed(high, Digits.ForSignificant(low, 3))}" : "";
        string limits = (dose.Limits.Lower, dose.Limits.Upper) switch
        {
            ({ } l, { } u) => $"; limits {Format.Value(l)} and {Format.Value(u)}",
            ({ } l, null) => $"; lower limit {Format.Value(l)}",
            (null, { } u) => $"; upper limit {Format.Value(u)}",
            _ => "; no limits",
        };
        return "median " + Show(findings, $"dose_x50_{dose.Suffix}") + spread + limits;
    }

    private static (string Both, string Use, bool Either) Overall(RunFindings findings, RunResponse response)
    {
        var moments = RunMeasures.Overall(findings.Run.Whole, response.Index);
        var comparison = PercentileCapability.Compare(moments, RunMeasures.Percentile(findings.Run.Whole, response.Index));
        string use = comparison switch
        {
            { Normal: true, LargestRelativeDifference: { } d } => $": {Format.PerCent(Math.Round(d, 2))} apart, either may be used",
            { Normal: false, LargestRelativeDifference: { } d } => $": {Format.PerCent(Math.Round(d, 2))} apart, use percentiles",
            _ => "",
        };
        return ($"{Show(findings, $"{response.Id}_ppk_percentile")} by percentiles, {Show(findings, $"{response.Id}_ppk")} by moments", use, comparison.Normal == true);
    }

    private static string? ShortTerm(RunFindings findings)
    {
        var worst = findings.Responses.Where(r => r.IsLimited)
            .Select(r => (Response: r, Worst: RunMeasures.ShortTerm(findings.Run.Whole, r.Index)))
            .Where(w => w.Worst?.Indices.Cpk is not null).OrderBy(w => w.Worst!.Value.Indices.Cpk).FirstOrDefault();
        return worst.Worst is { } found
            ? $"{Show(findings, $"{worst.Response.Id}_cpk")} short-term, {worst.Response.Words} at site {found.Site + 1}"
            : null;
    }

    private static string FractionBy(RunFindings findings, string what, string how)
    {
        string Id(string of) => $"{of}_nonconforming_{how}_ppm";
        var figure = findings.Run.Find(Id(what))!;
        return figure.Estimate switch
        {
            { Value: 0.0 } when how == "counted" => $"none of {Format.Count(Sampled(findings, what))}",

            // The same lifetimes hold the bad bonds and the bad parts: the reason is told once.
            { Value: null } when what == "parts" && figure.Estimate.Withheld == findings.Run.Find(Id("bonds"))!.Estimate.Withheld => "withheld as above",
            _ => FigureText.Of(figure),
        };
    }

    private static long Sampled(RunFindings findings, string what)
    {
        double sampled = 0.0;
        foreach (ref readonly var record in findings.Run.Whole.Records.Span)
        {
            sampled += what == "parts" ? record.PartsSampled : record.BondsSampled;
        }

        return (long)sampled;
    }

    private static string Never(RunFindings findings)
    {
        int cells = findings.Run.Whole.Records.Length;
        if (findings.Run.Find("never_qualified_percent") is not { Estimate.Value: 0.0 })
        {
            return Show(findings, "never_qualified_percent") + " of the cells, after commissioning";
        }

        // Cells of one world are independent; those of several share what is unknown, and the bound would not hold.
        string bound = findings.Run.Result.UnitsAreWorlds ? "" : $" (below {Format.PerCent(BinomialInterval.ZeroCountUpper(cells))} with 95 % confidence)";
        return $"none of {Format.Count(cells)} cells{bound}, after commissioning";
    }

    private static AnswerLine State(RunFindings findings)
    {
        if (findings.Requirement is not { } verdict)
        {
            string at = findings.Run.Find("state_index_before_check_p05") is null ? "end" : "before_check";
            return new("State index", $"5 % of cells below {Show(findings, $"state_index_{at}_p05")} {(at == "end" ? "at the end" : "just before a check")}; no capability is required");
        }

        string meeting = verdict.MeetingPercent is { } share ? $"; {FigureText.Of(share)} of cells meet it" : "";
        string percentile = verdict.Percentile.Estimate.Value is not null ? FigureText.Of(verdict.Percentile)
            : double.IsNegativeInfinity(verdict.PercentileValue) ? "−3, the end of its scale,"
            : double.IsPositiveInfinity(verdict.PercentileValue) ? "no index on its scale, which ends at 4,"
            : $"{Format.Value(verdict.PercentileValue)} (no interval: some {(findings.Run.Result.UnitsAreWorlds ? "worlds" : "batches")} are off the scale)";
        string close = verdict.IsClose ? " (within the simulation's error)" : "";
        var judgement = findings.Basis.Judge(verdict.IsMet);
        string word = judgement switch { Pages.Judgement.Missed => "MISSED", Pages.Judgement.Provisional => "reached, but provisional: " + findings.Basis.Brief, _ => "met" };
        string index = $"5 % of cells below {percentile} {verdict.Moment}; required {Format.Value(verdict.Required)}";
        return new(
            "State index",
            $"{index}: {word}{close}{meeting}",
            judgement switch { Pages.Judgement.Missed => AnswerTone.Missed, Pages.Judgement.Provisional => AnswerTone.Plain, _ => AnswerTone.Met }) { Brief = $"{index}: {word}{close}" };
    }

    private static (string When, string[] Causes) Requalify(RunFindings findings)
    {
        if (findings.Survival.Subjects == 0)
        {
            return ("no cell was qualified after commissioning", []);
        }

        var causes = findings.EndCauses.Where(c => c.Percent >= 0.5).Take(3).Select(c => $"{RunFindings.Words(c.Cause)} {Format.Fixed(c.Percent, 0, "%")}").ToArray();
        string horizon = FigureWords.Horizon(findings);
        string median = findings.Run.Find("requalify_median_hours") is { Estimate.Value: not null } figure ? $"median {FigureText.Of(figure)}" : $"median beyond {horizon}";
        return ($"{median}; within {horizon} {Show(findings, "requalify_within_horizon_percent")} of the cells", causes);
    }

    private static string Show(RunFindings findings, string id) => findings.Run.Find(id) is { } figure ? FigureText.Of(figure) : "not given";
}

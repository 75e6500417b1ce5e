using CureSim.Core.Statistics;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>Key figures and capability, whole and by site.</summary>
internal static class FigureTables
{
    public static Table KeyFigures(RunFindings findings)
    {
        var table = new Table("key_figures",
            Text("figure"), Text("meaning"), Text("unit"), Number("value"), Number("standard_error"), Number("lower95"), Number("upper95"),
            Text("withheld_because"), Number("worlds_p05"), Number("worlds_p95"), Text("no_band_because"));
        foreach (var (measure, estimate, band) in findings.Run.Figures)
        {
            table.Add(
                measure.Id, measure.Meaning, measure.Unit, estimate.Value, estimate.StandardError, estimate.Lower95, estimate.Upper95,
                estimate.Withheld, band?.Lower05, band?.Upper95, band?.Withheld);
        }

        return table;
    }

    /// <summary>Counted and conditional estimate of the nonconforming bonds and parts, their agreement, and what the second gains.</summary>
    public static Table Nonconforming(RunFindings findings)
    {
        var table = new Table("nonconforming",
            Text("what"), Column("sampled"), Column("counted_bad"), Column("states_judged"), Number("counted_ppm"), Number("counted_standard_error_ppm"),
            Number("conditional_ppm"), Number("conditional_standard_error_ppm"), Number("difference_in_standard_errors"), Number("gain"), Number("gain_bound"));
        foreach (bool parts in new[] { false, true })
        {
            if (ConditionalGain.Of(findings.Run.Whole.Records.Span, parts, findings.Run.Result.Plan.IsStratified) is { } g)
            {
                table.Add(
                    parts ? "parts" : "bonds", (long)g.Sampled, (long)g.Bad, (long)g.States, 1e6 * g.Counted, 1e6 * g.CountedError, 1e6 * g.Conditional,
                    1e6 * g.ConditionalError, g.Score, g.Gain, g.Bound);
            }
        }

        return table;
    }

    public static Table Capability(RunFindings findings)
    {
        var table = new Table("capability",
            Text("response"), Text("unit"), Number("lower_limit"), Number("target"), Number("upper_limit"), Text("method"), Text("indices"), Column("site"),
            Number("both_limits"), Number("lower_side"), Number("upper_side"), Number("nearer_limit"), Number("about_target"), Number("off_centre"),
            Text("withheld_because"), Text("which_to_use"));
        foreach (var response in findings.Responses.Where(r => r.IsLimited))
        {
            var whole = findings.Run.Whole;
            var overall = RunMeasures.Overall(whole, response.Index);
            var percentile = RunMeasures.Percentile(whole, response.Index);
            string statement = PercentileCapability.Compare(overall, percentile).Statement;
            void Add(string method, string names, int? site, CapabilityIndices c) => table.Add(
                response.Words, response.Unit, response.Limits.Lower, response.Limits.Target, response.Limits.Upper, method, names, site + 1L,
                c.Cp, c.Cpl, c.Cpu, c.Cpk, c.Cpm, c.OffCentre, c.Withheld, statement);
            Add("overall, mean and standard deviation", "Pp Ppl Ppu Ppk", null, overall);
            Add("overall, percentiles of ISO 22514-2", "Pp Ppl Ppu Ppk", null, percentile);
            if (RunMeasures.ShortTerm(whole, response.Index) is { } worst)
            {
                Add("short-term, worst site", "Cp Cpl Cpu Cpk", worst.Site, worst.Indices);
            }
        }

        return table;
    }

    public static Table BySite(RunFindings findings)
    {
        var table = new Table("by_site",
            Text("response"), Text("unit"), Column("site"), Column("bonds"), Number("mean"), Number("overall_sd"), Number("within_sd"), Number("x0_135"), Number("x50"),
            Number("x99_865"), Number("pp"), Number("ppk"), Number("pp_percentile"), Number("ppk_percentile"), Number("cp"), Number("cpk"));
        var summary = findings.Run.Whole.Summary;
        foreach (var response in findings.Responses)
        {
            for (int s = 0; s < summary.Layout.SiteCount; s++)
            {
                var moments = summary.BySite[response.Index, s];
                double mean = moments.Mean * response.PerSi, sd = moments.StandardDeviation * response.PerSi;
                double groups = summary.WithinGroups[response.Index, s];
                double? within = groups > 0.0 ? Math.Sqrt(summary.WithinSum[response.Index, s] / groups) * response.PerSi : null;
                double?[] x = [.. new[] { PercentileCapability.LowProbability, 0.5, PercentileCapability.HighProbability }.Select(p => Quantile(response, summary, s, p))];
                var overall = MomentCapability.Of(mean, sd, response.Limits);
                var percentile = x is [{ } low, { } middle, { } high] ? PercentileCapability.Of(low, middle, high, response.Limits) : null;
                var shortTerm = within is { } w ? MomentCapability.Of(mean, w, response.Limits) : null;
                table.Add(
                    response.Words, response.Unit, s + 1, (long)moments.Count, mean, sd, within, x[0], x[1], x[2],
                    overall.Cp, overall.Cpk, percentile?.Cp, percentile?.Cpk, shortTerm?.Cp, shortTerm?.Cpk);
            }
        }

        return table;
    }

    private static double? Quantile(RunResponse response, Core.Summaries.CellSummary summary, int site, double p) =>
        response.FromKept(summary.Histograms[response.Index, site].Quantile(response.KeptProbability(p)));

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);

    private static Column Column(string header) => new(header, ColumnKind.Whole);
}

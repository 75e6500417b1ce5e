using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>A response of a run with its names and trade unit.</summary>
/// <param name="Index">Its place in the layout of the summaries.</param>
/// <param name="Response">Which.</param>
/// <param name="Limits">Its limits in the trade unit.</param>
internal sealed record RunResponse(int Index, Response Response, LimitPair Limits)
{
    /// <summary>In identifiers, such as degree_of_cure.</summary>
    public string Id => RunMeasures.NameOf(Response);

    /// <summary>In sentences, such as degree of cure.</summary>
    public string Words => Id.Replace('_', ' ');

    /// <summary>At the start of a sentence or axis.</summary>
    public string Title => char.ToUpperInvariant(Words[0]) + Words[1..];

    /// <summary>Ending of column headers, such as j_per_cm2.</summary>
    public string Suffix => RunMeasures.UnitOf(Response).Suffix;

    /// <summary>Unit as printed; null for a plain number.</summary>
    public string? Unit => RunMeasures.UnitOf(Response).Unit;

    /// <summary>Trade unit over SI unit.</summary>
    public double PerSi => RunMeasures.UnitOf(Response).PerSi;

    /// <summary>True when it has any limit.</summary>
    public bool IsLimited => Limits.Lower is not null || Limits.Upper is not null;

    /// <summary>Header of a column in this response's unit.</summary>
    public string Header(string what) => $"{what}_{Suffix}";

    /// <summary>All responses of a run, dose first.</summary>
    public static ImmutableArray<RunResponse> Of(RunPlan plan) =>
        [.. plan.Layout.Responses.Select((r, i) => new RunResponse(i, r.Response, RunMeasures.LimitsOf(plan.Scenario, r.Response)))];

    /// <summary>Counts in rising order of the response itself: edges in the trade unit and a count between each two.</summary>
    /// <remarks>The degree of cure is kept as 1 − X, so its bins are turned round.</remarks>
    public (double[] Edges, long[] Counts) Histogram(CellSummary summary)
    {
        var bins = summary.Layout.Responses[Index].Bins;
        var all = new LogHistogram(bins);
        for (int s = 0; s < summary.Layout.SiteCount; s++)
        {
            all.Merge(summary.Histograms[Index, s]);
        }

        int first = Array.FindIndex(all.Counts, 1, bins.Count, c => c > 0), last = Array.FindLastIndex(all.Counts, bins.Count, bins.Count, c => c > 0);
        if (first < 0)
        {
            return ([], []);
        }

        long[] counts = all.Counts[first..(last + 1)];
        double[] edges = [.. Enumerable.Range(first - 1, counts.Length + 1).Select(b => FromKept(bins.LowerEdge(b))!.Value)];
        if (Response == Response.DegreeOfCure)
        {
            Array.Reverse(edges);
            Array.Reverse(counts);
        }

        return (edges, counts);
    }

    /// <summary>A percentile of one time bin, in the trade unit; null outside the bins or without bonds.</summary>
    public double? Percentile(CellSummary summary, int bin, double p)
    {
        var fan = new LogHistogram(summary.Layout.Responses[Index].FanBins);
        int[] counts = summary.Fans![Index, bin];
        for (int i = 0; i < counts.Length; i++)
        {
            fan.Counts[i] = counts[i];
        }

        return FromKept(fan.Quantile(KeptProbability(p)));
    }

    /// <summary>The proportion to ask a histogram for: the degree of cure is kept as 1 − X, which turns the order round.</summary>
    public double KeptProbability(double p) => Response == Response.DegreeOfCure ? 1.0 - p : p;

    /// <summary>A value of a histogram in the trade unit.</summary>
    public double? FromKept(double? kept) => Response == Response.DegreeOfCure ? 1.0 - kept : kept * PerSi;
}

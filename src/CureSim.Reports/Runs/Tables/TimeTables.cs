using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Reports.Tables;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>What happens over time: responses and state by time bin, events a cell.</summary>
internal static class TimeTables
{
    /// <summary>Percentiles of the fans.</summary>
    public static readonly (double Probability, string Header)[] FanPercentiles =
        [(0.00135, "x0_135"), (0.05, "x5"), (0.5, "x50"), (0.95, "x95"), (0.99865, "x99_865")];

    /// <summary>Dose and state by time bin.</summary>
    public static Table OverTime(RunFindings findings)
    {
        var dose = findings.Responses[0];
        var table = new Table("over_time",
        [
            .. Span(), new Column("check_at_end", ColumnKind.Text), .. Spread(dose), new Column("bonds", ColumnKind.Whole), new Column("bonds_nonconforming_ppm", ColumnKind.Number),
            new Column("state_index_p05", ColumnKind.Number), new Column("state_index_p50", ColumnKind.Number), new Column("qualified_percent", ColumnKind.Number),
        ]);
        var summary = findings.Run.Whole.Summary;
        for (int b = 0; b < summary.Layout.BinCount; b++)
        {
            var (from, to) = Hours(findings.Run, b);
            long bonds = summary.BondsByBin[b];
            Cell[] row =
            [
                from, to, summary.Layout.BinEndsOnCheck[b] ? "yes" : "no", .. Spread(dose, summary, b), bonds,
                bonds > 0 ? 1e6 * summary.NonconformingByBin[b] / bonds : (double?)null, Index(summary, b, 0.05), Index(summary, b, 0.5),
                100.0 * summary.QualifiedAtBin[b] / summary.Lifetimes,
            ];
            table.Add(row);
        }

        return table;
    }

    /// <summary>Another response by time bin.</summary>
    public static Table OverTime(RunFindings findings, RunResponse response)
    {
        var table = new Table("over_time_" + response.Id, [.. Span(), .. Spread(response)]);
        var summary = findings.Run.Whole.Summary;
        for (int b = 0; b < summary.Layout.BinCount; b++)
        {
            var (from, to) = Hours(findings.Run, b);
            Cell[] row = [from, to, .. Spread(response, summary, b)];
            table.Add(row);
        }

        return table;
    }

    /// <summary>Mean cumulative number of events a cell, by kind.</summary>
    public static Table Events(RunFindings findings)
    {
        var table = new Table("events_over_time",
            new Column("event", ColumnKind.Text), new Column("until_hours", ColumnKind.Number), new Column("events_a_cell", ColumnKind.Number),
            new Column("lower95", ColumnKind.Number), new Column("upper95", ColumnKind.Number));
        var result = findings.Run.Result;
        var units = result.Units.Where(u => u.Lifetimes > 0).ToArray();
        double[] weights = [.. units.Select(u => (double)u.Lifetimes)];
        bool interval = units.Length > 1 && (result.UnitsAreWorlds || result.Total.Lifetimes >= MeasureEstimator.LeastLifetimes);
        foreach (var kind in Enum.GetValues<CountedEvent>())
        {
            int bins = result.Total.Layout.BinCount;
            if (Enumerable.Range(0, bins).All(b => result.Total.EventsByBin[(int)kind, b] == 0))
            {
                continue;
            }

            long total = 0;
            double[] means = new double[units.Length];
            for (int b = 0; b < bins; b++)
            {
                total += result.Total.EventsByBin[(int)kind, b];
                for (int u = 0; u < units.Length; u++)
                {
                    means[u] += units[u].EventsByBin[(int)kind, b] / weights[u];
                }

                var spread = interval ? BatchEstimate.Of(means, weights) : null;
                double mean = (double)total / result.Total.Lifetimes;
                double? half = (spread?.Upper95 - spread?.Lower95) / 2.0;
                double? lower = half is { } below ? Math.Max(0.0, mean - below) : null;
                table.Add(Words(kind), Hours(findings.Run, b).To, mean, lower, mean + half);
            }
        }

        return table;
    }

    /// <summary>Beginning and end of a time bin, production hours.</summary>
    public static (double From, double To) Hours(RunAnalysis run, int bin)
    {
        double step = run.Scenario.Production.StepSeconds / 3600.0;
        var ends = run.Whole.Summary.Layout.BinEndSteps;
        return ((bin == 0 ? 0 : ends[bin - 1]) * step, ends[bin] * step);
    }

    /// <summary>A percentile over cells of the state index at the end of a time bin; null outside its bins.</summary>
    public static double? Index(CellSummary summary, int bin, double p) =>
        SummaryLayout.IndexQuantile(summary.IndexByBin![bin], p) is var index && double.IsFinite(index) ? index : null;

    private static string Words(CountedEvent kind) => kind switch
    {
        CountedEvent.OutOfToleranceFound => "requalify event: out of tolerance found",
        CountedEvent.StateLost => "requalify event: state lost",
        CountedEvent.LoopSaturated => "requalify event: loop saturated",
        CountedEvent.EmitterReplaced => "requalify event: emitter replaced",
        CountedEvent.GuideReplaced => "requalify event: guide replaced",
        CountedEvent.StateLeft => "requalify event: state left",
        CountedEvent.Excursion => "excursion",
        CountedEvent.EmitterPlanned => "emitter replaced as planned",
        CountedEvent.EmitterFailed => "emitter failed",
        CountedEvent.EmitterShort => "emitter replaced because short",
        CountedEvent.GuideChanged => "guide replaced",
        _ => "disturbance",
    };

    private static IEnumerable<Column> Span() => [new Column("from_hours", ColumnKind.Number), new Column("to_hours", ColumnKind.Number)];

    private static IEnumerable<Column> Spread(RunResponse response) =>
    [
        new Column(response.Header(response.Id + "_mean"), ColumnKind.Number), new Column(response.Header(response.Id + "_sd"), ColumnKind.Number),
        .. FanPercentiles.Select(p => new Column(response.Header($"{response.Id}_{p.Header}"), ColumnKind.Number)),
    ];

    private static IEnumerable<Cell> Spread(RunResponse response, CellSummary summary, int bin)
    {
        var moments = summary.ByBin[response.Index, bin];
        bool any = moments.Count > 0.0;
        return
        [
            any ? moments.Mean * response.PerSi : (double?)null, any ? moments.StandardDeviation * response.PerSi : (double?)null,
            .. FanPercentiles.Select(p => (Cell)response.Percentile(summary, bin, p.Probability)),
        ];
    }
}

using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Reports.Figures;
using CureSim.Reports.Rendering;
using CureSim.Reports.Tables;

namespace CureSim.Benchmarks;

/// <summary>How the time of a run grows with horizon, sites, lifetimes and parts a step.</summary>
internal static class Growth
{
    private static readonly int[] Doublings = [1, 2, 4, 8];

    public static int Run()
    {
        var table = Measure(lifetimes: 1024, rounds: 3);
        ResultTable.Write(table);
        ResultTable.Write("growth.png", FigureRenderer.Png(Plot(table)));
        return 0;
    }

    public static Table Measure(int lifetimes, int rounds)
    {
        var table = new Table(
            "growth",
            new("what", ColumnKind.Text),
            new("value", ColumnKind.Whole),
            new("seconds", ColumnKind.Number),
            new("ratio_to_first", ColumnKind.Number),
            new("slope_from_first", ColumnKind.Number));
        Add(table, "horizon_yr", rounds, n => Cases.Plan(Cases.Read("bench.yaml", $"production.horizon={n} yr"), lifetimes));
        Add(table, "sites", rounds, n => Cases.Plan(Cases.Read("bench.yaml", $"production.sites={n}", $"source.stated_legs={n}"), lifetimes));
        Add(table, "lifetimes", rounds, n => Cases.Plan(Cases.Read("bench.yaml"), lifetimes * n), lifetimes);
        Add(table, "parts_a_step", rounds, n => Cases.Plan(Cases.Read("bench.yaml", $"run.parts_a_step={2 * n}"), lifetimes), 2);
        return table;
    }

    private static Figure Plot(Table table)
    {
        var lines = table.Rows.GroupBy(r => (string)r[0].Raw!).Select((rows, k) => (Layer)new Line(
            [.. Doublings.Select(n => (double)n)],
            [.. rows.Select(r => (double)r[3].Raw!)],
            $"{rows.Key.Replace("_yr", "", StringComparison.Ordinal).Replace('_', ' ')}, slope {(double)rows.Last()[4].Raw!:0.00}",
            (Tone)k));
        return new()
        {
            Title = "How does the time of a run grow?",
            Subtitle = "One thread; each against the smallest: 1 year, 1 site, 1,024 lifetimes, 2 parts a step. Slope from the first to the last point.",
            X = new("Times as much") { Scale = AxisScale.Logarithmic },
            Y = new("Times as long") { Scale = AxisScale.Logarithmic },
            Layers = [.. lines],
        };
    }

    private static void Add(Table table, string what, int rounds, Func<int, RunPlan> plan, int unit = 1)
    {
        double first = double.NaN;
        foreach (int n in Doublings)
        {
            var made = plan(n);
            new LocalRunner(made, 1).Run(); // state rows and compiled code are there before the clock runs
            double seconds = ResultTable.Median(Enumerable.Range(0, rounds).Select(_ =>
            {
                var clock = System.Diagnostics.Stopwatch.StartNew();
                new LocalRunner(made, 1).Run();
                return clock.Elapsed.TotalSeconds;
            }));
            first = double.IsNaN(first) ? seconds : first;
            table.Add(what, n * unit, ResultTable.Digits(seconds), ResultTable.Digits(seconds / first), n == 1 ? Cell.Missing : ResultTable.Digits(Math.Log(seconds / first) / Math.Log(n)));
        }
    }
}

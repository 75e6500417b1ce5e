namespace CureSim.Cli.Tests;

/// <summary>A lifetime replayed alone is the lifetime of the run.</summary>
public sealed class TraceTests
{
    // Short, with a narrow window, short-lived emitters and many disturbances, so that every count is above zero in some lifetime.
    private static readonly string[] Busy =
    [
        "--lifetimes", "6", "--set", "run.worlds=2", "--set", "production.horizon=1 yr", "--set", "window.dose.lower=6 J/cm2", "--set", "requalification.capability=0.4", "--set", "source.replace_at=900 h",
        "--set", "guide.replace_at=700 h", "--set", "source.failure={ weibull: { shape: 2, scale: 1500 h } }", "--set", "disturbances.guide kinked.rate=1 /600 h",
    ];

    [Fact]
    public void Trace_EveryLifetime_EqualsItsRecordInTheRun()
    {
        using var tool = new Tool();
        tool.Run(["run", "scenarios/hub-bond-lamp.yaml", "--no-plots", "--quiet", .. Busy]).Exits(0);
        var lifetimes = new CsvFile(tool.At("output", "hub-bond-lamp", "run", "tables", "lifetimes.csv"));
        Assert.Equal(12, lifetimes.Count);
        var seen = new Dictionary<string, double>();
        foreach (int row in new[] { 0, 3, 5, 7, 11 })
        {
            string world = lifetimes.Text(row, "world"), lifetime = lifetimes.Text(row, "lifetime");
            tool.Run(["trace", "scenarios/hub-bond-lamp.yaml", "--world", world, "--lifetime", lifetime, "--quiet", .. Busy]).Exits(0);
            CsvFile Table(string name) => new(tool.At("output", "hub-bond-lamp", "trace", "tables", name + ".csv"));
            CsvFile events = Table("events"), bonds = Table("bonds");
            int Count(string what) => events.Where("event", what).Count();
            void Equal(string header, double traced)
            {
                Assert.True(traced == lifetimes.Number(row, header), $"world {world}, lifetime {lifetime}, {header}: {traced} traced, {lifetimes.Text(row, header)} in the run");
                seen[header] = seen.GetValueOrDefault(header) + traced;
            }

            Equal("bonds_sampled", bonds.Count);
            Equal("bonds_nonconforming", bonds.Where("conforming", "no").Count());
            Equal("excursions", Count("excursion starts"));
            Equal("emitters_failed", Count("emitter failed"));
            Equal("requalify_events", Count("requalify event"));
            Equal("requalifications", Count("requalification"));
            Equal("disturbances", Count("disturbance"));
            double Number(string header) => lifetimes.Number(row, header);
            Assert.Equal(Number("emitters_planned") + Number("emitters_short"), Count("emitter replaced"));
            Assert.Equal(Number("guides_planned") + Number("guides_short"), Count("guide replaced"));
            if (Count("requalify event") > 0)
            {
                int first = events.Where("event", "requalify event").First();
                Assert.Equal(lifetimes.Text(row, "requalify_hours"), events.Text(first, "time_hours"));
                Assert.Equal(lifetimes.Text(row, "requalify_cause"), events.Text(first, "detail"));
            }

            // Both are written with ten digits; a mean of rounded doses agrees to nine.
            double mean = Enumerable.Range(0, bonds.Count).Average(b => bonds.Number(b, "dose_j_per_cm2"));
            Assert.Equal(Number("dose_mean_j_per_cm2"), mean, 1e-8);
        }

        Assert.All(seen, count => Assert.True(count.Value > 0, $"{count.Key} is zero in all lifetimes: the test shows nothing of it"));
    }

    [Fact]
    public void Trace_Timeline_PrintsTheFirstEventsInOrder()
    {
        using var tool = new Tool();
        var result = tool.Run("trace", "scenarios/quick.yaml", "--lifetime", "3", "--events", "8").Exits(0);
        string[] lines = result.Output.Split('\n');
        int head = Array.FindIndex(lines, l => l.StartsWith("Time, h", StringComparison.Ordinal));
        double[] times = [.. lines.Skip(head + 1).Take(8).Select(l => double.Parse(l.TrimStart().Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture))];
        Assert.Equal(times.Order(), times);
        Assert.StartsWith("…", lines[head + 9], StringComparison.Ordinal);
    }
}

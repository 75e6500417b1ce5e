using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>How far the bonds spread, and what makes them spread.</summary>
internal static class SpreadFigures
{
    private const int MostBars = 120;
    private const double OuterShare = 1e-4; // what lies further out on a side would only stretch the axis; the table has it
    private const double LeastFactor = 5e-4; // a factor nearer to 1 would be a bar without width

    /// <summary>Histogram of a response with its limits and percentiles; null when it has no counts.</summary>
    public static Figure? Histogram(RunFindings findings, RunResponse response)
    {
        var (edges, counts) = response.Histogram(findings.Run.Whole.Summary);
        if (counts.Length == 0)
        {
            return null;
        }

        var bars = Bars(findings, response, edges, counts);
        var layers = ImmutableArray.CreateBuilder<Layer>();
        layers.Add(bars.Layer);
        layers.Add(new Percentiles(
        [
            .. new[] { ("0.135 %", PercentileCapability.LowProbability), ("50 %", 0.5), ("99.865 %", PercentileCapability.HighProbability) }
                .Select(p => (Name: p.Item1, Value: RunMeasures.Quantile(findings.Run.Whole, response.Index, p.Item2)))
                .Where(p => p.Value is not null).Select(p => new NamedValue(p.Name, p.Value!.Value)),
        ]));
        layers.AddRange(Limits(response, Along.X));
        string unit = response.Unit is { } u ? $"% per {Format.Value(bars.Width, u, 2)}" : $"% per {Format.Value(bars.Width, null, 2)}";
        return new Figure
        {
            Title = response.IsLimited ? $"Is the {response.Words} inside the window?" : $"How far does the {response.Words} spread?",
            Subtitle = FigureWords.Size(findings) + Outside(findings, response),
            X = XAxis(response, bars.Layer),
            Y = new Axis("Share of bonds", unit) { FromZero = true },
            Layers = layers.ToImmutable(),
            Note = "All bonds of all cells over the whole horizon, counted; the outermost 0.01 % on a side may lie outside the picture."
                + (response.IsLimited ? " " + Methods(findings, response) : ""),
        };
    }

    /// <summary>Shares of the variance of ln dose; null when the dose does not vary.</summary>
    public static Figure? Variance(RunFindings findings)
    {
        var rows = VarianceRows.Of(findings.Run);
        if (rows.IsEmpty)
        {
            return null;
        }

        var parts = rows.Where(r => r.IsPart).OrderByDescending(r => r.Percent).ToArray();
        var time = rows.First(r => !r.IsPart);
        Bar Draw(VarianceRow row, Tone tone) => new(row.Name, row.Percent, Format.Fixed(row.Percent, 1, "%")) { Lower = row.Lower, Upper = row.Upper, Tone = tone };
        return new Figure
        {
            Title = "What makes the dose spread?",
            Subtitle = "Share of the variance of ln dose" + (parts.Any(r => r.Lower is not null) ? "; whiskers: 95 % interval of the simulation" : ""),
            X = new Axis("Share of variance", "%") { FromZero = true },
            Y = new Axis(""),
            Height = Math.Max(300, 190 + (36 * (parts.Length + 1))),
            Layers = [new Bars([.. parts.Select(r => Draw(r, r.Percent < 0.0 ? Tone.Second : Tone.First)), Draw(time with { Name = "(time, beside them)" }, Tone.Quiet)])],
            Note = "The upper rows sum to 100 %. Time is what the means of the time bins explain of the dose; it is part of the rows above it.",
        };
    }

    /// <summary>The nominal light budget as a chain of losses and gains; null without one.</summary>
    public static Figure? LightBudget(RunContext context)
    {
        if (context.Budget.IsEmpty)
        {
            return null;
        }

        var rows = ImmutableArray.CreateBuilder<Bar>();
        double before = 0.0;
        bool leftOut = false;
        foreach (var row in context.Budget)
        {
            double after = row.IrradianceAfter * 1e-4;
            bool first = rows.Count == 0;
            if (!first && Math.Abs(row.Factor - 1.0) < LeastFactor)
            {
                leftOut = true;
                continue;
            }

            rows.Add(new(row.Name, after, first ? Format.Fixed(after, 2, "W/cm²") : "× " + Format.Fixed(row.Factor, 3))
            {
                From = before,
                Tone = first ? Tone.Ink : after < before ? Tone.Second : Tone.First,
            });
            before = after;
        }

        rows.Add(new("at the bond", before, Format.Fixed(before, 2, "W/cm²")) { Tone = Tone.Ink });
        return new Figure
        {
            Title = "Where does the light go between source and bond?",
            Subtitle = "Nominal irradiance after each factor: new emitter, new guide, clean tips, every quantity at its mean",
            X = new Axis("Irradiance", "W/cm²") { FromZero = true },
            Y = new Axis(""),
            Height = Math.Max(300, 170 + (36 * rows.Count)),
            Layers = [new Bars(rows.ToImmutable())],
            Note = leftOut ? "Factors that round to 1.000 are left out." : null,
        };
    }

    /// <summary>The axis of a response under its bars, with room beside a limit that stands outside them.</summary>
    public static Axis XAxis(RunResponse response, params ReadOnlySpan<Histogram> bars)
    {
        var (from, to) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var b in bars)
        {
            (from, to) = (Math.Min(from, b.Edges[0]), Math.Max(to, b.Edges[^1]));
        }

        (double barsFrom, double barsTo) = (from, to);
        foreach (double limit in new[] { response.Limits.Lower, response.Limits.Target, response.Limits.Upper }.OfType<double>())
        {
            (from, to) = (Math.Min(from, limit), Math.Max(to, limit));
        }

        double room = 0.03 * (to - from);
        return new Axis(response.Title, response.Unit) { From = from < barsFrom ? from - room : from, To = to > barsTo ? to + room : to };
    }

    /// <summary>Limits and target of a response as layers.</summary>
    public static IEnumerable<Layer> Limits(RunResponse response, Along axis)
    {
        if (response.Limits.Target is { } target)
        {
            yield return new Target(axis, target, $"target {Format.Value(target)}");
        }

        if (response.Limits.Lower is { } lower)
        {
            yield return new Limit(axis, lower, $"lower limit {Format.Value(lower)}");
        }

        if (response.Limits.Upper is { } upper)
        {
            yield return new Limit(axis, upper, $"upper limit {Format.Value(upper)}");
        }
    }

    /// <summary>Fine bins gathered into bars of one width, a round number of the response's unit. A fine bin across an edge is shared out by length.</summary>
    public static (Histogram Layer, double Width) Bars(RunFindings findings, RunResponse response, double[] edges, long[] counts)
    {
        double from = RunMeasures.Quantile(findings.Run.Whole, response.Index, OuterShare) ?? edges[0];
        double to = RunMeasures.Quantile(findings.Run.Whole, response.Index, 1.0 - OuterShare) ?? edges[^1];
        double width = RoundWidth(Math.Max(to - from, 1e-9 * Math.Abs(to)) / MostBars);
        long first = (long)Math.Floor(from / width), last = (long)Math.Ceiling(to / width);
        return (Bars(edges, counts, width, first, Math.Max(last, first + 1)), width);
    }

    /// <summary>Bars of a given width from first·width to last·width.</summary>
    public static Histogram Bars(double[] edges, long[] counts, double width, long first, long last, string? label = null, Tone tone = Tone.First, bool outline = false)
    {
        double[] heights = new double[last - first];
        double total = counts.Sum(c => (double)c);
        for (int i = 0; i < counts.Length; i++)
        {
            double low = edges[i], high = edges[i + 1];
            for (long k = Math.Max(first, (long)Math.Floor(low / width)); k < last && k * width < high; k++)
            {
                double share = (Math.Min(high, (k + 1) * width) - Math.Max(low, k * width)) / (high - low);
                heights[k - first] += Math.Max(0.0, share) * counts[i] * 100.0 / total;
            }
        }

        return new([.. Enumerable.Range(0, heights.Length + 1).Select(i => (first + i) * width)], [.. heights], label, tone, outline);
    }

    /// <summary>The smallest of 1, 2, 5 times a power of ten that is not below a width.</summary>
    public static double RoundWidth(double atLeast)
    {
        double power = Math.Pow(10.0, Math.Floor(Math.Log10(atLeast)));
        return new[] { 1.0, 2.0, 5.0, 10.0 }.Select(f => f * power).First(w => w >= atLeast * (1.0 - 1e-9));
    }

    private static string Methods(RunFindings findings, RunResponse response) => PercentileCapability.Compare(
        RunMeasures.Overall(findings.Run.Whole, response.Index), RunMeasures.Percentile(findings.Run.Whole, response.Index)).Statement;

    private static string Outside(RunFindings findings, RunResponse response)
    {
        if (!response.IsLimited)
        {
            return "";
        }

        var summary = findings.Run.Whole.Summary;
        long bonds = summary.BondsByBin.Sum();

        // Plain counts: a fraction belongs beside its interval, which key_figures gives or withholds.
        string Side(long count, string side) => $"{(count == 0 ? "none" : Format.Count(count))} {side}";
        var sides = new List<string>();
        if (response.Limits.Lower is not null)
        {
            sides.Add(Side(summary.BelowLower[response.Index], "below"));
        }

        if (response.Limits.Upper is not null)
        {
            sides.Add(Side(summary.AboveUpper[response.Index], "above"));
        }

        return bonds > 0 ? $"; of {Format.Count(bonds)} bonds " + string.Join(", ", sides) : "";
    }
}

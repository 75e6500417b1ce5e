using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>Pictures of a sample: histogram, normal probability plot, values in the order of the file.</summary>
public static class CapabilityFigures
{
    private const int MostInOrder = 5000; // more dots would only make a band, and a heavy file
    private const int MostOnPlot = 150;

    /// <summary>All pictures.</summary>
    public static ImmutableArray<(string Name, Figure Figure)> Of(CapabilityAnalysis analysis, CapabilityContext context)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        ArgumentNullException.ThrowIfNull(context);
        var figures = ImmutableArray.CreateBuilder<(string, Figure)>();
        figures.Add(("histogram", SampleHistogram.Of(analysis, context)));
        figures.Add(("normal_plot", NormalPlotFigure(analysis, context)));
        if (analysis.Sample.Values.Count <= MostInOrder)
        {
            figures.Add(("values_in_order", InOrder(analysis, context)));
        }

        return figures.ToImmutable();
    }

    /// <summary>Limits and target as layers.</summary>
    internal static IEnumerable<Layer> Limits(LimitPair limits, Along axis)
    {
        if (limits.Target is { } target)
        {
            yield return new Target(axis, target, $"target {Format.Value(target)}");
        }

        if (limits.Lower is { } lower)
        {
            yield return new Limit(axis, lower, $"lower limit {Format.Value(lower)}");
        }

        if (limits.Upper is { } upper)
        {
            yield return new Limit(axis, upper, $"upper limit {Format.Value(upper)}");
        }
    }

    private static Figure NormalPlotFigure(CapabilityAnalysis analysis, CapabilityContext context)
    {
        double[] sorted = [.. analysis.Sample.Values];
        Array.Sort(sorted);
        double mean = analysis.Moments.Mean, s = analysis.Moments.StandardDeviation!.Value;
        var points = NormalPlot.Of(sorted, NormalPlot.Ranks(sorted.Length, MostOnPlot), mean, s);
        ImmutableArray<double> z = [.. points.Select(p => p.Quantile)];
        string verdict = analysis.Normality.Refused switch { true => "No: normality is refused", false => "Normality is not refused", null => "Too few values to test normality" };
        return new Figure
        {
            Title = $"Does the {context.Words} follow a normal law?",
            Subtitle = $"{verdict}; {CapabilityWords.Tests(analysis.Normality)}",
            X = new Axis("Standard normal quantile"),
            Y = new Axis(context.Title, context.Unit),
            Layers =
            [
                new Band(z, [.. points.Select(p => p.Lower)], [.. points.Select(p => p.Upper)], "95 % of normal samples", Tone.Second),
                new Line(z, [.. z.Select(q => mean + (s * q))], "normal fit", Tone.Second),
                new Points(z, [.. points.Select(p => p.Value)]),
                .. Limits(analysis.Settings.Limits, Along.Y),
            ],
            Note = $"{Format.Count(sorted.Length)} values{(points.Count < sorted.Length ? $", {Format.Count(points.Count)} of them drawn" : "")}; plotting position (i − 3/8)/(n + 1/4). "
                + "The band holds for each point by itself: a few points outside are no sign.",
        };
    }

    private static Figure InOrder(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var values = analysis.Sample.Values;
        ImmutableArray<double> place = [.. Enumerable.Range(1, values.Count).Select(i => (double)i)];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        if (analysis.Groups is { } groups && analysis.Sample.Groups is { Count: > 0 } names)
        {
            var means = groups.Groups.ToDictionary(g => g.Name, g => g.Moments.Mean, StringComparer.Ordinal);
            layers.Add(new Line(place, [.. names.Select(n => means[n])], "mean of the group", Tone.Second, Stepped: true));
        }

        layers.Add(new Points(place, [.. values]));
        layers.AddRange(Limits(analysis.Settings.Limits, Along.Y));
        return new Figure
        {
            Title = $"Does the {context.Words} drift or jump?",
            Subtitle = $"{Format.Count(values.Count)} values in the order of the file" + (analysis.Groups is { } g ? $", {Format.Count(g.Groups.Count)} groups by {PlainText.OneLine(context.Group ?? "")}" : ""),
            X = new Axis("Place in the file") { WholeNumbers = true, From = 0.0, To = values.Count + 1.0 },
            Y = new Axis(context.Title, context.Unit),
            Layers = layers.ToImmutable(),
            Note = analysis.Groups switch
            {
                { Differ: true } found => $"The group means differ by more than chance ({IntervalText.Probability(found.Components!.PValue!.Value)}): the process is not in statistical control (ISO 22514).",
                { Differ: false } found => $"The group means do not differ by more than chance ({IntervalText.Probability(found.Components!.PValue!.Value)}).",
                _ => null,
            },
        };
    }
}

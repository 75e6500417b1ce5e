using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;
using CureSim.Studies.Capability;

namespace CureSim.Reports.Capability;

/// <summary>Histogram of a sample with limits, fitted curve and tolerance interval.</summary>
internal static class SampleHistogram
{
    private const int CurvePoints = 241;
    private const int MostBars = 80;

    /// <summary>The picture.</summary>
    public static Figure Of(CapabilityAnalysis analysis, CapabilityContext context)
    {
        var (bars, width) = Bars(analysis);
        var (from, to) = Axis(analysis, bars);
        var curve = Curve(analysis, from, to, width);
        double top = Math.Max(bars.Heights.Max(), curve.Y.Max());
        var layers = ImmutableArray.CreateBuilder<Layer>();
        string interval = "";
        if (Interval(analysis) is { } shown)
        {
            layers.Add(new Band([shown.Lower ?? from, shown.Upper ?? to], [0.0, 0.0], [top, top], Tone: Tone.Fifth));
            interval = $"; light area, the tolerance interval: {IntervalText.Stated(analysis.Settings.Reliability)} of the output with {CapabilityWords.Confidence(analysis)} confidence, {CapabilityWords.Method(shown)}";
        }

        layers.Add(bars);
        layers.Add(curve);
        layers.AddRange(CapabilityFigures.Limits(analysis.Settings.Limits, Along.X));
        string outside = analysis.Outside.Count == 0 ? "none outside" : $"{Format.Count(analysis.Outside.Count)} outside";
        return new Figure
        {
            Title = $"Is the {context.Words} inside the limits?",
            Subtitle = $"{Format.Count(analysis.Moments.Count)} values, {outside}; Ppk {Index(analysis)}",
            X = new Axis(context.Title, context.Unit) { From = from, To = to },
            Y = new Axis("Share of values", $"% per {Format.Value(width, context.Unit, 3)}") { FromZero = true },
            Layers = layers.ToImmutable(),
            Note = Sentence(CapabilityWords.WhichToUse(analysis)) + interval + ".",
        };
    }

    private static string Index(CapabilityAnalysis analysis) => analysis.Use switch
    {
        JudgingIndex.Percentiles when analysis.Percentiles.Ppk is { Value: { } v, Lower95: { } l, Upper95: { } u } => $"{Format.Interval(v, l, u)} by percentiles",
        JudgingIndex.PowerTransform => $"{IntervalText.Of(analysis.Power.Ppk)} after a Box–Cox power",
        JudgingIndex.None => "withheld",
        _ => IntervalText.Of(analysis.Overall.Ppk),
    };

    private static string Sentence(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    private static ToleranceInterval? Interval(CapabilityAnalysis analysis) =>
        analysis.Normality.Refused is not true ? analysis.Tolerance.Normal : analysis.Tolerance.Wilks.Withheld is null ? analysis.Tolerance.Wilks : null;

    // Bars of a round width, a whole number of reading steps where the readings are rounded, with edges between the steps.
    private static (Histogram Bars, double Width) Bars(CapabilityAnalysis analysis)
    {
        var values = analysis.Sample.Values;
        double least = values.Min(), most = values.Max();
        double[] sorted = [.. values];
        Array.Sort(sorted);

        // 2 IQR/n^(1/3) (D. Freedman and P. Diaconis, Z. Wahrsch. verw. Geb. 57 (1981) 453), halved because a round width is up to 2.5 times as wide.
        double quartiles = SampleQuantile.OfSorted(sorted, 0.75) - SampleQuantile.OfSorted(sorted, 0.25);
        double width = SpreadFigures.RoundWidth(Math.Max(quartiles / Math.Cbrt(values.Count), (most - least) / MostBars)), offset = 0.0;
        if (analysis.Screening.Resolution is { } step && step <= most - least)
        {
            width = Math.Max(1.0, Math.Round(width / step)) * step;
            offset = -0.5 * step;
        }

        long first = (long)Math.Floor((least - offset) / width), last = Math.Max(first + 1, (long)Math.Floor((most - offset) / width) + 1);
        double[] heights = new double[last - first];
        foreach (double x in values)
        {
            heights[Math.Clamp((long)Math.Floor((x - offset) / width) - first, 0, heights.Length - 1)] += 100.0 / values.Count;
        }

        return (new([.. Enumerable.Range(0, heights.Length + 1).Select(i => offset + ((first + i) * width))], [.. heights]), width);
    }

    private static (double From, double To) Axis(CapabilityAnalysis analysis, Histogram bars)
    {
        double mean = analysis.Moments.Mean, reach = 3.5 * analysis.Moments.StandardDeviation!.Value;
        double from = Math.Min(bars.Edges[0], mean - reach), to = Math.Max(bars.Edges[^1], mean + reach);
        if (analysis.Use != JudgingIndex.Moments || analysis.Sample.Values.All(v => v >= 0.0))
        {
            from = Math.Max(from, Math.Min(bars.Edges[0], 0.0));
        }

        double[] marked = [.. new[] { analysis.Settings.Limits.Lower, analysis.Settings.Limits.Target, analysis.Settings.Limits.Upper, Interval(analysis)?.Lower, Interval(analysis)?.Upper }.OfType<double>()];
        (from, to) = (Math.Min(from, marked.Min()), Math.Max(to, marked.Max()));
        double room = 0.03 * (to - from);
        return (from - room, to + room);
    }

    private static Line Curve(CapabilityAnalysis analysis, double from, double to, double width)
    {
        double mean = analysis.Moments.Mean, s = analysis.Moments.StandardDeviation!.Value;
        bool power = analysis.Use is JudgingIndex.PowerTransform;
        double[] x = [.. Enumerable.Range(0, CurvePoints).Select(i => from + ((to - from) * i / (CurvePoints - 1.0))).Where(v => !power || v > 0.0)];
        if (power)
        {
            double lambda = analysis.Power.Lambda.Value!.Value;
            double[] transformed = [.. analysis.Sample.Values.Select(v => BoxCox.Transform(v, lambda))];
            var moments = SampleMoments.Of(transformed);

            // Density of x when its transform is normal: φ times dy/dx = x^(λ − 1).
            return new([.. x], [.. x.Select(v => 100.0 * width * Density(BoxCox.Transform(v, lambda), moments.Mean, moments.StandardDeviation!.Value) * Math.Pow(v, lambda - 1.0))], "fit after power", Tone.Second);
        }

        bool refused = analysis.Normality.Refused is true;
        return new([.. x], [.. x.Select(v => 100.0 * width * Density(v, mean, s))], refused ? "normal fit, refused" : "normal fit", refused ? Tone.Quiet : Tone.Second);
    }

    private static double Density(double x, double mean, double deviation) =>
        Math.Exp(-0.5 * (x - mean) * (x - mean) / (deviation * deviation)) / (deviation * Math.Sqrt(2.0 * Math.PI));
}

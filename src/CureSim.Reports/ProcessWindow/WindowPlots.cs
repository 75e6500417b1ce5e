using System.Collections.Immutable;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.ProcessWindow;

namespace CureSim.Reports.ProcessWindow;

/// <summary>The figures of the process-window study.</summary>
public static class WindowPlots
{
    private static readonly Tone[] Tones = [Tone.Second, Tone.Third, Tone.Fourth, Tone.Fifth];

    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(WindowResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        yield return ("window_map", Map(result));
        if (Edges(result.Map) is { } edges)
        {
            yield return ("window_edges", edges);
        }

        yield return ("margins_up", Margins(result.Map, up: true));
        yield return ("margins_along", Margins(result.Map, up: false));
    }

    private static Figure Map(WindowResult result)
    {
        var map = result.Map;
        var study = map.Case;
        var layers = new List<Layer>
        {
            new Map(map.X, map.Y, [.. map.Nodes.SelectMany(c => c.Select(n => n.Smallest))], Contours(map)) { Requirement = Levels(map).Contains(0.0) ? 0.0 : null },
        };
        layers.AddRange(EqualDose(map));
        if (map.Rectangle is { } r)
        {
            layers.Add(new Region(r.FromX, r.ToX, r.FromY, r.ToY, "operating rectangle"));
        }

        var corners = result.Challenges.Where(c => c.Name != "set-point, nominal").ToArray();
        if (corners.Length > 0 && map.Rectangle is not null)
        {
            layers.Add(new Points([.. corners.Select(c => c.X)], [.. corners.Select(c => c.Y)], null, Tone.Ink) { Shape = MarkShape.Square });
        }

        layers.Add(new Points([map.SetPoint.X], [map.SetPoint.Y], map.IsEmpty ? "nearest" : "set-point", Tone.Ink) { Shape = MarkShape.Diamond });
        if (map.Own is { } own && (own.X != map.SetPoint.X || own.Y != map.SetPoint.Y) && own.X >= map.X[0] && own.X <= map.X[^1] && own.Y >= map.Y[0] && own.Y <= map.Y[^1])
        {
            layers.Add(new Points([own.X], [own.Y], "set today", Tone.Ink));
        }

        return new Figure
        {
            Title = map.IsEmpty ? "Which settings hold the requirement? None." : "Which settings hold the requirement?",
            Subtitle = $"Smallest margin in state index, 0 is the requirement. {Sample(map)}.",
            Note = (study.IsUsual ? $"Grey lines: equal set dose. {(corners.Length > 0 && map.Rectangle is not null ? "Squares: challenge points. " : "")}" : "") + (map.Rectangle is null ? "No rectangle holds the requirement with the stated confidence." : $"The rectangle holds it {WindowWords.Sure(study)} at all its settings together."),
            X = AxisOf(study.X), Y = AxisOf(study.Y), Layers = [.. layers], Width = 800, Height = 620,
        };
    }

    private static IEnumerable<Layer> EqualDose(WindowMap map)
    {
        if (!map.Case.IsUsual)
        {
            yield break;
        }

        double centre = map.SetPoint.X * map.SetPoint.Y;
        foreach (double factor in (double[])[0.5, 1.0, 2.0])
        {
            double dose = centre * factor;
            double[] xs = [.. Enumerable.Range(0, 101).Select(i => map.X[0] * Math.Pow(map.X[^1] / map.X[0], i / 100.0)).Where(x => dose / x >= map.Y[0] && dose / x <= map.Y[^1])];
            if (xs.Length > 12)
            {
                yield return new Line([.. xs], [.. xs.Select(x => dose / x)], null, Tone.Quiet);
            }
        }
    }

    private static double[] Levels(WindowMap map)
    {
        double low = map.Nodes.Min(c => c.Min(n => n.Smallest)), high = map.Nodes.Max(c => c.Max(n => n.Smallest));
        double[] all = [-2.0, -1.0, -0.5, 0.0, 0.1, 0.2, 0.4, 0.8];
        double[] kept = [.. all.Where(v => v > low && v < high)];
        return kept.Length > 0 ? kept : [0.5 * (low + high)];
    }

    private static ImmutableArray<NamedValue> Contours(WindowMap map) => [.. Levels(map).Select(v => new NamedValue(v == 0.0 ? "0, requirement" : (v > 0.0 ? "+" : "") + Format.Value(v, null, 2), v))];

    private static Figure? Edges(WindowMap map)
    {
        Crossing[] lower = [.. map.X.Select(x => map.Crossings.FirstOrDefault(c => c.X == x && c.Rising)).OfType<Crossing>()];
        Crossing[] upper = [.. map.X.Select(x => map.Crossings.LastOrDefault(c => c.X == x && !c.Rising)).OfType<Crossing>()];
        if (lower.Length < 2 && upper.Length < 2)
        {
            return null;
        }

        var layers = new List<Layer>();
        foreach (var (edge, name, tone) in ((Crossing[], string, Tone)[])[(lower, "shortest", Tone.First), (upper, "longest", Tone.Second)])
        {
            if (edge.Length < 2)
            {
                continue;
            }

            ImmutableArray<double> x = [.. edge.Select(c => c.X)];
            if (edge.All(c => c.Band is { Lower05: not null }))
            {
                layers.Add(new Band(x, [.. edge.Select(c => c.Band!.Lower05!.Value)], [.. edge.Select(c => c.Band!.Upper95!.Value)], null, tone));
            }
            else
            {
                layers.Add(new Band(x, [.. edge.Select(c => Math.Max(map.Y[0] * 0.8, c.Lower95))], [.. edge.Select(c => Math.Min(map.Y[^1] * 1.25, c.Upper95))], null, tone));
            }

            layers.Add(new Line(x, [.. edge.Select(c => c.Y)], name, tone));
            if (map.Case.IsUsual)
            {
                var from = edge[edge.Length / 2];
                double dose = from.X * from.Y;
                layers.Add(new Line(x, [.. x.Select(v => dose / v)], "equal dose", Tone.Quiet));
            }
        }

        return new Figure
        {
            Title = "Where are the edges of the window, and how sure is that?",
            Subtitle = map.Case.Worlds > 1 ? $"Bands: 5 to 95 % of worlds (what is unknown). {Sample(map)}." : $"Bands: 95 % Monte-Carlo intervals. {Sample(map)}.",
            Note = map.Case.IsUsual ? "Equal dose: the same set irradiance × time as in the middle of the edge. Where the edge leaves it, reciprocity fails." : null,
            X = AxisOf(map.Case.X), Y = AxisOf(map.Case.Y), Layers = [.. layers],
        };
    }

    private static Figure Margins(WindowMap map, bool up)
    {
        var study = map.Case;
        NodeFigures[] nodes = up ? [.. map.Known[map.SetPointColumn]] : [.. map.Nodes.Select(c => c[map.SetPointRow])];
        double Place(NodeFigures n) => up ? n.Y : n.X;
        var axis = up ? study.Y : study.X;
        double top = Math.Min(NodeFigures.Cap, Math.Max(0.6, 1.25 * nodes.Max(n => n.Smallest) + 0.4)), best = nodes.Max(n => n.Smallest);
        double bottom = Math.Max(Math.Min(-2.0, best - 1.0), Math.Min(-0.3, nodes.Min(n => n.Smallest)));
        double Shown(double v) => v > top || v < bottom ? double.NaN : v;
        ImmutableArray<double> x = [.. nodes.Select(Place)];
        var layers = new List<Layer>();
        for (int r = 0; r < study.Limits.Length && r < Tones.Length; r++)
        {
            int limit = r;
            double[] y = [.. nodes.Select(n => Shown(n.Own[limit].Mean))];
            if (y.Count(double.IsFinite) > 1)
            {
                layers.Add(new Line(x, [.. y], study.Limits[r].Name, Tones[r]));
            }
        }

        double[] fraction = [.. nodes.Select(n => Shown(n.Conforming.Mean))];
        if (fraction.Count(double.IsFinite) > 1)
        {
            layers.Add(new Line(x, [.. fraction], "conforming fraction", Tone.First));
        }

        layers.Add(new Limit(Along.Y, 0.0, "requirement"));
        layers.Add(new Target(Along.X, Place(map.SetPoint), map.IsEmpty ? "nearest" : "set-point"));
        return new Figure
        {
            Title = $"What binds along {axis.Label.ToLowerInvariant()}?",
            Subtitle = $"Margins in state index at {(up ? WindowWords.At(study.X, map.SetPoint.X) : WindowWords.At(study.Y, map.SetPoint.Y))}; of each limit alone, and of the conforming fraction. {Sample(map)}.",
            Note = "Margins of limits: 5th percentile over cells of the state index just before a check, less the required one.",
            X = AxisOf(axis), Y = new Axis("Margin, state index") { From = bottom, To = top }, Layers = [.. layers],
        };
    }

    private static Axis AxisOf(WindowAxis axis) => new(axis.Label, axis.Unit.Length == 0 ? null : axis.Unit) { Scale = AxisScale.Logarithmic, From = axis.From, To = axis.To };

    private static string Sample(WindowMap map)
    {
        var run = map.Case.Cell.Run;
        return run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds of {Format.Count(run.LifetimesPerWorld)} lifetimes, the same at every setting" : $"{Format.Count(run.LifetimesPerWorld)} lifetimes, the same at every setting";
    }
}

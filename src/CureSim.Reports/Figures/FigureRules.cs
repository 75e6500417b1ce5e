using System.Collections.Immutable;
using System.Globalization;

namespace CureSim.Reports.Figures;

/// <summary>What must hold before a figure is drawn.</summary>
public static class FigureRules
{
    /// <summary>Refuses a figure that would be drawn wrongly or not at all.</summary>
    /// <exception cref="ArgumentException">The first fault; the message names the figure.</exception>
    public static void Check(Figure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        if (Fault(figure) is { } fault)
        {
            throw new ArgumentException($"Figure '{figure.Title}': {fault}.", nameof(figure));
        }
    }

    private static string? Fault(Figure figure)
    {
        if (string.IsNullOrWhiteSpace(figure.Title))
        {
            return "it has no title";
        }

        if (figure.Width is < 400 or > 4000 || figure.Height is < 250 or > 4000)
        {
            return "its size is outside 400 to 4000 by 250 to 4000 drawing units";
        }

        if (figure.Layers.IsDefaultOrEmpty)
        {
            return "it has no layers";
        }

        if (figure.Layers.OfType<Bars>().Count() > 1)
        {
            return "it has two sets of bars";
        }

        if (figure.Layers.Any(l => l is Bars) && figure.Layers.Any(l => l is not (Bars or Percentiles) && !(l is Limit { Axis: Along.X } or Target { Axis: Along.X })))
        {
            return "beside bars only values of X can be marked";
        }

        return AxisFault(figure.X) ?? AxisFault(figure.Y)
            ?? figure.Layers.Select(layer => LayerFault(layer) ?? ScaleFault(layer, figure)).FirstOrDefault(f => f is not null);
    }

    private static string? AxisFault(Axis axis)
    {
        bool positive = axis.Scale != AxisScale.Logarithmic || ((axis.From ?? 1) > 0 && (axis.To ?? 1) > 0);
        bool finite = double.IsFinite(axis.From ?? 0) && double.IsFinite(axis.To ?? 0);
        return !finite || !positive || (axis.From is { } from && axis.To is { } to && !(from < to))
            ? $"the ends of the axis '{axis.Label}' are not a rising pair of finite numbers, above zero on a logarithmic axis"
            : axis.Names.IsDefault ? $"the axis '{axis.Label}' has no list of names" : null;
    }

    private static string? LayerFault(Layer layer) => layer switch
    {
        Line l => Same(l.X, l.Y) && Finite(l.X) && !l.Y.Any(double.IsInfinity) ? Enough(l.X, 2)
            : "a line needs as many finite abscissae as ordinates",
        Band b => Same(b.X, b.Lower) && Same(b.X, b.Upper) && Rising(b.X) && Finite(b.Lower) && Finite(b.Upper)
            && b.Lower.Zip(b.Upper).All(p => p.First <= p.Second) ? Enough(b.X, 2)
            : "a band needs rising abscissae and as many lower and upper ends, the upper not below",
        Histogram h => !h.Edges.IsDefault && !h.Heights.IsDefault && h.Edges.Length == h.Heights.Length + 1 && Rising(h.Edges) && NotNegative(h.Heights)
            ? Enough(h.Edges, 2) : "a histogram needs rising edges, one more than heights, and no negative height",
        Points p => PointsFault(p),
        Stack s => s.Areas.Length is >= 1 and <= 5 && Rising(s.X) && s.Areas.All(a => Same(s.X, a.Heights) && NotNegative(a.Heights))
            ? Enough(s.X, 2) : "a stack needs one to five areas with a height, not negative, at each rising abscissa",
        Limit l => double.IsFinite(l.Value) ? null : $"the limit '{l.Label}' is not finite",
        Target t => double.IsFinite(t.Value) ? null : $"the target '{t.Label}' is not finite",
        Percentiles p => p.Values.All(v => double.IsFinite(v.Value)) ? null : "a percentile is not finite",
        Events e => Finite(e.X) ? null : $"a time of '{e.Label}' is not finite",
        Region r => r.FromX < r.ToX && r.FromY < r.ToY && Finite([r.FromX, r.ToX, r.FromY, r.ToY]) ? null : "a region has no extent",
        Bars b => b.Rows.Length is >= 1 and <= 40 && b.Rows.All(r => Finite([r.From, r.To, r.Lower ?? 0, r.Upper ?? 0]))
            ? null : "bars need 1 to 40 rows of finite values",
        Map m => MapFault(m),
        _ => $"the layer {layer.GetType().Name} is not known",
    };

    private static string? PointsFault(Points p)
    {
        if (!Same(p.X, p.Y) || !Finite(p.X) || !Finite(p.Y))
        {
            return "points need as many finite abscissae as ordinates";
        }

        bool intervals = p.Lower.IsEmpty == p.Upper.IsEmpty
            && (p.Lower.IsEmpty || (Same(p.X, p.Lower) && Same(p.X, p.Upper) && Finite(p.Lower) && Finite(p.Upper)));
        return !intervals || (!p.Names.IsEmpty && p.Names.Length != p.X.Length)
            ? "the intervals or names of points are not as many as the points" : null;
    }

    private static string? MapFault(Map m)
    {
        if (m.X.IsDefault || m.Y.IsDefault || m.X.Length < 2 || m.Y.Length < 2 || !Rising(m.X) || !Rising(m.Y) || m.Values.Length != m.X.Length * m.Y.Length
            || m.Values.Any(double.IsInfinity) || m.OtherSide.Any(double.IsInfinity) || (!m.OtherSide.IsEmpty && m.OtherSide.Length != m.Values.Length))
        {
            return "a map needs at least two rising abscissae and ordinates and a value at each node";
        }

        if (m.Contours.Length is < 1 or > 9 || !Rising([.. m.Contours.Select(c => c.Value)]))
        {
            return "a map needs one to nine rising contours";
        }

        return m.Requirement is { } level && m.Contours.All(c => c.Value != level)
            ? string.Create(CultureInfo.InvariantCulture, $"the requirement {level} of a map is none of its contours") : null;
    }

    private static string? ScaleFault(Layer layer, Figure figure)
    {
        if (layer is Histogram or Stack && figure.Y.Scale == AxisScale.Logarithmic)
        {
            return "bars and areas stand on zero, which a logarithmic axis lacks";
        }

        if (layer is Bars b && figure.X.Scale == AxisScale.Logarithmic && b.Rows.Any(r => r.From <= 0))
        {
            return "bars stand on zero, which a logarithmic axis lacks";
        }

        Extent x = Extent.OfX([layer]);
        Extent y = Extent.OfY([layer]);
        bool below = (figure.X.Scale == AxisScale.Logarithmic && x.From <= 0) || (figure.Y.Scale == AxisScale.Logarithmic && y.From <= 0);
        return below ? "a value at or below zero stands on a logarithmic axis" : null;
    }

    private static string? Enough(ImmutableArray<double> values, int count) =>
        values.Length >= count ? null : string.Create(CultureInfo.InvariantCulture, $"a layer has fewer than {count} points");

    private static bool Same(ImmutableArray<double> a, ImmutableArray<double> b) => !a.IsDefault && !b.IsDefault && a.Length == b.Length;

    private static bool Finite(ImmutableArray<double> values) => !values.IsDefault && values.All(double.IsFinite);

    private static bool NotNegative(ImmutableArray<double> values) => values.All(v => v >= 0 && double.IsFinite(v));

    private static bool Rising(ImmutableArray<double> values) =>
        Finite(values) && values.Zip(values.Skip(1)).All(p => p.First < p.Second);
}

namespace CureSim.Reports.Figures;

/// <summary>Smallest and largest value of layers along one axis; empty when <see cref="From"/> is above <see cref="To"/>.</summary>
internal readonly record struct Extent(double From, double To)
{
    public static Extent Empty => new(double.PositiveInfinity, double.NegativeInfinity);

    public bool IsEmpty => From > To;

    public static Extent OfX(IEnumerable<Layer> layers) => layers.SelectMany(XValues).Aggregate(Empty, (e, v) => e.With(v));

    public static Extent OfY(IEnumerable<Layer> layers) => layers.SelectMany(YValues).Aggregate(Empty, (e, v) => e.With(v));

    private Extent With(double value) => double.IsNaN(value) ? this : new Extent(Math.Min(From, value), Math.Max(To, value));

    private static IEnumerable<double> XValues(Layer layer) => layer switch
    {
        Line l => l.X,
        Band b => b.X,
        Histogram h => h.Edges,
        Points p => p.X,
        Stack s => s.X,
        Limit { Axis: Along.X } l => [l.Value],
        Target { Axis: Along.X } t => [t.Value],
        Percentiles p => p.Values.Select(v => v.Value),
        Events e => e.X,
        Region r => [r.FromX, r.ToX],
        Map m => m.X,
        Bars b => b.Rows.SelectMany(r => new[] { r.From, r.To, r.Lower ?? r.To, r.Upper ?? r.To }),
        _ => [],
    };

    private static IEnumerable<double> YValues(Layer layer) => layer switch
    {
        Line l => l.Y,
        Band b => b.Lower.Concat(b.Upper),
        Histogram h => h.Heights.Append(0),
        Points p => p.Y.Concat(p.Lower).Concat(p.Upper),
        Stack s => Enumerable.Range(0, s.X.Length).Select(i => s.Areas.Sum(a => a.Heights[i])).Append(0),
        Limit { Axis: Along.Y } l => [l.Value],
        Target { Axis: Along.Y } t => [t.Value],
        Region r => [r.FromY, r.ToY],
        Map m => m.Y,
        _ => [],
    };
}

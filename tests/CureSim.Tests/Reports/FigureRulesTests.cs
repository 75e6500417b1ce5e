using CureSim.Reports.Figures;
using CureSim.Reports.Rendering;

namespace CureSim.Tests.Reports;

public class FigureRulesTests
{
    public static TheoryData<string, Layer> Faults => new()
    {
        { "as many", new Line([0, 1, 2], [0, 1]) },
        { "as many", new Line([0, double.NaN], [0, 1]) },
        { "as many", new Line([0, 1], [0, double.PositiveInfinity]) },
        { "fewer than 2", new Line([0], [1]) },
        { "band", new Band([0, 1], [0, 2], [1, 1]) },
        { "band", new Band([1, 0], [0, 0], [1, 1]) },
        { "histogram", new Histogram([0, 1], [1, 2]) },
        { "histogram", new Histogram([0, 1, 2], [1, -2]) },
        { "points", new Points([0, 1], [1]) },
        { "intervals", new Points([0, 1], [1, 2]) { Lower = [0, 0] } },
        { "names", new Points([0, 1], [1, 2]) { Names = ["one"] } },
        { "stack", new Stack([0, 1], [new("a", [1, -1])]) },
        { "limit 'top'", new Limit(Along.Y, double.NaN, "top") },
        { "target 'mid'", new Target(Along.Y, double.NegativeInfinity, "mid") },
        { "percentile", new Percentiles([new("5 %", double.NaN)]) },
        { "time of 'check'", new Events([double.NaN], "check") },
        { "no extent", new Region(1, 1, 0, 2) },
        { "beside bars", new Bars([new("a", 1, "1")]) },
        { "map", new Map([0, 1], [0, 1], [1, 2, 3], [new("1", 1)]) },
        { "contours", new Map([0, 1], [0, 1], [1, 2, 3, 4], [new("2", 2), new("1", 1)]) },
        { "none of its contours", new Map([0, 1], [0, 1], [1, 2, 3, 4], [new("1", 1)]) { Requirement = 2 } },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void Check_FaultyLayer_RefusedWithTheFiguresTitle(string says, Layer layer)
    {
        Figure figure = With(new Line([0, 1], [0, 1]), layer);
        var error = Assert.Throws<ArgumentException>(() => FigureRenderer.Png(figure));
        Assert.Contains("'Why?'", error.Message, StringComparison.Ordinal);
        Assert.Contains(says, error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => FigureRenderer.Svg(figure));
        Assert.Throws<ArgumentException>(() => FigureRenderer.Pdf(figure));
    }

    [Fact]
    public void Check_NoTitleLayersOrSize_Refused()
    {
        Figure good = With(new Line([0, 1], [0, 1]));
        FigureRules.Check(good);
        Assert.Throws<ArgumentException>(() => FigureRules.Check(good with { Title = " " }));
        Assert.Throws<ArgumentException>(() => FigureRules.Check(good with { Layers = [] }));
        Assert.Throws<ArgumentException>(() => FigureRules.Check(good with { Layers = default }));
        Assert.Throws<ArgumentException>(() => FigureRules.Check(good with { Width = 100 }));
        Assert.Throws<ArgumentException>(() => FigureRules.Check(good with { X = good.X with { From = 2, To = 1 } }));
        Assert.Throws<ArgumentException>(() => FigureRules.Check(good with { X = good.X with { From = double.NaN } }));
    }

    [Fact]
    public void Check_NotAboveZeroOnLogarithmicAxis_Refused()
    {
        Figure figure = With(new Line([1, 10], [0, 1])) with { X = new Axis("x") { Scale = AxisScale.Logarithmic } };
        FigureRules.Check(figure);
        Figure wrong = figure with { Y = new Axis("y") { Scale = AxisScale.Logarithmic } };
        Assert.Contains("logarithmic", Assert.Throws<ArgumentException>(() => FigureRules.Check(wrong)).Message, StringComparison.Ordinal);
        Figure bars = With(new Histogram([1, 2, 3], [1, 1])) with { Y = new Axis("y") { Scale = AxisScale.Logarithmic } };
        Assert.Throws<ArgumentException>(() => FigureRules.Check(bars));
    }

    private static Figure With(params Layer[] layers) =>
        new() { Title = "Why?", X = new Axis("x"), Y = new Axis("y"), Layers = [.. layers] };
}

using System.Collections.Immutable;
using CureSim.Reports.Figures;
using CureSim.Reports.Rendering;
using OxyPlot;
using SkiaSharp;

namespace CureSim.Tests.Reports;

public class MapTests
{
    private static readonly ImmutableArray<double> Nodes = [.. Enumerable.Range(0, 41).Select(i => -2 + (i * 0.1))];

    /// <summary>x² + y² = 1: the contour is the unit circle, closed, and every point of it lies on it.</summary>
    [Fact]
    public void Contour_OfRadiusSquared_IsTheCircle()
    {
        (MapField field, PlotFrame frame) = Field((x, y) => (x * x) + (y * y));
        List<ScreenPoint> line = Assert.Single(ContourLines.Of(field, 1, 4));

        Assert.True(line[0].DistanceTo(line[^1]) < 1e-9, "closed");
        double unitX = frame.X(1) - frame.X(0);
        double unitY = frame.Y(0) - frame.Y(1);
        foreach (ScreenPoint p in line)
        {
            double x = (p.X - frame.X(0)) / unitX;
            double y = (frame.Y(0) - p.Y) / unitY;

            // Bilinear between nodes 0.1 apart: x² is too high by h²/8 = 0.00125 each way at most, the lattice adds less; halved on the radius.
            Assert.InRange(Math.Sqrt((x * x) + (y * y)), 1 - 0.003, 1 + 0.0005);
        }
    }

    [Fact]
    public void Contour_OfAPlane_IsOneOpenLine()
    {
        (MapField field, PlotFrame frame) = Field((x, _) => x);
        List<ScreenPoint> line = Assert.Single(ContourLines.Of(field, 0.55, 4));
        Assert.All(line, p => Assert.Equal(frame.X(0.55), p.X, 1e-6)); // exact for a plane, but for rounding of places
        Assert.Equal(field.Bottom - field.Top, Math.Abs(line[^1].Y - line[0].Y), 1e-6);
    }

    /// <summary>xy = 0.3 has two branches; a saddle lies between them.</summary>
    [Fact]
    public void Contour_OfASaddle_HasTwoBranches()
    {
        (MapField field, _) = Field((x, y) => x * y);
        Assert.Equal(2, ContourLines.Of(field, 0.3, 4).Count);
    }

    [Fact]
    public void Contour_BesideMissingValues_StopsThere()
    {
        (MapField field, PlotFrame frame) = Field((x, y) => y > 0.05 ? double.NaN : x);
        List<ScreenPoint> line = Assert.Single(ContourLines.Of(field, 0.55, 4));
        Assert.All(line, p => Assert.True(p.Y >= frame.Y(0) - 1e-6)); // at and below the last row with values, but for rounding
    }

    [Fact]
    public void OtherSide_SmallerOfBoth_CrestStaysSharp()
    {
        var map = new Map(Nodes, Nodes, Values((x, _) => x), [new("0", 0)]) { OtherSide = Values((x, _) => 0.1 - x) };
        PlotFrame frame = Frame(map);
        var field = new MapField(map, frame);
        Assert.Equal(0.05, field.At(frame.X(0.05), frame.Y(0)), 1e-6); // the crest lies midway between nodes at 0 and 0.1
        Assert.Equal(0.05, new MapField(map with { LowIsGood = true }, frame).At(frame.X(0.05), frame.Y(0)), 1e-6);
        Assert.Equal(-1, field.At(frame.X(-1), frame.Y(0)), 1e-6);
        Assert.Equal(1.1, new MapField(map with { LowIsGood = true }, frame).At(frame.X(-1), frame.Y(0)), 1e-6);
    }

    /// <summary>Colours of the picture itself: grey where the requirement is missed, blue where it is met.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Png_EitherSideOfTheRequirement_HasItsColour(bool lowIsGood)
    {
        var figure = new Figure
        {
            Title = "Map",
            X = new Axis("x"),
            Y = new Axis("y"),
            Layers = [new Map(Nodes, Nodes, Values((x, _) => x), [new("0", 0)]) { Requirement = 0, LowIsGood = lowIsGood }],
        };
        using SKBitmap bitmap = SKBitmap.Decode(FigureRenderer.Png(figure));
        SKColor left = bitmap.GetPixel(300, 300);
        SKColor right = bitmap.GetPixel(1300, 300);
        Assert.Equal(Palette.MapStep(1, 2, true).ToByteString(), (lowIsGood ? left : right) is var good ? $"{good.Alpha},{good.Red},{good.Green},{good.Blue}" : "");
        Assert.Equal(Palette.MapStep(0, 2, false).ToByteString(), (lowIsGood ? right : left) is var bad ? $"{bad.Alpha},{bad.Red},{bad.Green},{bad.Blue}" : "");
    }

    private static ImmutableArray<double> Values(Func<double, double, double> f) => [.. Nodes.SelectMany(x => Nodes.Select(y => f(x, y)))];

    private static (MapField Field, PlotFrame Frame) Field(Func<double, double, double> f)
    {
        var map = new Map(Nodes, Nodes, Values(f), [new("0", 0)]);
        PlotFrame frame = Frame(map);
        return (new MapField(map, frame), frame);
    }

    private static PlotFrame Frame(Map map)
    {
        var figure = new Figure { Title = "Map", X = new Axis("x"), Y = new Axis("y"), Layers = [map] };
        using var measurer = new FontContext();
        return PlotFrame.Draw(new MeasuringContext(measurer), figure, new OxyRect(0, 0, 800, 500), AxisRange.OfX(figure));
    }
}

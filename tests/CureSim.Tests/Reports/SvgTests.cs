using System.Globalization;
using System.Xml.Linq;
using CureSim.Reports.Figures;
using CureSim.Reports.Rendering;

namespace CureSim.Tests.Reports;

public class SvgTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static TheoryData<string> Names => [.. FigureExamples.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Svg_Example_IsWellFormedWithTitleAndFontList(string name)
    {
        Figure figure = FigureExamples.All[name];
        XElement root = XDocument.Parse(FigureRenderer.Svg(figure)).Root!;

        Assert.Equal(Svg + "svg", root.Name);
        Assert.Equal(figure.Title, root.Element(Svg + "title")!.Value);
        Assert.Equal("img", (string)root.Attribute("role")!);
        Assert.All(root.Descendants(Svg + "text"), t => Assert.EndsWith(", sans-serif", (string)t.Attribute("font-family")!, StringComparison.Ordinal));
        Assert.Contains(root.Descendants(Svg + "text"), t => figure.Title.StartsWith(t.Value, StringComparison.Ordinal));
        Assert.DoesNotContain(root.Descendants(), e => e.Name.LocalName == "script");
    }

    /// <summary>Every text lies inside the picture, by the widths that the layout reckoned with.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void Svg_Example_NoTextIsCutOff(string name)
    {
        Figure figure = FigureExamples.All[name];
        foreach (var (text, left, right, baseLine, size) in Texts(FigureRenderer.Svg(figure)))
        {
            Assert.True(left >= 0 && right <= figure.Width, $"'{text}' from {left:F1} to {right:F1}");
            Assert.True(baseLine - size >= 0 && baseLine <= figure.Height, $"'{text}' at {baseLine:F1}");
        }
    }

    /// <summary>No text lies on another: boxes of capitals' height, half a unit forgiven for rounding to two decimals and side bearings.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void Svg_Example_NoTextLiesOnAnother(string name)
    {
        var texts = Texts(FigureRenderer.Svg(FigureExamples.All[name]));
        for (int i = 0; i < texts.Count; i++)
        {
            for (int j = 0; j < i; j++)
            {
                var (a, b) = (texts[i], texts[j]);
                bool across = a.Left < b.Right - 0.5 && b.Left < a.Right - 0.5;
                bool down = a.BaseLine - (0.73 * a.Size) < b.BaseLine - 0.5 && b.BaseLine - (0.73 * b.Size) < a.BaseLine - 0.5;
                Assert.False(across && down, $"'{a.Text}' and '{b.Text}'");
            }
        }
    }

    [Fact]
    public void Svg_MarkupAndControlCharactersInTexts_AreShownNotObeyed()
    {
        const string nasty = "</text><script>alert(1)</script> & \"'\u0000\u0007\uD800 _{x} ^{y}\n]]>";
        var figure = new Figure
        {
            Title = nasty,
            Subtitle = nasty,
            Note = nasty,
            X = new Axis(nasty, nasty) { Names = [nasty, nasty] },
            Y = new Axis(nasty, nasty),
            Layers = [new Line([0, 1], [1, 2], nasty), new Limit(Along.Y, 1.5, nasty), new Target(Along.X, 0.5, nasty), new Events([0.5], nasty)],
        };

        string svg = FigureRenderer.Svg(figure);
        XElement root = XDocument.Parse(svg).Root!;
        Assert.DoesNotContain(root.Descendants(), e => e.Name.LocalName == "script");
        Assert.Contains("alert(1)", root.Element(Svg + "title")!.Value, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", svg, StringComparison.Ordinal);
        Assert.NotEmpty(FigureRenderer.Png(figure));
    }

    /// <summary>Two figures in one HTML page: identifiers must not meet, or one figure's clip cuts the other.</summary>
    [Fact]
    public void Svg_TwoFigures_ShareNoIdentifier()
    {
        string[][] ids = [.. FigureExamples.All.Values.Select(f => XDocument.Parse(FigureRenderer.Svg(f)).Descendants()
            .Select(e => (string?)e.Attribute("id")).OfType<string>().ToArray())];
        string[] all = [.. ids.SelectMany(i => i)];
        Assert.NotEmpty(all);
        Assert.Equal(all.Length, all.Distinct().Count());
    }

    [Fact]
    public void Svg_References_PointToIdentifiersInside()
    {
        foreach (Figure figure in FigureExamples.All.Values)
        {
            XElement root = XDocument.Parse(FigureRenderer.Svg(figure)).Root!;
            var ids = root.Descendants().Select(e => (string?)e.Attribute("id")).OfType<string>().ToHashSet();
            string[] used = [.. root.Descendants().Select(e => (string?)e.Attribute("clip-path")).OfType<string>().Select(v => v[5..^1])];
            Assert.NotEmpty(used);
            Assert.All(used, u => Assert.Contains(u, ids));
        }
    }

    private static List<(string Text, double Left, double Right, double BaseLine, double Size)> Texts(string svg) =>
    [
        .. XDocument.Parse(svg).Descendants(Svg + "text").Select(t =>
        {
            double Number(string name) => double.Parse((string)t.Attribute(name)!, CultureInfo.InvariantCulture);
            double size = Number("font-size");
            double width = t.Attribute("textLength") is null ? 0.65 * size : Number("textLength"); // a single letter: about the width of a figure
            double x = Number("x");
            double left = (string)t.Attribute("text-anchor")! switch { "start" => x, "middle" => x - (width / 2), _ => x - width };
            return (t.Value, left, left + width, Number("y"), size);
        }),
    ];
}

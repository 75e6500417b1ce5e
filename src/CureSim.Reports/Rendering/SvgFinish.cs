using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;
using CureSim.Reports.Figures;
using CureSim.Reports.Folders;
using CureSim.Reports.Text;
using SkiaSharp;

namespace CureSim.Reports.Rendering;

/// <summary>Makes the drawn SVG scale, speak to screen readers, and share a page with other figures.</summary>
internal static partial class SvgFinish
{
    /// <summary>Adds view box, role, title and description; makes identifiers unique to the content, so that figures on one page
    /// do not clip each other.</summary>
    public static string Of(byte[] drawn, Figure figure) => Written(Finished(drawn, figure, "f" + RunRecord.Hash(drawn)[..8]));

    /// <summary>The same for a page: identifiers begin with the tag, style attributes become plain ones, the font is that of the page, the axes' ends stand as data.</summary>
    public static string ForPage(byte[] drawn, Figure figure, string tag, PlotFrame frame)
    {
        XElement root = Finished(drawn, figure, tag);
        foreach (XElement element in root.DescendantsAndSelf())
        {
            if (element.Attribute("style") is { } style)
            {
                style.Remove();
                foreach (string rule in style.Value.Split(';', StringSplitOptions.RemoveEmptyEntries))
                {
                    int colon = rule.IndexOf(':', StringComparison.Ordinal);
                    if (colon > 0 && element != root)
                    {
                        element.SetAttributeValue(rule[..colon].Trim(), rule[(colon + 1)..].Trim());
                    }
                }
            }

            element.Attribute("font-family")?.Remove();
        }

        root.Attribute("version")?.Remove();
        root.SetAttributeValue("data-plot", string.Create(CultureInfo.InvariantCulture, $"{frame.Area.Left:0.##} {frame.Area.Top:0.##} {frame.Area.Right:0.##} {frame.Area.Bottom:0.##}"));
        bool bars = figure.Layers.Any(l => l is Bars);
        root.SetAttributeValue("data-x", frame.Ends(figure.X, true));
        root.SetAttributeValue("data-y", bars ? null : frame.Ends(figure.Y, false));
        root.SetAttributeValue("data-xunit", figure.X.Unit);
        root.SetAttributeValue("data-yunit", bars ? null : figure.Y.Unit);
        return Written(root);
    }

    private static XElement Finished(byte[] drawn, Figure figure, string tag)
    {
        using var bytes = new MemoryStream(drawn);
        XDocument document = XDocument.Load(bytes);
        XElement root = document.Root!;
        XNamespace ns = root.Name.Namespace;
        foreach (XElement element in root.DescendantsAndSelf())
        {
            foreach (XAttribute attribute in element.Attributes())
            {
                if (attribute.Name == "id")
                {
                    attribute.Value = tag + attribute.Value;
                }
                else if (attribute.Value.Contains("url(#", StringComparison.Ordinal))
                {
                    attribute.Value = attribute.Value.Replace("url(#", "url(#" + tag, StringComparison.Ordinal);
                }
            }
        }

        foreach (XElement words in root.Descendants(ns + "text"))
        {
            FitText(words);
        }

        root.SetAttributeValue("viewBox", string.Create(CultureInfo.InvariantCulture, $"0 0 {figure.Width} {figure.Height}"));
        root.SetAttributeValue("style", "max-width:100%;height:auto");
        root.SetAttributeValue("role", "img");
        root.SetAttributeValue("aria-labelledby", $"{tag}title {tag}desc");
        string description = string.Join(" ", new[]
        {
            figure.Subtitle, $"Across: {figure.X.Title}", figure.Layers.Any(l => l is Bars) ? null : $"Upwards: {figure.Y.Title}", figure.Note,
        }.Where(t => !string.IsNullOrWhiteSpace(t)).Select(t => t!.TrimEnd('.', ' ') + "."));
        root.AddFirst(
            new XElement(ns + "title", new XAttribute("id", tag + "title"), PlainText.OneLine(figure.Title)),
            new XElement(ns + "desc", new XAttribute("id", tag + "desc"), PlainText.OneLine(description)));
        return root;
    }

    private static string Written(XElement root)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using (XmlWriter writer = XmlWriter.Create(text, new XmlWriterSettings { OmitXmlDeclaration = true, Indent = true, IndentChars = " ", NewLineChars = "\n" }))
        {
            root.Save(writer);
        }

        return text.ToString() + "\n";
    }

    /// <summary>Puts the base line where the shipped font has it (the writer takes the lower end of the line for it), and states the width
    /// the text was laid out for, so that a viewer without that font keeps labels inside their room.</summary>
    private static void FitText(XElement text)
    {
        double size = (double)text.Attribute("font-size")!;
        double weight = (double)text.Attribute("font-weight")!;
        using SKFont font = ShippedFont.At(size, weight);
        Match place = Translation().Match((string)text.Attribute("transform")!);
        double x = double.Parse(place.Groups[1].Value, CultureInfo.InvariantCulture);
        double y = double.Parse(place.Groups[2].Value, CultureInfo.InvariantCulture) - font.Metrics.Descent;
        text.Attribute("transform")!.Remove();
        text.Attribute("dominant-baseline")?.Remove();
        text.SetAttributeValue("x", x.ToString("0.##", CultureInfo.InvariantCulture));
        text.SetAttributeValue("y", y.ToString("0.##", CultureInfo.InvariantCulture));
        if (text.Value.Length > 1)
        {
            text.SetAttributeValue("textLength", ((double)font.MeasureText(text.Value)).ToString("0.##", CultureInfo.InvariantCulture));
            text.SetAttributeValue("lengthAdjust", "spacingAndGlyphs");
        }
    }

    [GeneratedRegex(@"^translate\(([-0-9.eE]+),([-0-9.eE]+)\)$", RegexOptions.CultureInvariant)]
    private static partial Regex Translation();
}

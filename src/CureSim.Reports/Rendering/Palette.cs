using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>The colours of all figures.</summary>
/// <remarks>
/// Hues of Okabe and Ito, Color Universal Design (2008), which people with any common colour vision tell apart; green is darkened and sky blue
/// lightened so that the lightness L* of the five series differs by at least 9 and a grey print still separates them. The dash is a second cue.
/// Vermilion belongs to limits alone. Text in a series' colour is darkened to a contrast of at least 4.5 on white (W3C WCAG 2.2, 1.4.3).
/// </remarks>
internal static class Palette
{
    public static readonly OxyColor Paper = OxyColors.White;
    public static readonly OxyColor Ink = OxyColor.FromRgb(0x22, 0x22, 0x22);
    public static readonly OxyColor SecondText = OxyColor.FromRgb(0x59, 0x59, 0x59);
    public static readonly OxyColor AxisLine = OxyColor.FromRgb(0x80, 0x80, 0x80);
    public static readonly OxyColor Grid = OxyColor.FromRgb(0xE6, 0xE6, 0xE6);
    public static readonly OxyColor Limit = OxyColor.FromRgb(0xD5, 0x5E, 0x00);
    public static readonly OxyColor LimitText = OxyColor.FromRgb(0xB8, 0x4A, 0x00);

    private static readonly OxyColor[] Lines =
    [
        OxyColor.FromRgb(0x00, 0x72, 0xB2), // blue
        OxyColor.FromRgb(0xE6, 0x9F, 0x00), // orange
        OxyColor.FromRgb(0x00, 0x52, 0x3B), // bluish green, darkened
        OxyColor.FromRgb(0xCC, 0x79, 0xA7), // reddish purple
        OxyColor.FromRgb(0x9A, 0xD3, 0xF5), // sky blue, lightened
        OxyColor.FromRgb(0xB4, 0xB4, 0xB4), // quiet
        OxyColor.FromRgb(0x22, 0x22, 0x22), // ink
    ];

    private static readonly OxyColor[] Texts =
    [
        OxyColor.FromRgb(0x00, 0x65, 0x9F),
        OxyColor.FromRgb(0x8A, 0x5A, 0x00),
        OxyColor.FromRgb(0x00, 0x52, 0x3B),
        OxyColor.FromRgb(0x9A, 0x4A, 0x78),
        OxyColor.FromRgb(0x22, 0x71, 0x9F),
        OxyColor.FromRgb(0x6B, 0x6B, 0x6B),
        OxyColor.FromRgb(0x22, 0x22, 0x22),
    ];

    private static readonly double[]?[] Dashes = [null, [8, 4], [2, 3], [9, 3, 2, 3], [14, 4], null, null];

    private static readonly MarkShape[] Shapes =
        [MarkShape.Circle, MarkShape.Square, MarkShape.Triangle, MarkShape.Diamond, MarkShape.Cross, MarkShape.Circle, MarkShape.Circle];

    /// <summary>Colour of lines, bars and marks.</summary>
    public static OxyColor Line(Tone tone) => Lines[(int)tone];

    /// <summary>Colour of words that belong to them.</summary>
    public static OxyColor Text(Tone tone) => Texts[(int)tone];

    /// <summary>Dash of lines: lengths of strokes and gaps in drawing units; null is a full line.</summary>
    public static double[]? Dash(Tone tone) => Dashes[(int)tone];

    /// <summary>Shape of points.</summary>
    public static MarkShape Shape(Tone tone) => Shapes[(int)tone];

    /// <summary>Colour of intervals: thin enough that overlapping bands and the gridlines stay visible.</summary>
    public static OxyColor Light(Tone tone) => OxyColor.FromAColor(60, Line(tone));

    /// <summary>Fill of histogram bars and stacked areas.</summary>
    public static OxyColor Fill(Tone tone) => Mix(Paper, Line(tone), 0.62);

    /// <summary>Step of a map: light to dark as the values get better; grey where the requirement is missed, blue where it is met.</summary>
    /// <param name="step">0 (worst) … steps − 1 (best).</param>
    /// <param name="steps">Number of steps.</param>
    /// <param name="meets">True where the requirement is met, or there is none.</param>
    public static OxyColor MapStep(int step, int steps, bool meets)
    {
        double depth = steps == 1 ? 0.5 : (double)step / (steps - 1);
        OxyColor blue = Mix(OxyColor.FromRgb(0xEE, 0xF5, 0xFA), OxyColor.FromRgb(0x2E, 0x7D, 0xB0), depth);
        return meets ? blue : Grey(blue);
    }

    /// <summary>A colour between two, component by component.</summary>
    public static OxyColor Mix(OxyColor from, OxyColor to, double share)
    {
        byte Part(byte a, byte b) => (byte)Math.Round(a + ((b - a) * share), MidpointRounding.AwayFromZero);
        return OxyColor.FromRgb(Part(from.R, to.R), Part(from.G, to.G), Part(from.B, to.B));
    }

    /// <summary>Lightness L* of a colour, 0 … 100. Source: IEC 61966-2-1 (sRGB), ISO/CIE 11664-4 (L*).</summary>
    public static double Lightness(OxyColor colour)
    {
        double y = Luminance(colour);
        return y > 216.0 / 24389 ? (116 * Math.Cbrt(y)) - 16 : 24389.0 / 27 * y;
    }

    /// <summary>Relative luminance, 0 … 1. Source: IEC 61966-2-1; W3C WCAG 2.2 definition of relative luminance.</summary>
    public static double Luminance(OxyColor colour)
    {
        static double Linear(byte c) => c / 255.0 <= 0.04045 ? c / 255.0 / 12.92 : Math.Pow(((c / 255.0) + 0.055) / 1.055, 2.4);
        return (0.2126 * Linear(colour.R)) + (0.7152 * Linear(colour.G)) + (0.0722 * Linear(colour.B));
    }

    private static OxyColor Grey(OxyColor colour)
    {
        double y = Luminance(colour);
        double c = y <= 0.0031308 ? 12.92 * y : (1.055 * Math.Pow(y, 1 / 2.4)) - 0.055;
        byte level = (byte)Math.Round(255 * c, MidpointRounding.AwayFromZero);
        return OxyColor.FromRgb(level, level, level);
    }
}

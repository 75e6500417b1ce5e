using SkiaSharp;

namespace CureSim.Reports.Rendering;

/// <summary>The font that figures are measured and drawn in, carried inside the assembly: fonts of the machine are never used.</summary>
internal static class ShippedFont
{
    private const double BoldFrom = 550;

    private static readonly Lazy<SKTypeface> Regular = new(() => Load("Inter-Regular.ttf"));
    private static readonly Lazy<SKTypeface> SemiBold = new(() => Load("Inter-SemiBold.ttf"));

    /// <summary>The face for a weight of 1 … 1000; two are shipped.</summary>
    public static SKTypeface Face(double weight) => weight >= BoldFrom ? SemiBold.Value : Regular.Value;

    /// <summary>The face at a size, without hinting: outlines scale alike at every size and on every system.</summary>
    public static SKFont At(double size, double weight) => new(Face(weight), (float)size)
    {
        Hinting = SKFontHinting.None,
        Edging = SKFontEdging.Antialias,
        Subpixel = true,
        LinearMetrics = true,
    };

    private static SKTypeface Load(string file)
    {
        using Stream stream = FigureFont.Open(file);
        using SKData data = SKData.Create(stream);
        return SKTypeface.FromData(data) ?? throw new InvalidOperationException($"The font {file} cannot be read.");
    }
}

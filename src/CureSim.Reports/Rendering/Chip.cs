using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>A text on a scrap of paper, for places where lines or colours run behind it.</summary>
internal static class Chip
{
    /// <summary>Draws the text centred at a place.</summary>
    public static void Draw(IRenderContext rc, TextBlock text, double x, double y, OxyColor colour)
    {
        OxyRect scrap = Around(text, x, y);
        rc.DrawRectangle(scrap, OxyColor.FromAColor(215, Palette.Paper), OxyColors.Undefined, 0, EdgeRenderingMode.PreferGeometricAccuracy);
        text.Draw(rc, x, y, colour, HorizontalAlignment.Center, VerticalAlignment.Middle);
    }

    /// <summary>The scrap's outline.</summary>
    public static OxyRect Around(TextBlock text, double x, double y) =>
        new(x - (text.Width / 2) - 3, y - (text.Height / 2), text.Width + 6, text.Height);
}

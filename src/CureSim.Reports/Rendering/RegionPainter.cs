using CureSim.Reports.Figures;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>Draws a region and its name.</summary>
internal sealed class RegionPainter(IRenderContext rc, PlotFrame frame)
{
    private const byte Veil = 28;

    /// <summary>Draws the region: an outline, and a light fill where no map lies under it.</summary>
    public void Draw(Region region, bool overMap)
    {
        OxyColor colour = Palette.Line(region.Tone);
        rc.DrawRectangle(Place(region), overMap ? OxyColors.Undefined : OxyColor.FromAColor(Veil, colour), colour, 1.8, EdgeRenderingMode.PreferGeometricAccuracy);
        if (Name(region) is var (text, x, y))
        {
            Chip.Draw(rc, text, x, y, Palette.Text(region.Tone));
        }
    }

    /// <summary>Places of the region and its name, which other labels must leave free.</summary>
    public IEnumerable<OxyRect> Kept(Region region)
    {
        yield return Place(region);
        if (Name(region) is var (text, x, y))
        {
            yield return Chip.Around(text, x, y);
        }
    }

    private OxyRect Place(Region region)
    {
        ScreenPoint a = frame.At(region.FromX, region.FromY);
        ScreenPoint b = frame.At(region.ToX, region.ToY);
        return new OxyRect(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Abs(b.X - a.X), Math.Abs(b.Y - a.Y));
    }

    /// <summary>Above the region, or inside its upper edge where the plot leaves no room above.</summary>
    private (TextBlock Text, double X, double Y)? Name(Region region)
    {
        if (region.Label is not { } label)
        {
            return null;
        }

        OxyRect rect = Place(region);
        TextBlock text = TextBlock.Wrap(rc, label, Style.LabelSize, Style.SemiBold, Style.WidestColumn, 1);
        double half = (text.Width / 2) + 3;
        double x = Math.Clamp(rect.Left + half, frame.Area.Left + half, Math.Max(frame.Area.Left + half, frame.Area.Right - half));
        double above = rect.Top - (text.Height / 2) - 3;
        return (text, x, above - (text.Height / 2) >= frame.Area.Top ? above : rect.Top + (text.Height / 2) + 4);
    }
}

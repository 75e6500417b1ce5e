namespace CureSim.Reports.Rendering;

/// <summary>Sizes of all figures, in drawing units (1/96 inch).</summary>
internal static class Style
{
    /// <summary>Font families for SVG: the shipped font where it is installed, else what the viewer's system reads best.</summary>
    public const string FontFamilies = "Inter, system-ui, 'Noto Sans', 'Liberation Sans', 'DejaVu Sans', sans-serif";

    public const double Regular = 400;
    public const double SemiBold = 600;

    public const double TitleSize = 18;
    public const double SubtitleSize = 13;
    public const double LabelSize = 13;
    public const double TickSize = 12.5;
    public const double NoteSize = 11.5;

    public const double Edge = 18;
    public const double LineGap = 1.25;
    public const double LabelRow = 19;
    public const double EventRow = 16;
    public const double ColumnGap = 9;
    public const double WidestColumn = 170;
    public const double WidestShare = 0.26;
    public const double NarrowestRight = 16;

    public const double LineWidth = 2.2;
    public const double QuietLineWidth = 1;
    public const double LimitWidth = 2;
    public const double TargetWidth = 1.4;
    public const double MarkerWidth = 1.2;
    public const double MarkRadius = 4;
}

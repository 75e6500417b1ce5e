using System.Collections.Immutable;

namespace CureSim.Reports.Pages;

/// <summary>A report as PDF.</summary>
public static class ReportPdf
{
    /// <summary>The bytes of the file.</summary>
    public static byte[] Of(ImmutableArray<ReportPart> parts, string? title = null) => throw new NotImplementedException();
}

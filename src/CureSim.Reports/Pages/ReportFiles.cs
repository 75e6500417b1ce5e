using CureSim.Reports.Folders;

namespace CureSim.Reports.Pages;

/// <summary>Puts a report into a folder of results.</summary>
public static class ReportFiles
{
    /// <summary>The page.</summary>
    public const string Page = "report.html";

    /// <summary>The PDF.</summary>
    public const string Pdf = "report.pdf";

    /// <summary>Adds report.json and the page, and the PDF when it is asked for.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="content">What it says.</param>
    /// <param name="record">How it came about.</param>
    /// <param name="pdf">True: report.pdf too.</param>
    public static void Add(ResultFolder folder, ReportContent content, RunRecord record, bool pdf)
    {
        ArgumentNullException.ThrowIfNull(folder);
        byte[] bytes = ReportFile.ToBytes(content);
        folder.Add(ReportFile.Name, bytes);

        // The page is made from what was written, so that a dossier of the folder cannot say anything else.
        var stored = ReportFile.Read(bytes, out string? fault) ?? throw new InvalidOperationException($"The report of '{content.Command}' cannot be read back: {fault}.");
        folder.Add(Page, ReportPage.Of([new(stored, record)]));
        if (pdf)
        {
            folder.Add(Pdf, ReportPdf.Of([new(stored, record)]));
        }
    }
}

using System.Collections.Immutable;
using System.Globalization;
using CureSim.Reports.Text;
using SkiaSharp;

namespace CureSim.Reports.Pages;

/// <summary>A report, or a dossier of several, as PDF: A4, text that can be selected, the shipped font embedded, the same order as the page.</summary>
public static class ReportPdf
{
    /// <summary>The bytes of the file.</summary>
    /// <param name="parts">One report, or several for a dossier.</param>
    /// <param name="title">Name of a dossier; that of the scenario when left out.</param>
    public static byte[] Of(ImmutableArray<ReportPart> parts, string? title = null)
    {
        ArgumentOutOfRangeException.ThrowIfZero(parts.Length);
        var blocks = ReportLayout.Of(parts);
        string name = PlainText.OneLine(title ?? parts[0].Content.Title);
        string hash = parts.Length == 1 && parts[0].Record.ScenarioSha256 is { } sha ? $" · SHA-256 {sha[..Math.Min(16, sha.Length)]}…" : "";
        string header = $"CureSim {(parts.Length == 1 ? parts[0].Content.Command : "dossier")} · {name}{hash}";
        DateTime made = parts.Max(p => p.Record.Started).UtcDateTime;
        var metadata = new SKDocumentPdfMetadata
        {
            Title = name, Subject = PlainText.OneLine(parts[0].Content.Question), Creator = "CureSim " + parts[0].Record.Version, Producer = "CureSim", Creation = made, Modified = made, RasterDpi = 300,
        };

        // The number of pages is known after a first pass only.
        int pages = 0;
        using (var nowhere = new MemoryStream())
        {
            pages = Write(nowhere, metadata, header, 0, blocks, title);
        }

        using var bytes = new MemoryStream();
        Write(bytes, metadata, header, pages, blocks, title);
        return bytes.ToArray();
    }

    private static int Write(Stream stream, SKDocumentPdfMetadata metadata, string header, int pages, ImmutableArray<Block> blocks, string? title)
    {
        using var flow = new PdfFlow(stream, metadata, header, pages);
        flow.NewPage();
        if (title is not null)
        {
            flow.Text(PlainText.OneLine(title), 18, 600);
            flow.Gap(8);
        }

        foreach (var block in blocks)
        {
            Write(flow, block);
        }

        flow.Finish();
        return flow.Count;
    }

    private static void Write(PdfFlow flow, Block block)
    {
        switch (block)
        {
            case HeadingBlock { Level: 1 } h:
                if (h.Text.Length > 1 && char.IsAsciiDigit(h.Text[0]))
                {
                    flow.NewPage();
                }

                flow.Text(h.Text, 16, 600, keep: 60);
                flow.Gap(4);
                break;
            case HeadingBlock h:
                flow.Gap(h.Level == 2 ? 10 : 5);
                flow.Text(h.Text, h.Level == 2 ? 12 : 10, 600, keep: 60);
                flow.Gap(2);
                break;
            case DecisionBlock d:
                flow.Text(d.Question, 9.5f, colour: new SKColor(0x59, 0x59, 0x59));
                flow.Text(d.Decision, 14, 600, colour: Colour(d.Judgement));
                flow.Text(d.Answer, 10.5f);
                flow.Gap(4);
                flow.Fact("How sure", d.HowSure, 9);
                flow.Fact("Largest assumption", d.LargestAssumption, 9);
                break;
            case TextBlockOf t:
                flow.Text(t.Text, 9);
                flow.Gap(3);
                break;
            case ListBlock l:
                foreach (string item in l.Items)
                {
                    flow.Text("•  " + item, 9);
                    flow.Gap(2);
                }

                break;
            case FactsBlock f:
                foreach (var (name, text, tone) in f.Rows)
                {
                    flow.Fact(name, text, 8.5f, Colour(tone));
                }

                break;
            case CodeBlock c:
                flow.Text(c.Text, 9, 600, 8);
                break;
            case ContentsBlock { Entries: var entries } when entries.Any(e => e.Level == 1):
                foreach (var (level, text, _) in entries)
                {
                    flow.Text(text, 9, level == 1 ? 600 : 400, level == 1 ? 0 : 12);
                }

                break;
            case FigureBlock f:
                flow.Figure(f.Figure);
                flow.Text(string.Create(CultureInfo.InvariantCulture, $"Figure {f.Number}. {f.Caption}{(f.File is { } file ? $" {file}" : "")}"), 8.5f);
                flow.Gap(8);
                break;
            case TableBlock t:
                flow.Gap(3);
                flow.Text(string.Create(CultureInfo.InvariantCulture, $"Table {t.Number}. {t.Caption} {ReportPage.Where(t.Table)}"), 8.5f, keep: 40);
                flow.Table(t.Table, t.IsInputs ? row => row[4] == "typical" : null);
                break;
        }
    }

    private static SKColor? Colour(Judgement judgement) => judgement switch
    {
        Judgement.Met => new SKColor(0x00, 0x65, 0x9F),
        Judgement.Missed => new SKColor(0xB8, 0x4A, 0x00),
        _ => null,
    };
}

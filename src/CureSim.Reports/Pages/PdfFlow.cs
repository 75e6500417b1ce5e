using System.Globalization;
using CureSim.Reports.Rendering;
using CureSim.Reports.Text;
using SkiaSharp;

namespace CureSim.Reports.Pages;

/// <summary>Lays text, tables and figures out on A4 pages, top to bottom, with a header and page numbers. Lengths in points.</summary>
internal sealed class PdfFlow : IDisposable
{
    private const float Width = 595.28f, Height = 841.89f, Side = 45f, Top = 62f, Foot = 52f;

    private readonly SKDocument document;
    private readonly string header;
    private readonly int pages;
    private readonly Dictionary<int, SKTypeface?> fallback = [];
    private SKCanvas? canvas;
    private float y = Top;

    /// <summary>Begins.</summary>
    /// <param name="stream">Where the PDF goes.</param>
    /// <param name="metadata">Its properties.</param>
    /// <param name="header">Stands on top of every page.</param>
    /// <param name="pages">How many pages there are, from a first pass; 0 in that pass.</param>
    public PdfFlow(Stream stream, SKDocumentPdfMetadata metadata, string header, int pages)
    {
        document = SKDocument.CreatePdf(stream, metadata);
        this.header = header;
        this.pages = pages;
    }

    /// <summary>Pages begun.</summary>
    public int Count { get; private set; }

    /// <summary>Width of the column.</summary>
    public static float Column => Width - (2 * Side);

    /// <summary>Room left on the page.</summary>
    private float Left => canvas is null ? 0 : Height - Foot - y;

    /// <summary>Ends the page, unless nothing stands on it.</summary>
    public void NewPage()
    {
        if (canvas is not null && y <= Top)
        {
            return;
        }

        if (canvas is not null)
        {
            document.EndPage();
        }

        canvas = document.BeginPage(Width, Height);
        Count++;
        y = Top;
        string shown = header;
        while (shown.Length > 1 && Measure(shown, 8, 400) > Column - 60)
        {
            shown = shown[..^2] + "…";
        }

        Draw(shown, Side, 38, 8, 400, Second);
        string number = pages == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{Count} / {pages}");
        Draw(number, Width - Side - Measure(number, 8, 400), Height - 28, 8, 400, Second);
        Rule(44, 0.5f);
    }

    /// <summary>Ends the document.</summary>
    public void Finish()
    {
        if (canvas is not null)
        {
            document.EndPage();
        }

        document.Close();
    }

    /// <inheritdoc />
    public void Dispose() => document.Dispose();

    /// <summary>Space.</summary>
    public void Gap(float height) => y = canvas is null ? y : Math.Min(y + height, Height - Foot);

    /// <summary>Asks for room: a new page begins when less is left.</summary>
    public void Room(float height)
    {
        if (Left < Math.Min(height, Height - Foot - Top))
        {
            NewPage();
        }
    }

    /// <summary>Wrapped text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="size">Letters, points.</param>
    /// <param name="weight">400 or 600.</param>
    /// <param name="indent">From the left edge of the column.</param>
    /// <param name="colour">Its colour; ink unless given.</param>
    /// <param name="keep">Room asked for beyond the first line, so that a heading does not stand alone.</param>
    public void Text(string text, float size, int weight = 400, float indent = 0, SKColor? colour = null, float keep = 0)
    {
        float line = size * 1.38f;
        bool first = true;
        foreach (string part in Wrap(text, size, weight, Column - indent))
        {
            Room(line + (first ? keep : 0));
            Draw(part, Side + indent, y + (size * 1.05f), size, weight, colour ?? Ink);
            y += line;
            first = false;
        }
    }

    /// <summary>A name and, beside it, what stands for it.</summary>
    public void Fact(string name, string text, float size, SKColor? colour = null)
    {
        const float NameWidth = 118;
        float line = size * 1.38f;
        var names = Wrap(name, size, 600, NameWidth - 8);
        var texts = Wrap(text, size, 400, Column - NameWidth);
        for (int i = 0; i < Math.Max(names.Count, texts.Count); i++)
        {
            Room(line);
            if (i < names.Count)
            {
                Draw(names[i], Side, y + size, size, 600, Ink);
            }

            if (i < texts.Count)
            {
                Draw(texts[i], Side + NameWidth, y + size, size, 400, colour ?? Ink);
            }

            y += line;
        }

        Gap(2);
    }

    /// <summary>A figure as wide as the column.</summary>
    public void Figure(Figures.Figure figure)
    {
        float scale = Math.Min(Column / figure.Width, (Height - Foot - Top - 40) / figure.Height);
        Room((figure.Height * scale) + 26);
        canvas!.Save();
        canvas.Translate(Side, y);
        FigureRenderer.DrawOn(canvas, figure, scale);
        canvas.Restore();
        y += (figure.Height * scale) + 2;
    }

    /// <summary>A table; its head stands again on every page.</summary>
    /// <param name="table">The table.</param>
    /// <param name="isTypical">Rows that are marked; none when null.</param>
    public void Table(PageTable table, Func<IReadOnlyList<string>, bool>? isTypical)
    {
        const float Size = 6.8f, Gutter = 7f;
        float[] widths = Widths(table, Size, Gutter);
        var head = table.Columns.Select((c, i) => Wrap(c.Heading, Size, 600, widths[i] - Gutter)).ToArray();
        void Head() => Row(head, table, widths, Size, 600, false);
        Room(head.Max(h => h.Count) * Size * 1.35f + 24);
        Head();
        Rule(y, 0.9f);
        foreach (var row in table.Rows)
        {
            var cells = row.Select((c, i) => Wrap(c, Size, 400, widths[i] - Gutter)).ToArray();
            float height = Math.Max(1, cells.Max(c => c.Count)) * Size * 1.35f + 4;
            if (Left < height && height < Height - Foot - Top - 40)
            {
                NewPage();
                Head();
                Rule(y, 0.9f);
            }

            Row(cells, table, widths, Size, 400, isTypical?.Invoke(row) ?? false);
            Rule(y, 0.3f);
        }

        Gap(8);
    }

    private static SKColor Ink => new(0x22, 0x22, 0x22);

    private static SKColor Second => new(0x59, 0x59, 0x59);

    private void Row(List<string>[] cells, PageTable table, float[] widths, float size, int weight, bool marked)
    {
        float line = size * 1.35f, height = Math.Max(1, cells.Max(c => c.Count)) * line + 3;
        if (marked && height < Height - Foot - Top - 40)
        {
            Room(height);
            using var fill = new SKPaint { Color = new SKColor(0xFF, 0xF6, 0xE0) };
            canvas!.DrawRect(Side, y, Column, height, fill);
        }

        int lines = Math.Max(1, cells.Max(c => c.Count));
        y += 1.5f;
        for (int k = 0; k < lines; k++)
        {
            Room(line);
            float x = Side;
            for (int i = 0; i < cells.Length; i++)
            {
                if (k < cells[i].Count)
                {
                    float at = table.Columns[i].IsNumber ? x + widths[i] - 7f - Measure(cells[i][k], size, weight) : x;
                    Draw(cells[i][k], at, y + size, size, weight, Ink);
                }

                x += widths[i];
            }

            y += line;
        }

        y += 1.5f;
    }

    // Columns get what they need as long as there is room; the widest give way first.
    private float[] Widths(PageTable table, float size, float gutter)
    {
        float[] wanted = [.. table.Columns.Select((c, i) => gutter + Math.Min(240f, Math.Max(
            Measure(c.Heading.Split(' ').MaxBy(w => w.Length) ?? "", size, 600) + 1, table.Rows.Select(r => Measure(r[i].Length > 120 ? r[i][..120] : r[i], size, 400)).DefaultIfEmpty(0).Max() + 1)))];
        float cap = 240f + gutter;
        while (wanted.Sum(w => Math.Min(w, cap)) > Column && cap > 14)
        {
            cap *= 0.97f;
        }

        float[] widths = [.. wanted.Select(w => Math.Min(w, cap))];
        float over = widths.Sum() / Column;
        return over > 1 ? [.. widths.Select(w => w / over)] : widths;
    }

    private List<string> Wrap(string text, float size, int weight, float width)
    {
        List<string> lines = [""];
        foreach (string given in PlainText.OneLine(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string word = given;
            string joined = lines[^1].Length == 0 ? word : lines[^1] + " " + word;
            if (Measure(joined, size, weight) <= width)
            {
                lines[^1] = joined;
                continue;
            }

            if (lines[^1].Length > 0)
            {
                lines.Add("");
            }

            // A word longer than the line is cut where it must be.
            while (word.Length > 1 && (word.Length > MostLetters || Measure(word, size, weight) > width))
            {
                // The longest beginning that fits, by halving.
                int fits = 1, beyond = Math.Min(word.Length, MostLetters);
                while (beyond - fits > 1)
                {
                    int half = (fits + beyond) / 2;
                    (fits, beyond) = Measure(word[..half], size, weight) <= width ? (half, beyond) : (fits, half);
                }

                fits = char.IsHighSurrogate(word[fits - 1]) && fits < word.Length ? fits + 1 : fits;
                lines[^1] = word[..fits];
                lines.Add("");
                word = word[fits..];
            }

            lines[^1] = word;
        }

        return lines;
    }

    private void Rule(float at, float thickness)
    {
        using var paint = new SKPaint { Color = new SKColor(0x99, 0x99, 0x99), StrokeWidth = thickness, IsStroke = true };
        canvas!.DrawLine(Side, at, Width - Side, at, paint);
    }

    private float Measure(string text, float size, int weight) => Runs(text, weight).Sum(run =>
    {
        using var font = Font(run.Face, size);
        return font.MeasureText(run.Text);
    });

    private void Draw(string text, float x, float baseline, float size, int weight, SKColor colour)
    {
        using var paint = new SKPaint { Color = colour, IsAntialias = true };
        foreach (var (run, face) in Runs(text, weight))
        {
            using var font = Font(face, size);
            canvas!.DrawText(run, x, baseline, font, paint);
            x += font.MeasureText(run);
        }
    }

    private const int MostLetters = 1000; // no line holds so many: a longer word is cut before it is measured

    private static SKFont Font(SKTypeface face, float size) => new(face, size) { Hinting = SKFontHinting.None, Subpixel = true, LinearMetrics = true };

    // Letters that Inter lacks (a name in Chinese, say) are drawn in a font of this machine that has them; a page shows them in the viewer's.
    private IEnumerable<(string Text, SKTypeface Face)> Runs(string text, int weight)
    {
        SKTypeface own = ShippedFont.Face(weight), face = own;
        int from = 0;
        for (int i = 0; i < text.Length; i += char.IsSurrogatePair(text, i) ? 2 : 1)
        {
            // Half of a pair, where a word was cut in it to be measured, is drawn as a letter that is not known.
            int letter = char.IsSurrogate(text[i]) && !char.IsSurrogatePair(text, i) ? 0xFFFD : char.ConvertToUtf32(text, i);
            SKTypeface next = letter < 0x250 || own.ContainsGlyph(letter) ? own : Fallback(letter) ?? own;
            if (next != face)
            {
                if (i > from)
                {
                    yield return (text[from..i], face);
                }

                (from, face) = (i, next);
            }
        }

        if (from < text.Length)
        {
            yield return (text[from..], face);
        }
    }

    private SKTypeface? Fallback(int letter)
    {
        if (!fallback.TryGetValue(letter, out var face))
        {
            fallback[letter] = face = SKFontManager.Default.MatchCharacter(letter);
        }

        return face;
    }
}

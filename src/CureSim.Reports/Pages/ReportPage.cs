using System.Collections.Immutable;
using System.Globalization;
using CureSim.Reports.Rendering;
using CureSim.Reports.Text;

namespace CureSim.Reports.Pages;

/// <summary>A report, or a dossier of several, as one page: nothing from elsewhere, readable without script, made to be printed.</summary>
public static class ReportPage
{
    private const int MostUpright = 7; // columns that a sheet bears upright
    private const int Narrow = 480; // drawing units of a figure on the screen of a telephone: its letters stay legible there, those of a shrunk wide one would not
    private const int LongestTitle = 36; // what a window or a list of search results shows

    /// <summary>Stands before and after the lines that differ between two equal runs; see <see cref="WithoutRecord"/>.</summary>
    private const string RecordBegins = "<!-- record of this run -->", RecordEnds = "<!-- end of record -->";

    /// <summary>The page.</summary>
    /// <param name="parts">One report, or several for a dossier.</param>
    /// <param name="title">Name of a dossier; that of the scenario when left out.</param>
    public static string Of(ImmutableArray<ReportPart> parts, string? title = null)
    {
        ArgumentOutOfRangeException.ThrowIfZero(parts.Length);
        bool dossier = parts.Length > 1;
        string name = title ?? parts[0].Content.Title;
        var blocks = ReportLayout.Of(parts);
        var html = PageShell.Begin((name.Length > LongestTitle ? name[..LongestTitle].TrimEnd() + "…" : name) + $" – CureSim {(dossier ? "dossier" : parts[0].Content.Command)}", script: true);
        html.Element("a", "To the answer", ("class", "skip"), ("href", dossier ? "#r1-top" : "#top"));
        html.Open("header").Element("p", dossier ? $"CureSim dossier of {Format.Count(parts.Length)} studies" : $"CureSim report · {parts[0].Content.Command}", ("class", "kind"));
        if (dossier)
        {
            html.Element("h1", name);
        }

        if (!dossier && blocks[0] is HeadingBlock first)
        {
            html.Element("h1", first.Text, ("id", first.Id));
            blocks = blocks.RemoveAt(0);
        }

        html.Close().Open("main");
        new Writer(html, dossier).Write(blocks);
        html.Close();
        return PageShell.End(html, script: true);
    }

    /// <summary>The page without the lines that hold version, runtime, machine, date, duration and threads: equal for equal runs.</summary>
    public static string WithoutRecord(string page)
    {
        ArgumentNullException.ThrowIfNull(page);
        var kept = new System.Text.StringBuilder();
        int from = 0;
        for (int begin; (begin = page.IndexOf(RecordBegins, from, StringComparison.Ordinal)) >= 0;)
        {
            int end = page.IndexOf(RecordEnds, begin, StringComparison.Ordinal);
            if (end < 0)
            {
                break;
            }

            kept.Append(page, from, begin - from);
            from = end + RecordEnds.Length;
        }

        return kept.Append(page, from, page.Length - from).ToString();
    }

    private static string Tone(Judgement judgement) => judgement switch
    {
        Judgement.Met => "met",
        Judgement.Missed => "missed",
        Judgement.Provisional => "provisional",
        _ => "none",
    };

    private sealed class Writer(HtmlText html, bool dossier)
    {
        private bool inSection;
        private int drawn;

        public void Write(ImmutableArray<Block> blocks)
        {
            foreach (var block in blocks)
            {
                Write(block);
            }

            EndSection();
        }

        private void Write(Block block)
        {
            switch (block)
            {
                case HeadingBlock { Level: 1 } h:
                    EndSection();
                    html.Element("h2", h.Text, ("id", h.Id), ("class", "part"));
                    break;
                case HeadingBlock { Level: 2 } h:
                    EndSection();
                    (dossier ? html.Open("div", ("class", "sec")) : html.Open("section", ("class", "sec"), ("aria-labelledby", h.Id))).Element(dossier ? "h3" : "h2", h.Text, ("id", h.Id));
                    inSection = true;
                    break;
                case HeadingBlock h:
                    html.Element(dossier ? "h4" : "h3", h.Text, ("id", h.Id));
                    break;
                case DecisionBlock d:
                    Decision(d);
                    break;
                case TextBlockOf t:
                    html.Element("p", t.Text);
                    break;
                case ListBlock l:
                    html.List(l.Items);
                    break;
                case FactsBlock f:
                    Facts(f);
                    break;
                case CodeBlock c:
                    html.Open("pre").Element("code", c.Text).Close();
                    break;
                case ContentsBlock c:
                    Contents(c);
                    break;
                case FigureBlock f:
                    Figure(f);
                    break;
                case TableBlock t:
                    Table(t);
                    break;
            }
        }

        private void EndSection()
        {
            if (inSection)
            {
                html.Close();
                inSection = false;
            }
        }

        private void Decision(DecisionBlock d)
        {
            html.Open("div", ("class", "decision " + Tone(d.Judgement))).Element("p", d.Question, ("class", "question")).Element("p", d.Decision, ("class", "word"))
                .Element("p", d.Answer, ("class", "sentence")).Open("dl", ("class", "key"))
                .Open("div").Element("dt", "How sure").Open("dd").Text(d.HowSure + " ");
            if (d.Words is { } words)
            {
                html.Element("a", "What the words mean", ("href", "#" + words));
            }

            html.Close().Close()
                .Open("div").Element("dt", "Largest assumption").Element("dd", d.LargestAssumption).Close()
                .Close().Close();
        }

        private void Contents(ContentsBlock c)
        {
            html.Open("nav", ("aria-label", "Contents"), ("class", dossier ? "contents dossier" : "contents")).Open("ul");
            foreach (var (level, text, id) in c.Entries)
            {
                html.Open("li", ("class", dossier && level > 1 ? "deep" : null)).Element("a", text, ("href", "#" + id)).Close();
            }

            html.Close().Close();
        }

        private void Facts(FactsBlock f)
        {
            html.Own(f.IsRecord ? RecordBegins + "\n" : "").Open("dl", ("class", "facts"));
            foreach (var (name, text, tone) in f.Rows)
            {
                html.Element("dt", name).Element("dd", text, ("class", tone == Judgement.None ? null : Tone(tone)));
            }

            html.Close().Own(f.IsRecord ? RecordEnds + "\n" : "");
        }

        private void Figure(FigureBlock f)
        {
            string tag = string.Create(CultureInfo.InvariantCulture, $"f{++drawn}-");
            html.Open("figure", ("data-group", f.Group)).Open("div", ("class", "pan")).Own(FigureRenderer.PageSvg(f.Figure, tag)).Close()
                .Open("div", ("class", "pan narrow")).Own(FigureRenderer.PageSvg(f.Figure with { Width = Narrow }, tag + "n-")).Close()
                .Open("figcaption").Element("strong", $"Figure {Format.Count(f.Number)}. ").Text(f.Caption + " ");
            if (f.File is { } file)
            {
                html.Element("span", file, ("class", "where"));
            }

            html.Open("span", ("class", "readout")).Close().Close().Close();
        }

        // Tables of many columns are printed across the sheet.
        private static string? Class(TableBlock t) => string.Join(' ', [
            .. t.IsInputs || t.Table.Rows.Length > 2 ? ["sort"] : Array.Empty<string>(), .. t.IsInputs ? ["inputs"] : Array.Empty<string>(), .. t.Table.Columns.Length > MostUpright ? ["wide"] : Array.Empty<string>(),
        ]) is { Length: > 0 } all ? all : null;

        private void Table(TableBlock t)
        {
            string caption = string.Create(CultureInfo.InvariantCulture, $"Table {t.Number}. ");
            html.Open("section", ("class", "scroll"), ("tabindex", "0"), ("aria-label", $"Table {Format.Count(t.Number)}"))
                .Open("table", ("class", Class(t))).Open("caption").Element("strong", caption).Text(t.Caption + " ");
            if (Where(t.Table) is { } where)
            {
                html.Element("span", where, ("class", "where"));
            }

            html.Close().Open("thead").Open("tr");
            foreach (var column in t.Table.Columns)
            {
                html.Element("th", column.Heading.Length == 0 ? "Quantity" : column.Heading, ("scope", "col"), ("class", column.IsNumber ? "n" : null));
            }

            html.Close().Close().Open("tbody");
            foreach (var row in t.Table.Rows)
            {
                bool typical = t.IsInputs && row[4] == "typical";
                html.Open("tr", ("class", typical ? "typical" : null));
                for (int i = 0; i < row.Length; i++)
                {
                    html.Element("td", row[i], ("class", t.Table.Columns[i].IsNumber ? "n" : t.IsInputs && i == 4 ? "origin" : null));
                }

                html.Close();
            }

            html.Close().Close().Close();
        }
    }

    /// <summary>Where the rest of a table is.</summary>
    internal static string? Where(PageTable table) =>
        table.Rows.Length < table.Total ? $"The first {Format.Count(table.Rows.Length)} of {Format.Count(table.Total)} rows; all in {table.File ?? "the folder"}." : table.File;
}

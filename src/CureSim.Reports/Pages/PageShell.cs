using CureSim.Reports.Tables;

namespace CureSim.Reports.Pages;

/// <summary>What every page of the tool has around its own text: head, policy, style, type, and the elements that more than one kind of page needs. There is one look and one rule of security.</summary>
internal static class PageShell
{
    /// <summary>Roles that sign are the caller's; the columns beside them are these.</summary>
    private static readonly string[] SignOff = ["Role", "Name", "Signature", "Date"];

    /// <summary>Everything up to the beginning of the text; the element that is open is "main" of a form, "body" of a report.</summary>
    /// <param name="title">Of the window.</param>
    /// <param name="script">True when the page sorts and switches; a form to print has no script, and its policy allows none.</param>
    public static HtmlText Begin(string title, bool script)
    {
        var html = new HtmlText();
        html.Own("<!DOCTYPE html>\n").Open("html", ("lang", "en")).Open("head").Void("meta", ("charset", "utf-8"))
            .Void("meta", ("http-equiv", "Content-Security-Policy"), ("content", PageAssets.Policy(script)))
            .Void("meta", ("name", "viewport"), ("content", "width=device-width, initial-scale=1"))
            .Element("title", title)
            .Own("<style>").Own(PageAssets.Css).Own("</style>\n").Close();
        return html.Open("body");
    }

    /// <summary>The beginning of a form to print and sign, across the sheet.</summary>
    /// <param name="kind">What kind of page it is: "CureSim self-check".</param>
    /// <param name="heading">Its heading.</param>
    public static HtmlText BeginForm(string kind, string heading) =>
        Begin(kind, script: false).Element("a", "To the text", ("class", "skip"), ("href", "#top")).Open("header", ("class", "form")).Element("p", kind, ("class", "kind")).Element("h1", heading, ("id", "top")).Close()
            .Open("main", ("class", "form"));

    /// <summary>Ends a form.</summary>
    public static string EndForm(HtmlText html) => End(html.Close(), script: false);

    /// <summary>Ends a page.</summary>
    public static string End(HtmlText html, bool script)
    {
        html.Open("footer").Element("p", "Made by CureSim. The page holds all it needs: nothing is loaded from elsewhere. Type: Inter, SIL Open Font License 1.1.").Close();
        if (script)
        {
            html.Own("<script>").Own(PageAssets.Script).Own("</script>\n");
        }

        return html.Close().Close().ToString();
    }

    /// <summary>A list of sentences.</summary>
    public static HtmlText List(this HtmlText html, IEnumerable<string> items)
    {
        html.Open("ul");
        foreach (string item in items)
        {
            html.Element("li", item);
        }

        return html.Close();
    }

    /// <summary>Names and what stands for them.</summary>
    public static HtmlText Facts(this HtmlText html, IEnumerable<(string Name, string Text)> facts)
    {
        html.Open("dl", ("class", "facts"));
        foreach (var (name, text) in facts)
        {
            html.Element("dt", name).Element("dd", text);
        }

        return html.Close();
    }

    /// <summary>A table with its caption.</summary>
    /// <param name="html">Where to.</param>
    /// <param name="caption">What it shows.</param>
    /// <param name="headings">Headings, and whether they stand over numbers.</param>
    /// <param name="rows">Rows of texts, and a class of the row.</param>
    /// <param name="kind">Class of the table.</param>
    public static HtmlText Rows(this HtmlText html, string caption, IReadOnlyList<(string Heading, bool IsNumber)> headings, IEnumerable<(string? Class, IReadOnlyList<string> Cells)> rows, string? kind = null)
    {
        html.Open("section", ("class", "scroll"), ("tabindex", "0"), ("aria-label", caption)).Open("table", ("class", kind)).Open("caption").Text(caption).Close().Open("thead").Open("tr");
        foreach (var (heading, number) in headings)
        {
            html.Element("th", heading, ("scope", "col"), ("class", number ? "n" : null));
        }

        html.Close().Close().Open("tbody");
        foreach (var (row, cells) in rows)
        {
            html.Open("tr", ("class", row));
            for (int i = 0; i < cells.Count; i++)
            {
                html.Element("td", cells[i], ("class", headings[i].IsNumber ? "n" : null));
            }

            html.Close();
        }

        return html.Close().Close().Close();
    }

    /// <summary>A table of typed cells.</summary>
    public static HtmlText Rows(this HtmlText html, string caption, Table table, string? kind = null) =>
        html.Rows(caption, [.. table.Columns.Select(c => (c.Heading, c.Kind != ColumnKind.Text))], table.Rows.Select(r => ((string?)null, (IReadOnlyList<string>)[.. r.Select((cell, i) => table.Columns[i].Show(cell))])), kind);

    /// <summary>A table as a page shows it, its intervals beside their values.</summary>
    public static HtmlText Rows(this HtmlText html, string caption, PageTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return html.Rows(caption, [.. table.Columns.Select(c => (c.Heading, c.IsNumber))], table.Rows.Select(r => ((string?)null, (IReadOnlyList<string>)r)));
    }

    /// <summary>Room for names and signatures.</summary>
    /// <param name="html">Where to.</param>
    /// <param name="roles">Who signs.</param>
    /// <param name="more">Lines across the sheet.</param>
    public static HtmlText Signatures(this HtmlText html, IEnumerable<string> roles, params IEnumerable<string> more)
    {
        html.Open("table", ("class", "sign")).Element("caption", "Sign-off").Open("thead").Open("tr");
        foreach (string heading in SignOff)
        {
            html.Element("th", heading, ("scope", "col"));
        }

        html.Close().Close().Open("tbody");
        foreach (string role in roles)
        {
            html.Open("tr").Element("th", role, ("scope", "row")).Element("td", "").Element("td", "").Element("td", "").Close();
        }

        foreach (string line in more)
        {
            html.Open("tr").Element("th", line, ("scope", "row")).Element("td", "", ("colspan", "3")).Close();
        }

        return html.Close().Close();
    }
}

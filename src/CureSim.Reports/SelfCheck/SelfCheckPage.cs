using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using CureSim.Reports.Rendering;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;

namespace CureSim.Reports.SelfCheck;

/// <summary>A self-check as one page for a validation file: no scripts, nothing from elsewhere, every text escaped, made to be printed on A4.</summary>
public static class SelfCheckPage
{
    private const string Styles = """
        :root { color-scheme: light; }
        body { font: 400 9.5pt/1.4 Inter, system-ui, "Noto Sans", "Liberation Sans", "DejaVu Sans", sans-serif; font-variant-numeric: tabular-nums; color: #222; margin: 2em auto; max-width: 72em; padding: 0 1em; }
        h1 { font-size: 16pt; font-weight: 600; margin: 0 0 .3em; } h2 { font-size: 12pt; font-weight: 600; margin: 1.6em 0 .4em; padding-top: .5em; border-top: .5pt solid #d5d5d5; break-after: avoid; }
        .verdict { font-size: 11pt; font-weight: 600; border: .5pt solid #d5d5d5; border-left: 6pt solid #00659f; background: #f4f6f8; padding: .5em .8em; } .verdict.missed { border-left-color: #b84a00; color: #b84a00; }
        table { border-collapse: collapse; width: 100%; margin: .3em 0 1em; } caption { text-align: left; font-weight: 600; padding: .3em 0; }
        th, td { border: .5pt solid #999; padding: 2pt 4pt; vertical-align: top; text-align: left; overflow-wrap: anywhere; }
        th { background: #f4f6f8; font-weight: 600; } th.n, td.n { text-align: right; white-space: nowrap; } thead { display: table-header-group; } tr { break-inside: avoid; }
        .checks { table-layout: fixed; font-size: 7.5pt; line-height: 1.3; } .counts, .facts { width: auto; } .counts td.t { min-width: 16em; }
        .miss td { font-weight: 600; border: 1.5pt solid #111; } .sign td { height: 2.6em; } .sign { break-inside: avoid; }
        @page { size: A4 landscape; margin: 12mm 12mm 15mm; @bottom-right { content: "CureSim self-check, page " counter(page) " of " counter(pages); font-size: 8pt; } }
        @media print { body { margin: 0; max-width: none; padding: 0 1px; } }
        """;

    private static readonly HtmlEncoder Escape = HtmlEncoder.Create(UnicodeRanges.All);

    private static readonly string[] Cautions =
    [
        "The checks show that this tool computes what its documents say. They do not show that the model fits your cell: predictions are validated against measurements of the cell itself.",
        "The record is of this machine, this runtime and this version. Check again after a change of any of them.",
        "A sampled check passes within three standard errors; the smallest error that it would have shown stands beside it. A smaller one goes unseen.",
        "Values recalled from memory are exact in their arithmetic, but that the document prints them was not seen; compare them with your own copy where it matters.",
        "The record is sealed against slips, not against forgery. Sign it, and keep it where records are kept.",
        "UV light injures eyes and skin; lamps are hot, pressurised and contain mercury. Nothing here is a safety assessment.",
    ];

    /// <summary>The page.</summary>
    public static string Of(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        var html = new StringBuilder("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        html.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; font-src data:\">\n");
        html.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>CureSim self-check</title>\n<style>\n").Append(FigureFont.SubsetFaces()).Append(Styles).Append("\n</style>\n</head>\n<body>\n");
        html.Append("<h1>CureSim self-check</h1>\n<p class=\"").Append(record.AllPassed ? "verdict" : "verdict missed").Append("\">").Append(Text(new SelfCheckText(record).Verdict())).Append("</p>\n");
        Facts(html, record.Place);
        Signatures(html);
        html.Append("<h2>Cautions</h2>\n<ul>\n");
        foreach (string caution in Cautions)
        {
            html.Append("<li>").Append(Text(caution)).Append("</li>\n");
        }

        html.Append("</ul>\n<h2>How many, of what, from where</h2>\n");
        Table[] counts = [SelfCheckTables.ByTopic(record), SelfCheckTables.BySource(record), SelfCheckTables.ByProvenance(record)];
        foreach (var table in counts)
        {
            html.Append(HtmlTable.Of(table).Replace("<table>", "<table class=\"counts\">", StringComparison.Ordinal));
        }

        html.Append("<p>").AppendJoin(" ", SelfCheckRecord.Legend.Select(l => Text($"“{l.Provenance}”: {l.Meaning}."))).Append("</p>\n");
        Misses(html, record);
        foreach (var topic in record.Items.GroupBy(i => i.Topic))
        {
            html.Append("<h2>").Append(Text(Capital(topic.Key))).Append("</h2>\n");
            Checks(html, topic);
        }

        return html.Append("</body>\n</html>\n").ToString();
    }

    private static void Facts(StringBuilder html, CheckedPlace place)
    {
        html.Append("<table class=\"facts\">\n");
        (string, string)[] facts =
        [
            ("Version", place.Version), ("Source commit", place.Commit ?? "not known"),
            ("Date", place.Started.ToUniversalTime().ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture)),
            ("Duration", string.Create(CultureInfo.InvariantCulture, $"{place.Seconds:F1} s on {place.Threads} threads")),
            ("Operating system", place.System), ("Processor", place.Architecture), ("Instruction sets", place.Instructions), ("Runtime", place.Runtime),
        ];
        foreach (var (name, value) in facts)
        {
            html.Append("<tr><th scope=\"row\">").Append(Text(name)).Append("</th><td>").Append(Text(value)).Append("</td></tr>\n");
        }

        html.Append("</table>\n");
    }

    private static void Signatures(StringBuilder html)
    {
        html.Append("<table class=\"sign\">\n<caption>Sign-off</caption>\n<colgroup><col style=\"width:16%\"><col style=\"width:32%\"><col style=\"width:32%\"><col style=\"width:20%\"></colgroup>\n");
        html.Append("<thead><tr><th scope=\"col\"></th><th scope=\"col\">Name</th><th scope=\"col\">Signature</th><th scope=\"col\">Date</th></tr></thead>\n<tbody>\n");
        foreach (string role in (string[])["Made by", "Reviewed by", "Approved by"])
        {
            html.Append("<tr><th scope=\"row\">").Append(role).Append("</th><td></td><td></td><td></td></tr>\n");
        }

        html.Append("<tr><th scope=\"row\">Machine, place</th><td colspan=\"3\"></td></tr>\n<tr><th scope=\"row\">Remarks</th><td colspan=\"3\"></td></tr>\n</tbody>\n</table>\n");
    }

    private static void Misses(StringBuilder html, SelfCheckRecord record)
    {
        if (!record.AllPassed)
        {
            html.Append("<h2>Missed</h2>\n");
            Checks(html, record.Items.Where(i => !i.Passed));
        }
    }

    private static void Checks(StringBuilder html, IEnumerable<CheckedItem> items)
    {
        (string Heading, string Width)[] columns =
            [("Check", "9.5%"), ("What is compared", "15%"), ("Source, provenance", "14%"), ("Expected", "17%"), ("Found", "18%"), ("Tolerance", "14%"), ("Least error shown", "6.5%"), ("Verdict", "6%")];
        html.Append("<table class=\"checks\">\n<colgroup>").AppendJoin("", columns.Select(c => $"<col style=\"width:{c.Width}\">")).Append("</colgroup>\n<thead><tr>")
            .AppendJoin("", columns.Select(c => $"<th scope=\"col\">{c.Heading}</th>")).Append("</tr></thead>\n<tbody>\n");
        foreach (var i in items)
        {
            string shows = i.SmallestDetectable is { } d && double.IsFinite(d) ? Format.Value(100.0 * d, "%", 2) : "";
            string[] cells = [i.Id + (i.ThroughEngine ? " (whole engine)" : ""), i.What, $"{i.Source} [{i.Provenance}]", i.Expected, i.Found, i.Tolerance, shows, i.Verdict];
            html.Append(i.Passed ? "<tr>" : "<tr class=\"miss\">").AppendJoin("", cells.Select(c => $"<td>{Text(c)}</td>")).Append("</tr>\n");
        }

        html.Append("</tbody>\n</table>\n");
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    private static string Text(string text) => Escape.Encode(PlainText.OneLine(text));
}

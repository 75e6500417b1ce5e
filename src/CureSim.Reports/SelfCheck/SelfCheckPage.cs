using System.Globalization;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;

namespace CureSim.Reports.SelfCheck;

/// <summary>A self-check as one page for a validation file: no scripts, nothing from elsewhere, every text escaped, made to be printed and signed.</summary>
public static class SelfCheckPage
{
    private static readonly string[] Cautions =
    [
        "The checks show that this tool computes what its documents say. They do not show that the model fits your cell: predictions are validated against measurements of the cell itself.",
        "The record is of this machine, this runtime and this version. Check again after a change of any of them.",
        "A sampled check passes within three standard errors; the smallest error that it would have shown stands beside it. A smaller one goes unseen.",
        "Values recalled from memory are exact in their arithmetic, but that the document prints them was not seen; compare them with your own copy where it matters.",
        "The record is sealed against slips, not against forgery. Sign it, and keep it where records are kept.",
        "UV light injures eyes and skin; lamps are hot, pressurised and contain mercury. Nothing here is a safety assessment.",
    ];

    private static readonly (string, bool)[] Headings =
        [("Check", false), ("What is compared", false), ("Source, provenance", false), ("Expected", false), ("Found", false), ("Tolerance", false), ("Least error shown", false), ("Verdict", false)];

    /// <summary>The page.</summary>
    public static string Of(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        var place = record.Place;
        var html = PageShell.BeginForm("CureSim self-check", "Does this tool compute what its documents say, on this machine?");
        html.Open("div", ("class", record.AllPassed ? "decision met" : "decision missed")).Element("p", new SelfCheckText(record).Verdict(), ("class", "word")).Close();
        html.Facts(
        [
            ("Version", place.Version), ("Source commit", place.Commit ?? "not known"), ("Date", place.Started.ToUniversalTime().ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture)),
            ("Duration", string.Create(CultureInfo.InvariantCulture, $"{place.Seconds:F1} s on {place.Threads} threads")),
            ("Operating system", place.System), ("Processor", place.Architecture), ("Instruction sets", place.Instructions), ("Runtime", place.Runtime),
        ]);
        html.Signatures(["Made by", "Reviewed by", "Approved by"], "Machine, place", "Remarks");
        html.Element("h2", "Cautions").List(Cautions).Element("h2", "How many, of what, from where");
        html.Rows("By topic.", SelfCheckTables.ByTopic(record)).Rows("By source.", SelfCheckTables.BySource(record)).Rows("By what is known of the expected values.", SelfCheckTables.ByProvenance(record));
        html.Element("p", string.Join(" ", SelfCheckRecord.Legend.Select(l => $"“{l.Provenance}”: {l.Meaning}.")));
        if (!record.AllPassed)
        {
            html.Element("h2", "Missed");
            Checks(html, "Checks that were missed.", record.Items.Where(i => !i.Passed));
        }

        foreach (var topic in record.Items.GroupBy(i => i.Topic))
        {
            html.Element("h2", Capital(topic.Key));
            Checks(html, $"Checks of {topic.Key}.", topic);
        }

        return PageShell.EndForm(html);
    }

    private static void Checks(HtmlText html, string caption, IEnumerable<CheckedItem> items) => html.Rows(caption, Headings, items.Select(i =>
    {
        string shows = i.SmallestDetectable is { } d && double.IsFinite(d) ? Format.Value(100.0 * d, "%", 2) : "";
        return (i.Passed ? null : "miss", (IReadOnlyList<string>)[i.Id + (i.ThroughEngine ? " (whole engine)" : ""), i.What, $"{i.Source} [{i.Provenance}]", i.Expected, i.Found, i.Tolerance, shows, i.Verdict]);
    }), "checks");

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}

using System.Collections.Immutable;
using System.Reflection;
using System.Text.RegularExpressions;

namespace CureSim.Reports.Pages;

/// <summary>What the words of a page mean: the rows of docs/glossary.md, which the assembly carries, for words that the page uses.</summary>
internal static partial class GlossaryWords
{
    // Words of the trade that any reader of such a page knows are left to the glossary itself.
    private static readonly string[] Explained =
    [
        "action limit", "adjust limit", "as found", "assurance", "band over worlds", "capability, Cp, Cpk", "conforming", "excursion", "future", "guard band", "in tolerance, reliability of an interval", "lifetime", "margin",
        "Monte-Carlo interval", "nonconforming", "Pp, Ppk", "percentile index", "provisional", "qualified", "requalify", "state index", "statistical tolerance interval", "suspect parts", "typical", "unfavourable end", "world",
    ];

    private static readonly Lazy<ImmutableArray<(string Word, string Meaning)>> Rows = new(() => [.. Read().Where(r => Explained.Contains(r.Word))]);

    /// <summary>All words that a page may explain, with their meaning.</summary>
    public static ImmutableArray<(string Word, string Meaning)> All => Rows.Value;

    /// <summary>The words that a report uses before its list of inputs, in the order of the glossary.</summary>
    public static ImmutableArray<(string Word, string Meaning)> In(ReportContent content)
    {
        string text = string.Join('\n', Texts(content));
        return [.. All.Where(row => Forms(row.Word).Any(form => Uses(text, form)))];
    }

    // "capability, Cp, Cpk" is looked for by each of its forms; "in tolerance, reliability of an interval" by the first.
    private static IEnumerable<string> Forms(string word) => word.StartsWith("in tolerance", StringComparison.Ordinal) ? ["in tolerance"] : word.Split(", ").Where(form => form != "capability");

    private static bool Uses(string text, string form)
    {
        bool sensitive = char.IsUpper(form[0]) && form.Length <= 3;
        for (int at = 0; (at = text.IndexOf(form, at, sensitive ? StringComparison.Ordinal : StringComparison.OrdinalIgnoreCase)) >= 0; at += form.Length)
        {
            // "worlds" is "world"; "underworld" is not.
            int end = at + form.Length;
            end += end < text.Length && text[end] == 's' ? 1 : 0;
            if ((at == 0 || !char.IsLetter(text[at - 1])) && (end >= text.Length || !char.IsLetter(text[end])))
            {
                return true;
            }
        }

        return false;
    }

    private static IEnumerable<string> Texts(ReportContent c)
    {
        IEnumerable<ReportItem> items = [.. c.Decisive is { } first ? [first] : Array.Empty<ReportItem>(), .. c.Evidence.SelectMany(e => e.Items)];
        return
        [
            c.Question, c.Answer, c.Decision, c.HowSure, c.LargestAssumption, .. c.Lines.SelectMany(l => (string[])[l.Label, l.Text]), .. c.Evidence.SelectMany(e => e.Paragraphs.Prepend(e.Title)), .. items.Select(i => i.Caption),
            .. items.SelectMany(i => i.Table is { } t ? [.. t.Columns.Select(column => column.Heading), .. t.Rows.SelectMany(r => r.Take(1))] : Array.Empty<string>()), .. items.Select(i => i.Figure).OfType<Figures.Figure>().SelectMany(f => (string[])[f.Title, f.Subtitle ?? ""]),
        ];
    }

    private static IEnumerable<(string Word, string Meaning)> Read()
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("CureSim.Reports.Pages.glossary.md") ?? throw new InvalidOperationException("glossary.md is missing from the assembly.");
        using var reader = new StreamReader(stream);
        while (reader.ReadLine() is { } line)
        {
            string[] cells = line.Split('|');
            if (cells.Length == 5 && !line.StartsWith("|---", StringComparison.Ordinal) && cells[1].Trim() != "word")
            {
                yield return (cells[1].Trim(), Link().Replace(cells[2].Trim(), "$1").Replace("; see report.md", "", StringComparison.Ordinal));
            }
        }
    }

    [GeneratedRegex(@"\[([^\]]*)\]\([^)]*\)", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Link();
}

using System.Globalization;
using System.Text;
using CureSim.Reports.Tables;
using CureSim.Reports.Text;

namespace CureSim.Reports.SelfCheck;

/// <summary>A self-check as plain text: the table of all checks by topic, what was missed, and how many there were.</summary>
/// <param name="record">The checks.</param>
/// <param name="width">Columns of a line, at least 80.</param>
/// <param name="show">Changes each text before it is measured; unchanged when null.</param>
public sealed class SelfCheckText(SelfCheckRecord record, int width = 110, Func<string, string>? show = null)
{
    private const int Indent = 6;
    private const int Gap = 2;
    private static readonly string[] Headings = ["source [provenance]", "expected", "found", "tolerance"];

    private readonly Func<string, string> show = show ?? (text => text);

    private int CellWidth => (Math.Max(width, 80) - Indent - (Gap * (Headings.Length - 1))) / Headings.Length;

    /// <summary>The table: a line with verdict, id and what is compared, below it source, expected, found and tolerance side by side.</summary>
    /// <param name="mostLines">Lines that a cell may take before it is cut with an ellipsis; null: all of it.</param>
    public string Table(int? mostLines = null)
    {
        var text = new StringBuilder();
        foreach (var topic in record.Items.GroupBy(i => i.Topic))
        {
            string heading = show(string.Create(
                CultureInfo.InvariantCulture, $"{topic.Key.ToUpperInvariant()}: {Checks(SelfCheckRecord.CountOf(topic))}, {SelfCheckRecord.CountOf(topic.Where(i => !i.Passed))} missed"));
            text.Append(heading).Append('\n').Append("verdict, check, what is compared\n");
            Row(text, [.. Headings.Select(h => (IReadOnlyList<string>)[h])]);
            text.Append('-', Math.Max(width, 80)).Append('\n');
            foreach (var item in topic)
            {
                Entry(text, item, mostLines);
            }

            text.Append('\n');
        }

        return text.ToString();
    }

    /// <summary>Everything about the checks that were missed; empty when none was.</summary>
    public string Misses()
    {
        var missed = record.Items.Where(i => !i.Passed).ToList();
        var text = new StringBuilder();
        if (missed.Count > 0)
        {
            text.Append("MISSED\n");
            missed.ForEach(i => Entry(text, i, null));
            text.Append('\n');
        }

        return text.ToString();
    }

    /// <summary>Counts by topic and by source, what the letters of the provenance mean, and the verdict in one line at the end.</summary>
    public string Summary()
    {
        var text = new StringBuilder();
        text.Append(AlignedText.Of(SelfCheckTables.ByTopic(record), show)).Append('\n');
        text.Append(AlignedText.Of(SelfCheckTables.BySource(record), Short)).Append('\n');
        foreach (var (letter, provenance, meaning) in SelfCheckRecord.Legend)
        {
            int count = SelfCheckRecord.CountOf(record.Items.Where(i => i.Provenance.Split(" + ").Contains(provenance)));
            text.Append(show(string.Create(CultureInfo.InvariantCulture, $"[{letter}] {provenance}: {Checks(count)}; {meaning}"))).Append('\n');
        }

        return text.Append('\n').AppendJoin('\n', Wrap(Verdict(), Math.Max(width, 80))).Append('\n').ToString();
    }

    /// <summary>The verdict in one sentence.</summary>
    public string Verdict()
    {
        string counts = string.Create(
            CultureInfo.InvariantCulture,
            $"{Checks(record.Count)} of {record.Figures} figures, {record.ThroughEngine} of them through the whole engine (sample sizes count as one check)");
        string part = record.IsSelection ? string.Create(CultureInfo.InvariantCulture, $" A selection of {record.Items.Length} of {record.Available}: no evidence for the whole tool.") : "";
        return (record.AllPassed ? $"All passed: {counts}." : string.Create(CultureInfo.InvariantCulture, $"{record.Missed} MISSED of {counts}.")) + part;
    }

    private static string Checks(int count) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? "check" : "checks")}");

    private string Short(string text)
    {
        string shown = show(text);
        return shown.Length <= width - 50 ? shown : shown[..(width - 51)] + show("…");
    }

    private void Entry(StringBuilder text, CheckedItem item, int? mostLines)
    {
        string head = $"{item.Verdict}  {item.Id}{(item.ThroughEngine ? " (whole engine)" : "")}  {item.What}";
        foreach (var (line, i) in Wrap(head, Math.Max(width, 80) - Indent).Select((l, i) => (l, i)))
        {
            text.Append(' ', i == 0 ? 0 : Indent).Append(line).Append('\n');
        }

        string smallest = item.SmallestDetectable is { } d && double.IsFinite(d) ? $"; would show an error of {Format.Value(100.0 * d, "%", 2)}" : "";
        string[] cells = [$"[{SelfCheckRecord.Letters(item.Provenance)}] {item.Source}", item.Expected, item.Found, item.Tolerance];

        // What a check can show must not fall to the ellipsis, so it stands first.
        cells[3] = smallest.Length > 0 ? smallest[2..] + "; " + cells[3] : cells[3];
        Row(text, [.. cells.Select(c => Cut(Wrap(c, CellWidth), mostLines))]);
    }

    private void Row(StringBuilder text, IReadOnlyList<string>[] cells)
    {
        for (int line = 0; line < cells.Max(c => c.Count); line++)
        {
            var row = new StringBuilder().Append(' ', Indent);
            for (int i = 0; i < cells.Length; i++)
            {
                row.Append((line < cells[i].Count ? cells[i][line] : "").PadRight(CellWidth + Gap));
            }

            text.Append(row.ToString().TrimEnd()).Append('\n');
        }
    }

    private List<string> Cut(List<string> lines, int? most)
    {
        if (most is { } count && lines.Count > count)
        {
            lines = lines[..count];
            string mark = show(" …");
            lines[^1] = lines[^1].Length + mark.Length > CellWidth ? lines[^1][..(CellWidth - mark.Length)] + mark : lines[^1] + mark;
        }

        return lines;
    }

    private List<string> Wrap(string words, int columns)
    {
        List<string> lines = [""];

        // Split before it is shown: what a no-break space joins stays on one line.
        foreach (string given in PlainText.OneLine(words).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string word = show(given);
            if (lines[^1].Length > 0 && lines[^1].Length + 1 + word.Length > columns)
            {
                lines.Add("");
            }

            for (; word.Length > columns; word = word[columns..])
            {
                lines[^1] = word[..columns];
                lines.Add("");
            }

            lines[^1] += (lines[^1].Length > 0 ? " " : "") + word;
        }

        return lines;
    }
}

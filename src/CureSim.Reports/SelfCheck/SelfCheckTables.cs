using CureSim.Reports.Tables;

namespace CureSim.Reports.SelfCheck;

/// <summary>The tables of a self-check. They hold no time and no machine: the same checks give the same bytes.</summary>
public static class SelfCheckTables
{
    /// <summary>All of them.</summary>
    public static IEnumerable<Table> Of(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return [Checks(record), ByTopic(record), BySource(record), ByProvenance(record)];
    }

    /// <summary>Every check with all that is known of it.</summary>
    public static Table Checks(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        var table = new Table(
            "checks", Text("id", "Check"), Text("topic", "Topic"), Text("what", "What is compared"), Text("source", "Source"), Text("provenance", "Provenance"),
            Text("kind", "Kind"), Text("through_engine", "Whole engine"), Text("expected", "Expected"), Text("found", "Found"), Text("tolerance", "Tolerance"),
            new("smallest_detectable_error_percent", ColumnKind.Number, "Smallest error that it would show, %"), new("figures", ColumnKind.Whole, "Figures"),
            Text("verdict", "Verdict"));
        foreach (var i in record.Items)
        {
            table.Add(
                i.Id, i.Topic, i.What, i.Source, i.Provenance, i.IsSampled ? "sampled" : "deterministic", i.ThroughEngine ? "yes" : "no", i.Expected, i.Found,
                i.Tolerance, 100.0 * i.SmallestDetectable, i.Figures, i.Verdict);
        }

        return table;
    }

    /// <summary>Counts by topic.</summary>
    public static Table ByTopic(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return Counts("by_topic", "topic", "Topic", record.Items.GroupBy(i => i.Topic));
    }

    /// <summary>Counts by source, the most used first.</summary>
    public static Table BySource(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return Counts("by_source", "source", "Source", record.Items.GroupBy(SelfCheckRecord.Document)
            .OrderByDescending(SelfCheckRecord.CountOf).ThenBy(g => g.Key, StringComparer.Ordinal));
    }

    /// <summary>Counts by what is known of the expected values.</summary>
    public static Table ByProvenance(SelfCheckRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return Counts("by_provenance", "provenance", "Provenance", record.Items.GroupBy(i => i.Provenance)
            .OrderByDescending(SelfCheckRecord.CountOf).ThenBy(g => g.Key, StringComparer.Ordinal));
    }

    private static Table Counts(string name, string header, string heading, IEnumerable<IGrouping<string, CheckedItem>> groups)
    {
        var table = new Table(
            name, Text(header, heading), Whole("checks", "Checks"), Whole("through_engine", "Whole engine"), Whole("sampled", "Sampled"), Whole("figures", "Figures"),
            Whole("missed", "Missed"));
        foreach (var group in groups)
        {
            table.Add(
                group.Key, SelfCheckRecord.CountOf(group), SelfCheckRecord.CountOf(group.Where(i => i.ThroughEngine)), SelfCheckRecord.CountOf(group.Where(i => i.IsSampled)),
                group.Sum(i => i.Figures), SelfCheckRecord.CountOf(group.Where(i => !i.Passed)));
        }

        return table;
    }

    private static Column Text(string header, string heading) => new(header, ColumnKind.Text, heading);

    private static Column Whole(string header, string heading) => new(header, ColumnKind.Whole, heading);
}

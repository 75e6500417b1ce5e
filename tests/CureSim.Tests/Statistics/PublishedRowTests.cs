using System.Text.RegularExpressions;

namespace CureSim.Tests.Statistics;

/// <summary>
/// Every row of tests/data/published/statistics-check-values.csv is either compared with ours or listed, with the reason, in LEFT-OUT.md.
/// Source and provenance stand in each row and are printed when a comparison fails.
/// </summary>
public partial class PublishedRowTests
{
    private static readonly Dictionary<string, CheckRow> Rows = CheckRow.Load("published", "statistics-check-values.csv");

    /// <summary>Checks by the beginning of the row's id; the longest beginning wins.</summary>
    private static readonly Dictionary<string, Action<CheckRow>> Checks = Join(
        CapabilityRows.Checks, ToleranceRows.Checks, BinomialRows.Checks, LawRows.Checks, SurvivalRows.Checks, NormalityRows.Checks,
        ConformityRows.Checks, GaugeRows.Checks, EconomicsRows.Checks, TailRows.Checks, UncertaintyRows.Checks);

    public static TheoryData<string> Ids => [.. Rows.Keys.Where(id => !LeftOut().Contains(id))];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Row_agrees(string id)
    {
        CheckRow row = Rows[id];
        string? key = Checks.Keys.Where(k => id.StartsWith(k, StringComparison.Ordinal)).MaxBy(k => k.Length);
        Assert.True(key is not null, $"{id} is neither checked nor listed as left out.");
        Checks[key](row);
        Assert.True(row.Comparisons > 0, $"{id}: nothing was compared.");
    }

    [Fact]
    public void Left_out_rows_exist_and_are_few()
    {
        // A typing error in the list would silently leave a row unexplained; 'few' keeps the list from growing into an excuse.
        HashSet<string> left = LeftOut();
        Assert.All(left, id => Assert.Contains(id, Rows.Keys));
        Assert.True(left.Count <= Rows.Count / 10, $"{left.Count} of {Rows.Count} rows are left out.");
    }

    private static HashSet<string> LeftOut() =>
        [.. File.ReadAllLines(DataFile.Path("published", "LEFT-OUT.md")).Select(l => ListedRow().Match(l)).Where(m => m.Success).Select(m => m.Groups[1].Value).Where(Rows.ContainsKey)];

    private static Dictionary<string, Action<CheckRow>> Join(params Dictionary<string, Action<CheckRow>>[] parts) =>
        parts.SelectMany(p => p).ToDictionary(p => p.Key, p => p.Value);

    [GeneratedRegex(@"^\|\s*`([^`]+)`\s*\|")]
    private static partial Regex ListedRow();
}

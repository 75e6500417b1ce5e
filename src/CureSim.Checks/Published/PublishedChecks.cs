namespace CureSim.Checks.Published;

/// <summary>Every row of check-values.csv as a check; rows of one family of sample sizes make one check together.</summary>
internal static class PublishedChecks
{
    /// <summary>Comparisons by the beginning of the row's id; the longest beginning wins.</summary>
    private static readonly Dictionary<string, Action<PublishedRow>> Comparisons = Join(
        CapabilityRows.Checks, ToleranceRows.Checks, BinomialRows.Checks, LawRows.Checks, SurvivalRows.Checks, NormalityRows.Checks,
        ConformityRows.Checks, GaugeRows.Checks, EconomicsRows.Checks, TailRows.Checks, UncertaintyRows.Checks, RandomRows.Checks, DistributionRows.Checks, SensitivityRows.Checks, RegressionRows.Checks);

    /// <summary>Sample sizes count as one check, however many tables of them there are.</summary>
    private const string SampleSizes = "sample sizes";

    /// <summary>Families whose rows differ in two numbers only, with what they are.</summary>
    private static readonly (string Prefix, string What)[] Families =
    [
        ("TOL-W1-", "order-statistic sample sizes, one-sided, by confidence and coverage"),
        ("TOL-W2-", "order-statistic sample sizes, two-sided, by confidence and coverage"),
        ("TOL-SR-", "success-run and attribute sample sizes by confidence and reliability"),
    ];

    public static IEnumerable<Check> All()
    {
        foreach (var row in PublishedData.Rows.Values.Where(r => !GumExamples.Simulates(r.Id) && !SensitivityRows.Simulates(r.Id)))
        {
            if (!Families.Any(f => row.Id.StartsWith(f.Prefix, StringComparison.Ordinal)))
            {
                yield return new Check(
                    row.Id, row.Topic, row.Inputs, row.Source, row.Provenance, CheckKind.Deterministic, ThroughEngine: false,
                    () => Evaluate(row));
            }
        }

        foreach (var (prefix, what) in Families)
        {
            PublishedRow[] rows = [.. PublishedData.Rows.Values.Where(r => r.Id.StartsWith(prefix, StringComparison.Ordinal))];
            yield return new Check(
                prefix.TrimEnd('-'), rows[0].Topic, $"{what} ({rows.Length} rows)", rows[0].Source, rows[0].Provenance, CheckKind.Deterministic,
                ThroughEngine: false, () => Together(rows)) { CountedWith = SampleSizes };
        }
    }

    private static CheckOutcome Evaluate(PublishedRow row)
    {
        // A row that nothing compares has no key here and fails as such.
        string key = Comparisons.Keys.Where(k => row.Id.StartsWith(k, StringComparison.Ordinal)).MaxBy(k => k.Length)
            ?? throw new InvalidOperationException($"Nothing compares row {row.Id}.");
        var fresh = row.Fresh();
        Comparisons[key](fresh);
        return fresh.Outcome();
    }

    private static CheckOutcome Together(PublishedRow[] rows)
    {
        (PublishedRow Row, CheckOutcome Outcome)[] all = [.. rows.Select(r => (r, Evaluate(r)))];
        var shown = all.Where(a => !a.Outcome.Passed).DefaultIfEmpty(all[0]).Take(3).ToArray();
        return new CheckOutcome(
            string.Join(" | ", shown.Select(a => $"{a.Row.Id}: {a.Outcome.Expected}")), string.Join(" | ", shown.Select(a => $"{a.Row.Id}: {a.Outcome.Found}")),
            all[0].Outcome.Tolerance, all.All(a => a.Outcome.Passed), null, all.Sum(a => a.Outcome.Figures));
    }

    private static Dictionary<string, Action<PublishedRow>> Join(params Dictionary<string, Action<PublishedRow>>[] parts) =>
        parts.SelectMany(p => p).ToDictionary(p => p.Key, p => p.Value);
}

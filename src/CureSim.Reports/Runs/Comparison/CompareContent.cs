using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Reports.Pages;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>What the report of a comparison says.</summary>
public static class CompareContent
{
    private const int LongestName = 40; // of a scenario in a headline

    // The figure that decides, the first that has an interval; true where more is better.
    private static readonly (string Id, string Words, bool MoreIsBetter)[] Deciding =
    [
        ("state_index_before_check_p05", "the state index below which 5 % of cells lie just before a check", true), ("state_index_end_p05", "the state index below which 5 % of cells lie at the end", true),
        ("dose_ppk_percentile", "Ppk of the dose", true), ("parts_nonconforming_conditional_ppm", "the fraction of nonconforming parts", false),
    ];

    /// <summary>The content.</summary>
    /// <param name="compared">The comparison.</param>
    /// <param name="plots">False: without pictures.</param>
    public static ReportContent Of(ComparedRuns compared, bool plots)
    {
        ArgumentNullException.ThrowIfNull(compared);
        var (a, b) = (compared.A, compared.B);
        var cell = a.Run.Scenario;
        TypicalBasis basisA = a.Basis, basisB = b.Basis;
        var figures = plots ? CompareFigures.Of(compared).Select(f => (f.Name, Item: ReportItem.Of(f, Caption(f.Name, f.Figure.Title)))).ToList() : [];
        var decisive = figures.FirstOrDefault(f => f.Name.Contains("state_index", StringComparison.Ordinal)).Item ?? figures.FirstOrDefault().Item;
        var (decision, answer) = Decide(compared);
        var answerTable = ReportItem.Of(PageTable.Of(CompareTables.Answer(compared), isFile: false) with { File = "tables/comparison.csv" }, "The figures that are asked for first; the difference is paired, over the same lifetimes.");
        return new()
        {
            Command = "compare",
            Title = $"{cell.Name} (A) and {b.Run.Scenario.Name} (B)",
            Question = "Which of the two cells keeps its window better, and by how much?",
            Judgement = Judgement.None,
            Decision = decision,
            Answer = answer,
            HowSure = CommonTexts.HowSure(cell) + " Differences are paired: what both share is drawn alike.",
            LargestAssumption = LargestAssumption(compared),
            Decisive = decisive ?? answerTable,
            Evidence =
            [
                new(Reader.All, "figure by figure", [], decisive is null ? [] : [answerTable]),
                new(Reader.Management, "what a year differs by", [ForManagement(compared)], []),
                new(Reader.Line, "where the light goes", ["To see: how much of full drive each cell needs when new. A cell that starts near full drive has no room left for ageing."], [ReportItem.Of(PageTable.Of(CompareTables.BudgetAnswer(compared), isFile: false) with { File = "tables/light_budgets.csv" }, "Nominal light budgets side by side.")]),
                new(Reader.Validation, "what differs, and the other pictures", ["To check: that nothing differs beside what is meant to differ; every input below that is not part of the question makes the comparison another one."],
                [
                    ReportItem.Of(PageTable.OfTexts(["Input", "A", "B", ReportLayout.KeyHeading], compared.Differences.Take(PageTable.MostRows).Select(d => (string[])[Named(d.Path), Said(d.A), Said(d.B), d.Path]))
                        with { File = "tables/inputs_that_differ.csv", Total = compared.Differences.Length }, "Inputs that the two scenarios do not share."),
                    .. figures.Where(f => f.Item != decisive).Select(f => f.Item),
                ]),
            ],
            Inputs = [new("A: " + cell.Name, a.Context.Sha256, a.Context.Inputs), new("B: " + b.Run.Scenario.Name, b.Context.Sha256, b.Context.Inputs)],
            Basis = $"A: {basisA.Words} B: {basisB.Words}",
            Method = [.. CommonTexts.Method(cell), "Both scenarios run over the same draws wherever they share an input (common random numbers). Worlds, lifetimes and seed are those of the scenario with more worlds."],
            NotModelled = [.. compared.BandChanges ? [char.ToUpperInvariant(ComparedRuns.BandRemark[0]) + ComparedRuns.BandRemark[1..] + "."] : Array.Empty<string>(), .. CommonTexts.NotModelled, "Money: see the study of ownership, or the costs of the interval study."],
            Checks = [.. CommonTexts.Checks(a.Context).Take(2).Select(t => "A: " + t), .. CommonTexts.Checks(b.Context).Take(2).Select(t => "B: " + t), .. CommonTexts.Checks(a.Context).Skip(2)],
            Cautions = [.. compared.Cautions().Select(c => char.ToUpperInvariant(c[0]) + c[1..] + "."), .. CommonTexts.Cautions],
            Reproduce = CommonTexts.Reproduce,
        };
    }

    private static string ForManagement(ComparedRuns compared)
    {
        (string Id, string? Unit, string What, string Less, string More)[] asked =
        [
            ("requalifications_per_year", null, "requalifications", "fewer requalifications", "more requalifications"), ("emitters_per_year", null, "emitters", "fewer emitters", "more emitters"),
            ("downtime_percent", "%", "production time lost", "of production time less lost", "of production time more lost"), ("parts_nonconforming_conditional_ppm", "ppm", "nonconforming parts", "fewer nonconforming parts", "more nonconforming parts"),
        ];
        string Said(Estimate d, string? unit, string what, string less, string more) => d is not { Value: { } v, Lower95: { } low, Upper95: { } high } || high <= low ? ""
            : low < 0.0 && high > 0.0 ? $"no difference in {what} is shown (from {Format.Value(-low, unit, 2)} less to {Format.Value(high, unit, 2)} more)"
            : $"{(v < 0.0 ? Format.Interval(-v, -high, -low, unit) : Format.Interval(v, low, high, unit))} {(v < 0.0 ? less : more)}";
        string[] said = [.. asked.Select(x => compared.Paired.Find(x.Id) is { } pair ? Said(pair.Difference, x.Unit, x.What, x.Less, x.More) : "").Where(t => t.Length > 0)];
        return said.Length == 0 ? "What a year differs by is withheld, for lack of lifetimes." : $"A year of B, set against a year of A: {string.Join("; ", said)}. Prices are not in it: the ownership study sets them against each other.";
    }

    // Between sources of different kinds nothing weighs more than what the model leaves out; between alike ones it is the cell that spreads more.
    private static string LargestAssumption(ComparedRuns compared)
    {
        var (a, b) = (compared.A, compared.B);
        if (compared.BandChanges)
        {
            return Assumption.Of("that the adhesive cures alike under both spectra at the same reading, in W/cm²", null, "is taken by this tool for want of a model, nobody's measurement",
                "were one band used less well, its cell would cure less than shown, by an unknown amount and in favour of the other; measure the cure under both");
        }

        bool first = a.Run.Result.Total.Shares.Variance >= b.Run.Result.Total.Shares.Variance;
        return RunContent.LargestAssumption(first ? a : b, first ? "A" : "B");
    }

    private static (string Decision, string Answer) Decide(ComparedRuns compared)
    {
        foreach (var (id, words, more) in Deciding)
        {
            if (compared.Paired.Find(id) is { Difference: { Value: not null, Lower95: { } low, Upper95: { } high } difference } pair)
            {
                string values = $"{FigureText.Of(pair.A!)} in A, {FigureText.Of(pair.B!)} in B";
                string by = $"B − A is {FigureText.Of(difference, pair.Measure.Unit)}, paired{(id.StartsWith("state_index", StringComparison.Ordinal) && compared.A.Run.Scenario.Requalification.RequiredCapability is { } required ? $"; {Format.Value(required)} is required of A" : "")}";
                string decision = low <= 0.0 && high >= 0.0 ? "Not told apart" : (low > 0.0) == more ? $"{Short(compared.B.Run.Scenario.Name)} (B) keeps its window better" : $"{Short(compared.A.Run.Scenario.Name)} (A) keeps its window better";
                return (decision, $"{char.ToUpperInvariant(words[0])}{words[1..]}: {values}; {by}.");
            }
        }

        return ("No figure decides", "The figures that would decide are withheld; more lifetimes would give them.");
    }

    private static string Named(string path) => InputNames.Of(path) is { Length: > 0 } name ? char.ToUpperInvariant(name[0]) + name[1..] : path;

    private static string Said(string? value) => value is null ? "–" : ValueWords.Of(value);

    private static string Short(string name) => name.Length > LongestName ? name[..LongestName].TrimEnd() + "…" : name;

    private static string Caption(string name, string title) =>
        name.Contains("state_index", StringComparison.Ordinal) ? "State index of the weak cells over the horizon, A and B over the same lifetimes, with the requirement."
        : name.Contains("requalify", StringComparison.Ordinal) ? "Share of qualified cells not yet requalified, A and B."
        : title.TrimEnd('?', '.') + ": A and B.";
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Studies.Compare;

namespace CureSim.Reports.Runs;

/// <summary>One input that two scenarios do not share, as text.</summary>
/// <param name="Path">Dotted path.</param>
/// <param name="A">In the first; null where it has none.</param>
/// <param name="B">In the second.</param>
/// <param name="Meaning">What it is.</param>
public sealed record DifferenceRow(string Path, string? A, string? B, string Meaning);

/// <summary>One factor of the nominal light budgets of two scenarios, side by side.</summary>
/// <param name="Name">What it is.</param>
/// <param name="A">In the first; null where it has no such factor.</param>
/// <param name="B">In the second.</param>
public sealed record BudgetPair(string Name, BudgetRow? A, BudgetRow? B);

/// <summary>Two runs over the same lifetimes with all that is told of them.</summary>
/// <param name="Paired">The figures and their differences.</param>
/// <param name="A">The first run.</param>
/// <param name="B">The second run.</param>
/// <param name="Differences">Inputs that differ.</param>
public sealed record ComparedRuns(PairedComparison Paired, RunFindings A, RunFindings B, ImmutableArray<DifferenceRow> Differences)
{
    /// <summary>What a change of the source's spectrum does to the bond; said wherever light budgets stand side by side.</summary>
    public const string BandRemark = "change of spectral band (effective dose at equal indication): not modelled";

    /// <summary>True when the sources are of different kinds, so that their bands differ.</summary>
    public bool BandChanges => A.Run.Scenario.Source.Kind != B.Run.Scenario.Source.Kind;

    /// <summary>Light budgets side by side, in the order of the first; what only the second has stands after the factor before it there.</summary>
    public ImmutableArray<BudgetPair> Budgets()
    {
        var pairs = A.Context.Budget.Select(row => new BudgetPair(row.Name, row, B.Context.Budget.FirstOrDefault(b => b.Name == row.Name))).ToList();
        string? before = null;
        foreach (var row in B.Context.Budget)
        {
            if (pairs.All(p => p.Name != row.Name))
            {
                pairs.Insert(before is null ? 0 : 1 + pairs.FindIndex(p => p.Name == before), new(row.Name, null, row));
            }

            before = row.Name;
        }

        return [.. pairs];
    }

    /// <summary>Remarks on what cannot be compared as it stands.</summary>
    public IEnumerable<string> Cautions()
    {
        Scenario a = A.Run.Scenario, b = B.Run.Scenario;
        if (a.Production.HorizonSeconds / a.Production.YearSeconds != b.Production.HorizonSeconds / b.Production.YearSeconds)
        {
            yield return $"the horizons differ ({FigureWords.Horizon(A)} and {FigureWords.Horizon(B)}): figures that hang on the horizon are not comparable";
        }

        if (a.Requalification.RequiredCapability != b.Requalification.RequiredCapability)
        {
            yield return "the required capabilities differ: what is 'qualified' in one is not in the other";
        }

        if (!a.Requalification.On.SequenceEqual(b.Requalification.On))
        {
            yield return "the events to requalify on differ: times to requalify do not mean the same";
        }

        if (!a.Window.Limits.SequenceEqual(b.Window.Limits))
        {
            yield return "the process windows differ: indices and fractions are against different limits";
        }
    }
}

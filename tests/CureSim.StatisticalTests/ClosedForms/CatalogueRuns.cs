using System.Collections.Concurrent;
using CureSim.Checks;

namespace CureSim.StatisticalTests.ClosedForms;

/// <summary>Outcomes of the catalogue's checks, each made once however many tests look at it.</summary>
internal static class CatalogueRuns
{
    private static readonly ConcurrentDictionary<string, Lazy<CheckOutcome>> Outcomes = new();

    /// <summary>Checks that sample, simulate or judge states; the others, of the arithmetic alone, are run in CureSim.Tests.</summary>
    public static IEnumerable<Check> Simulated => CheckCatalogue.All.Where(c => Topics.Simulated.Contains(c.Topic) || c.Kind == CheckKind.Sampled);

    public static CheckOutcome Of(string id) =>
        Outcomes.GetOrAdd(id, i => new Lazy<CheckOutcome>(() => CheckCatalogue.All.Single(c => c.Id == i).Run())).Value;
}

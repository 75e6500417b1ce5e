using CureSim.Checks;

namespace CureSim.Tests.Checks;

/// <summary>The catalogue of checks: what is in it, and the checks that need no simulation. The others are run by the statistical tests.</summary>
public class CatalogueTests
{
    private static IEnumerable<Check> OfArithmetic => CheckCatalogue.All.Where(c => !Topics.Simulated.Contains(c.Topic) && c.Kind == CheckKind.Deterministic);

    public static TheoryData<string> Ids => [.. OfArithmetic.Select(c => c.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Check_passes(string id)
    {
        var outcome = CheckCatalogue.All.Single(c => c.Id == id).Run();
        Assert.True(outcome.Passed, $"{id}: {outcome}");
        Assert.True(outcome.Figures > 0, $"{id}: nothing was compared");
    }

    [Fact]
    public void Catalogue_is_as_large_as_promised()
    {
        Assert.True(CheckCatalogue.All.Length >= 150, $"{CheckCatalogue.All.Length} checks");
        int through = CheckCatalogue.All.Count(c => c.ThroughEngine);
        Assert.True(through >= 30, $"{through} checks through the engine");
    }

    [Fact]
    public void Every_check_says_what_it_is()
    {
        Assert.Equal(CheckCatalogue.All.Length, CheckCatalogue.All.Select(c => c.Id).Distinct().Count());
        Assert.All(CheckCatalogue.All, c =>
        {
            Assert.All([c.Id, c.Topic, c.What, c.Source], text => Assert.False(string.IsNullOrWhiteSpace(text), c.Id));
            Assert.All(c.Provenance.Split(" + "), p => Assert.Contains(p, Provenances.All));
        });

        // Every quantity that chance touches is told apart from those that it does not.
        Assert.All(CheckCatalogue.All.Where(c => c.Topic == Topics.Fraction), c => Assert.Equal(CheckKind.Sampled, c.Kind));
        Assert.All(CheckCatalogue.All.Where(c => c.Topic == Topics.State), c => Assert.Equal(CheckKind.Deterministic, c.Kind));
    }

    [Fact]
    public void Exception_is_a_failed_check()
    {
        var check = new Check("X", "topic", "what", "source", Provenances.ClosedForm, CheckKind.Deterministic, false, () => throw new InvalidOperationException("broken"));
        var outcome = check.Run();
        Assert.False(outcome.Passed);
        Assert.Contains("broken", outcome.Found);
        Assert.Contains("FAILED", outcome.ToString());
    }

    [Fact]
    public void Budget_is_that_of_the_normal_law()
    {
        // P(|Z| > 3) = 0.002699796 (SciPy, recomputed).
        Assert.Equal(0.00269979606326, FalsePositiveBudget.ChanceOfOne, 1e-13);
        Assert.Equal(FalsePositiveBudget.SampledFigures * 0.00269979606326, FalsePositiveBudget.FalseAlarms, 1e-9);
    }
}

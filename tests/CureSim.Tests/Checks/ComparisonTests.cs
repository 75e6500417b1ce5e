using CureSim.Checks;
using CureSim.Checks.Comparing;
using CureSim.Checks.Published;

namespace CureSim.Tests.Checks;

/// <summary>The comparisons themselves can fail: on a wrong number, on nothing compared, on a planted error that agrees.</summary>
public class ComparisonTests
{
    private static ExactComparison Exact() => new(1e-6, "for the test");

    [Fact]
    public void Exact_comparison_takes_what_lies_within_its_tolerance()
    {
        var close = Exact();
        close.Add("a", 2.0, 2.000001);
        close.Add("zero", 0.0, 1e-7);
        close.Add("statement", true);
        close.Plant("a hundredth more", 2.02, 2.000001);
        Assert.True(close.Outcome().Passed);
        Assert.Equal(3, close.Outcome().Figures);

        var far = Exact();
        far.Add("a", 2.0, 2.00001);
        Assert.False(far.Outcome().Passed);
        Assert.Contains("2.00001 instead of 2", far.Outcome().Found);
    }

    [Fact]
    public void Exact_comparison_fails_on_nothing_on_not_a_number_and_on_a_blind_planted_error()
    {
        Assert.False(Exact().Outcome().Passed);
        var notANumber = Exact();
        notANumber.Add("a", 1.0, double.NaN);
        Assert.False(notANumber.Outcome().Passed);
        var blind = Exact();
        blind.Add("a", 1.0, 1.0);
        blind.Plant("none", 1.0, 1.0);
        Assert.False(blind.Outcome().Passed);
        var statement = Exact();
        statement.Add("statement", false);
        Assert.False(statement.Outcome().Passed);
    }

    [Theory]
    [InlineData(1.029, 1.2, true)] // within three standard errors of 0.01
    [InlineData(1.031, 1.2, false)] // beyond
    [InlineData(1.0, 1.02, false)] // the planted error lies within three as well
    public void Sampled_comparison_is_three_standard_errors_wide(double found, double planted, bool passes)
    {
        var check = new SampledCheck("X", "topic", "what", "source", 1, "planted", _ => [new SampledFigure("f", 1.0, found, 0.01, planted)]);
        Assert.Equal(passes, check.Entry.Run().Passed);
        Assert.Equal(0.03, check.Entry.Run().SmallestDetectable!.Value, 1e-12);
    }

    [Fact]
    public void Allowance_widens_the_comparison_and_what_it_can_show()
    {
        var figure = new SampledFigure("f", 2.0, 2.05, 0.01, null, 0.03);
        Assert.True(figure.Agrees(2.0));
        Assert.False((figure with { Allowance = 0.01 }).Agrees(2.0));
        Assert.Equal(0.03, figure.SmallestDetectable, 1e-12);
        Assert.Equal(5.0, figure.Score, 1e-9);
    }

    [Fact]
    public void Published_row_is_held_to_its_own_digits()
    {
        PublishedRow Row() => new("X", "topic", "n=4; p=1/3", "mean=0.3333; list [1; 2.50]; total 7", "1e-3", "source", "recomputed");
        var good = Row();
        good.Check("mean", good.Input("p"));
        good.CheckList("list", [1.0, 2.503]);
        good.Check("total", 7.0);
        Assert.True(good.Outcome().Passed);
        Assert.Equal(4, good.Outcome().Figures);

        // Half a unit of the fourth digit is the least that is allowed; a whole number is exact.
        var wrong = Row();
        wrong.Check("mean", 0.3334);
        Assert.False(wrong.Outcome().Passed);
        var whole = Row();
        whole.Check("total", 7.00001);
        Assert.False(whole.Outcome().Passed);
        Assert.False(Row().Outcome().Passed);
        Assert.Throws<InvalidOperationException>(() => Row().Check("missing", 1.0));
    }
}

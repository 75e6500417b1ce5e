using CureSim.Reports.Text;

namespace CureSim.Tests.Reports;

/// <summary>Values of a scenario in plain words.</summary>
public sealed class ValueWordsTests
{
    [Theory]
    [InlineData("{ normal: { mean: 6.4 W/cm2, sd: 5 % } }", "normal, mean 6.4 W/cm², standard deviation 5 %")]
    [InlineData("{ U: 6 %, k: 2 }", "U = 6 %, k = 2")]
    [InlineData("{ unknown: { uniform: { from: 0.5, to: 0.8 } } }", "unknown: uniform, from 0.5 to 0.8")]
    [InlineData("{ triangular: { from: -1 %/yr, peak: 0 %/yr, to: 2 %/yr } }", "triangular, from -1 %/yr to 2 %/yr, peak 0 %/yr")]
    [InlineData("{ lognormal: { median: 150 h, gsd: 1.3 } }", "lognormal, median 150 h, geometric standard deviation 1.3")]
    [InlineData("{ discrete: [ { value: 90 %, weight: 1 }, { value: 80 %, weight: 2 } ] }", "discrete, value 90 %, weight 1; value 80 %, weight 2")]
    [InlineData("[ 1 week (= 20 steps, 80 h), 1 month (= 83 steps, 332 h, rounded from 333.3333 h) ]", "1 week (80 h); 1 month (332 h, rounded from 333.3333 h)")]
    [InlineData("1 yr (= 500 steps, 4000 h)", "1 yr (4000 h)")]
    [InlineData("2.4 s", "2.4 s")]
    [InlineData("17 deg", "17°")]
    [InlineData("true", "yes")]
    [InlineData("(no wander)", "(no wander)")]
    public void Values_AsPeopleSayThem(string text, string words) => Assert.Equal(words, ValueWords.Of(text));

    // Texts of a stranger's report: as they are, without end or exception.
    [Theory]
    [InlineData("{ a")]
    [InlineData("{ a: b")]
    [InlineData("[ x")]
    [InlineData("{ a: { b: c }")]
    [InlineData("{ <script>: 1 } tail")]
    [InlineData("{}}")]
    public void Values_ThatAreNone_StayAsTheyAre(string text) => Assert.Equal(text, ValueWords.Of(text));

    [Fact]
    public void Values_OfAnyDepth_StayAsTheyAre()
    {
        string deep = string.Concat(Enumerable.Repeat("{ a: ", 5000)) + "1" + string.Concat(Enumerable.Repeat(" }", 5000));
        Assert.Equal(deep, ValueWords.Of(deep));
    }
}

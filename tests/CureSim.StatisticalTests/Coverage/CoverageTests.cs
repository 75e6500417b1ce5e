using Xunit.Abstractions;

namespace CureSim.StatisticalTests.Coverage;

public class CoverageTests(ITestOutputHelper output)
{
    [Fact]
    public void Explore()
    {
        foreach (var s in CoverageScenarios.All)
        {
            var clock = System.Diagnostics.Stopwatch.StartNew();
            foreach (var r in CoverageStudy.Of(s))
            {
                output.WriteLine(FormattableString.Invariant($"{r.Scenario} {r.Figure} truth {r.Truth:G5} ± {r.TruthHalfWidth:G2} half {r.MeanHalfWidth:G3} cover {r.Percent:0.0} above {r.Above} below {r.Below} withheld {r.Withheld}"));
            }
            output.WriteLine($"{clock.Elapsed.TotalSeconds:0.0} s");
        }
    }
}

using System.Globalization;

namespace CureSim.StatisticalTests.Coverage;

/// <summary>Printed 95 % intervals hold the true value in 92 to 98 of a hundred runs.</summary>
/// <remarks>
/// Of 400 runs with a coverage of 95 %, the part that holds has a standard deviation of 1.1 %: chance alone leaves 92 to 98 % in one case of 180, and the
/// seeds are fixed. An interval that is a sixth too short (coverage below 90 %) is caught nine times in ten.
/// Truth: the median in closed form (exponential ln 2/λ; Weibull scale·(ln 2)^(1/shape)), the rest by one run of 50 times the lifetimes.
/// </remarks>
public class CoverageTests
{
    private const double Least = 92.0, Most = 98.0;

    private static readonly Lazy<(CoverageScenario Cell, CoverageRow[] Rows)[]> All = new(() => [.. CoverageScenarios.All.Select(c => (c, CoverageStudy.Of(c)))]);

    /// <summary>What is found of a cell with independent lifetimes.</summary>
    internal static CoverageRow[] Found(string name) => All.Value.Single(c => c.Cell.Name == name).Rows;

    public static TheoryData<string, string> Cases
    {
        get
        {
            var cases = new TheoryData<string, string>();
            foreach (var cell in CoverageScenarios.All)
            {
                foreach (string figure in CoverageStudy.Figures.Where(f => f != "requalify_median_hours" || cell.MedianSeconds is not null))
                {
                    cases.Add(cell.Name, figure);
                }
            }

            return cases;
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Interval_HoldsTheTruth_AsOftenAsItSays(string name, string figure)
    {
        var (cell, rows) = All.Value.Single(c => c.Cell.Name == name);
        var row = rows.Single(r => r.Figure == figure);
        if (cell.WithholdsFractions && figure.Contains("nonconforming", StringComparison.Ordinal))
        {
            // Runs that miss the few bad lifetimes cannot know it: what the rule can do is to keep the figure back in nearly all of them.
            Assert.True(row.Withheld >= 0.9 * row.Runs, $"{row}");
            return;
        }

        // A figure that is withheld now and then is printed in a chosen part of the runs only, which would say little of its intervals.
        Assert.True(row.Withheld <= 0.02 * row.Runs, $"{row}");
        Assert.True(row.Percent is >= Least and <= Most, $"{row}");
    }

    [Fact]
    public void Intervals_ThatAreAThirdTooShort_AreCaught()
    {
        // The comparison itself: intervals of two thirds of their length hold the mean dose in 81 % of runs (normal law), which must not pass.
        var mean = All.Value[0].Rows.Single(r => r.Figure.StartsWith("dose_mean", StringComparison.Ordinal));
        Assert.True(mean.HeldWhenShorter < Least * mean.Runs / 100.0, $"{mean}");
    }

    [Fact]
    public void Table_IsWrittenWhenAskedFor()
    {
        static string Number(double x, string format = "G4") => x.ToString(format, CultureInfo.InvariantCulture);
        var rows = All.Value.SelectMany(c => c.Rows.Select(r => new[]
        {
            r.Scenario, $"`{r.Figure}`", Number(r.Truth) + (r.TruthHalfWidth > 0.0 ? $" ± {Number(r.TruthHalfWidth, "G2")}" : " (exact)"), double.IsNaN(r.MeanHalfWidth) ? "–" : "± " + Number(r.MeanHalfWidth, "G3"),
            r.Withheld > r.Runs / 2 ? "withheld" : Number(r.Percent, "0.0") + " %", $"{r.Above}", $"{r.Below}", $"{r.Withheld}",
        })).ToArray();
        Assert.Equal(Cases.Count(), rows.Length);
        GeneratedTable.Write("coverage", ["cell", "figure", "true value", "mean half-width", "coverage", "too high", "too low", "withheld"], rows);
    }
}

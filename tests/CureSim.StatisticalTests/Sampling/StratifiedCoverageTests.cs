using System.Globalization;
using CureSim.StatisticalTests.Coverage;

namespace CureSim.StatisticalTests.Sampling;

/// <summary>Under stratified sampling figures stay unbiased, and their printed 95 % intervals hold the true value in 92 to 98 of a hundred runs.</summary>
/// <remarks>
/// 400 runs of one cell, 60 of the other. Unbiased: the mean of their values is that of 400 runs of independent lifetimes, with as many lifetimes each, within
/// three standard errors of the difference; so what an index or a ratio has of bias from few lifetimes stands on both sides.
/// Coverage: limits as for independent lifetimes (<see cref="CoverageTests"/>).
/// </remarks>
public class StratifiedCoverageTests
{
    private const int FewerRuns = 60;
    private const string Median = "requalify_median_hours";
    private static readonly CoverageScenario[] Chosen = [CoverageScenarios.Cracks, CoverageScenarios.Ageing];

    private static readonly Lazy<(CoverageScenario Cell, CoverageRow[] Rows)[]> All = new(() =>
        [.. Chosen.Select(c => (c, CoverageStudy.OfStratified(c, c.Name == Chosen[0].Name ? CoverageStudy.Runs : FewerRuns, CoverageTests.Found(c.Name))))]);

    public static TheoryData<string, string> Cases => CasesOf(Chosen);

    public static TheoryData<string, string> OfOneCell => CasesOf(Chosen[..1]);

    private static TheoryData<string, string> CasesOf(CoverageScenario[] cells)
    {
        var cases = new TheoryData<string, string>();
        foreach (var cell in cells)
        {
            foreach (string figure in CoverageStudy.Figures.Where(f => f != Median || cell.MedianSeconds is not null))
            {
                cases.Add(cell.Name, figure);
            }
        }

        return cases;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Values_HaveTheTrueMean(string name, string figure)
    {
        CoverageRow stratified = Row(name, figure), independent = CoverageTests.Found(name).Single(r => r.Figure == figure);
        Assert.True(SameMean(stratified, independent, 0.0), $"{stratified} {independent}");

        // The planted error: all values off by half of the half-width of one independent run's interval.
        Assert.False(SameMean(stratified, independent, 0.5 * independent.MeanHalfWidth), $"{stratified} {independent}");
        Assert.False(SameMean(stratified, independent, -0.5 * independent.MeanHalfWidth), $"{stratified} {independent}");
    }

    [Theory]
    [MemberData(nameof(OfOneCell))]
    public void Interval_HoldsTheTruth_AsOftenAsItSays(string name, string figure)
    {
        var row = Row(name, figure);
        Assert.True(row.Withheld <= 0.02 * row.Runs, $"{row}");

        // One half is an edge of strata, so at the true median every leaf has exactly half of its first arrivals behind it: the interval cannot miss it.
        Assert.True(row.Percent >= 92.0 && row.Percent <= (figure == Median ? 100.0 : 98.0), $"{row}");
    }

    [Fact]
    public void Table_IsWrittenWhenAskedFor()
    {
        static string Number(double x, string format = "G4") => x.ToString(format, CultureInfo.InvariantCulture);
        var rows = All.Value.SelectMany(c => c.Rows.Select(r => new[]
        {
            r.Scenario, $"`{r.Figure}`", Number(r.Truth) + (r.TruthHalfWidth > 0.0 ? $" ± {Number(r.TruthHalfWidth, "G2")}" : " (exact)"),
            $"{r.Runs}", $"{Number(r.Mean)} ± {Number(1.96 * r.MeanError, "G2")}", "± " + Number(r.MeanHalfWidth, "G3"), Number(r.Percent, "0.0") + " %", $"{r.Above}", $"{r.Below}",
        })).ToArray();
        Assert.Equal(Cases.Count(), rows.Length);
        GeneratedTable.Write(
            "stratified coverage", ["cell", "figure", "true value", "runs", "their mean", "mean half-width", "coverage", "too high", "too low"], rows);
    }

    private static bool SameMean(CoverageRow a, CoverageRow b, double shift) =>
        Math.Abs(a.Mean + shift - b.Mean) <= 3.0 * Math.Sqrt((a.MeanError * a.MeanError) + (b.MeanError * b.MeanError));

    private static CoverageRow Row(string name, string figure) => All.Value.Single(c => c.Cell.Name == name).Rows.Single(r => r.Figure == figure);
}

using System.Globalization;
using CureSim.StatisticalTests.Coverage;

namespace CureSim.StatisticalTests.Fit;

/// <summary>Intervals of what is fitted to generated logs hold the truth that made them.</summary>
/// <remarks>
/// The table in docs/statistics.md is of 200 logs of each form; here the first eight are fitted, whose seeds are fixed. Of eight intervals at 95 % fewer than six hold the truth
/// once in 170 cases; intervals of half the length (69 %) hold it in fewer than six of eight in 44 %.
/// </remarks>
public class LogCoverageTests
{
    private const int Few = 8, Least = 6;

    [Fact]
    public void EightLogs_AreHeld_AndTheirFormIsFound()
    {
        var (rows, chosen, _) = LogCoverageStudy.Of("two_stage", Few);
        Assert.Equal(6, rows.Length);
        Assert.All(rows, r => Assert.True(r.Logs == Few && r.Held >= Least, r.ToString()));
        Assert.Equal(Few, chosen);

        // What intervals of half their length would do: over all rows they must miss what full ones hold.
        Assert.True(rows.Sum(r => r.HeldWhenHalved) < rows.Sum(r => r.Held) - 4, string.Join("\n", rows.Select(r => r.ToString())));
    }

    [Fact]
    public void Table_IsWrittenWhenAskedFor()
    {
        if (Environment.GetEnvironmentVariable("CURESIM_WRITE_GENERATED") != "1")
        {
            // The committed table must say what the requirement asks: 88.5 to 99.5 % of 200 logs (three standard errors about 95 %, and the form found).
            string[] lines = [.. File.ReadLines(LogCoverageStudy.Scenario(Path.Combine("..", "docs", "statistics.md"))).SkipWhile(l => !l.Contains("log-coverage: begin", StringComparison.Ordinal)).TakeWhile(l => !l.Contains("log-coverage: end", StringComparison.Ordinal)).Where(l => l.StartsWith("| ", StringComparison.Ordinal)).Skip(1)];
            Assert.Equal(LogCoverageStudy.Cases.Sum(c => 2 * c.Medians.Length), lines.Length);
            foreach (string line in lines)
            {
                string[] cells = [.. line.Trim('|', ' ').Split('|').Select(c => c.Trim())];
                Assert.InRange(double.Parse(cells[3].Replace(" %", "", StringComparison.Ordinal), CultureInfo.InvariantCulture), 88.5, 99.5);
            }

            return;
        }

        var table = new List<string[]>();
        foreach (var (form, _, _, _) in LogCoverageStudy.Cases)
        {
            var (rows, chosen, alone) = LogCoverageStudy.Of(form, LogCoverageStudy.Logs);
            table.AddRange(rows.Select(r => new[]
            {
                $"`{form}`", $"`{r.Parameter}`", r.What, (100.0 * r.Held / r.Logs).ToString("0.0", CultureInfo.InvariantCulture) + " %", $"{r.Low}", $"{r.High}", $"{r.Logs}",
                FormattableString.Invariant($"{chosen} of {LogCoverageStudy.Logs} ({alone} alone)"),
            }));
        }

        GeneratedTable.Write("log-coverage", ["form that made the logs", "parameter", "figure", "coverage", "too low", "too high", "logs", "form taken"], table);
    }
}

namespace CureSim.Cli.Tests;

/// <summary>--require turns the verdict into the exit code; without it the verdict is only told.</summary>
public sealed class RequirementTests
{
    [Theory]
    [InlineData("0.2", 0, "reached, but provisional: it rests on typical inputs")]
    [InlineData("3.9", 1, "MISSED")]
    public void Run_Require_ExitCodeFollowsTheVerdict(string capability, int code, string word)
    {
        using var tool = new Tool();
        string[] arguments = ["run", "scenarios/quick.yaml", "--lifetimes", "20", "--no-plots", "--set", "production.horizon=10 weeks", "--set", $"requalification.capability={capability}"];
        var plain = tool.Run(arguments).Exits(0);
        var required = tool.Run([.. arguments, "--require"]).Exits(code);
        Assert.Contains($"required {capability}: {word}", System.Text.RegularExpressions.Regex.Replace(plain.Output, @"\s+", " "), StringComparison.Ordinal);
        Assert.Equal(plain.Output, required.Output);

        // The definition: 5th percentile over cells of the state index just before a check, against the requirement.
        var spread = new CsvFile(tool.At("output", "quick", "run", "tables", "state_index_spread.csv"));
        int row = spread.Where("moment", "just before a check").Single();
        Assert.Equal(code == 0, IsMet(spread, row));
    }

    [Fact]
    public void Run_WithoutChecks_LooksAtTheEnd()
    {
        using var tool = new Tool();
        tool.Write("plain.yaml", """
            curesim: 1
            name: No checks
            production: { rate: 240 /h, horizon: 4 weeks }
            source: { kind: arc lamp, irradiance: { normal: { mean: 6.4 W/cm2, sd: 5 % } } }
            exposure: { time: 1.2 s }
            window: { dose: { lower: 5 J/cm2, upper: 10.5 J/cm2 } }
            run: { lifetimes: 30 }
            """);
        var result = tool.Run("run", "plain.yaml", "--no-plots", "--require");
        Assert.Contains("at the end; required 1.33", result.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        var spread = new CsvFile(tool.At("output", "plain", "run", "tables", "state_index_spread.csv"));
        Assert.Empty(spread.Where("moment", "just before a check"));
        Assert.Equal(IsMet(spread, spread.Where("moment", "end").Single()) ? 0 : 1, result.ExitCode);
    }

    // A percentile above the scale of the index has no number; then more than 95 % of the states lie above it.
    private static bool IsMet(CsvFile spread, int row) =>
        spread.Text(row, "p05").Length > 0 ? spread.Number(row, "p05") >= spread.Number(row, "required") : spread.Number(row, "above_scale_percent") > 95.0;
}

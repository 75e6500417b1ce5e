using System.Text.Json.Nodes;

namespace CureSim.Cli.Tests;

/// <summary>Paired differences against what they must be.</summary>
public sealed class CompareTests
{
    private static readonly string[] Short = ["--no-plots", "--quiet", "--set", "production.horizon=12 weeks"];

    [Fact]
    public void Compare_AScenarioWithItself_DiffersByNothing()
    {
        using var tool = new Tool();
        tool.Run(["compare", "scenarios/quick.yaml", "scenarios/quick.yaml", "--lifetimes", "80", .. Short]).Exits(0);
        var table = new CsvFile(tool.At("output", "quick", "compare-quick", "tables", "comparison.csv"));
        int told = 0;
        for (int r = 0; r < table.Count; r++)
        {
            if (table.Text(r, "difference").Length > 0)
            {
                told++;
                Assert.Equal("0", table.Text(r, "difference"));
                if (table.Text(r, "difference_lower95").Length > 0)
                {
                    Assert.Equal("0", table.Text(r, "difference_lower95"));
                    Assert.Equal("0", table.Text(r, "difference_upper95"));
                }
            }
        }

        Assert.True(told >= 30, $"only {told} differences are given");
        Assert.Equal("no differences", tool.Run("diff", "scenarios/quick.yaml", "scenarios/quick.yaml").Exits(0).Output.Trim());
    }

    [Fact]
    public void Compare_LongerExposure_ScalesTheDoseOfEveryLifetime()
    {
        using var tool = new Tool();

        // Nothing but the exposure time differs, and nothing in the cell reacts to the dose or to longer light (the guide's loss runs with its lit time):
        // H = E·t, so every dose is 1.25 times as large.
        string[] inert = ["--set", "requalification.record_only=true", "--set", "guide.loss=0 %/1000 h", "--set", "exposure.error=0 s", "--set", "window.dose.upper=30 J/cm2"];
        string text = File.ReadAllText(tool.At("scenarios", "quick.yaml"));
        tool.Write("longer.yaml", text.Replace("time: 2.4 s", "time: 3 s", StringComparison.Ordinal));
        Assert.NotEqual(text, File.ReadAllText(tool.At("longer.yaml")));
        tool.Run(["compare", "scenarios/quick.yaml", "longer.yaml", "--lifetimes", "128", .. Short, .. inert]).Exits(0);
        var table = new CsvFile(tool.At("output", "quick", "compare-longer", "tables", "comparison.csv"));
        int row = table.Where("figure", "dose_mean_j_per_cm2").Single();
        double a = table.Number(row, "a"), difference = table.Number(row, "difference");

        // Ten digits are written of each figure.
        Assert.Equal(0.25 * a, difference, 1e-8);

        // Paired: the differences of the batches are a quarter of the batches' own means, and so is their scatter.
        double width = table.Number(row, "a_upper95") - table.Number(row, "a_lower95"), paired = table.Number(row, "difference_upper95") - table.Number(row, "difference_lower95");
        Assert.Equal(0.25 * width, paired, 1e-7);
    }

    [Fact]
    public void Compare_LampAndLed_SaysThatTheBandIsNotModelled()
    {
        using var tool = new Tool();
        string[] few = ["--lifetimes", "2", "--set", "run.worlds=2", "--no-plots", "--set", "production.horizon=4 weeks"];
        var result = tool.Run(["compare", "scenarios/hub-bond-lamp.yaml", "scenarios/hub-bond-led.yaml", .. few]).Exits(0);
        Assert.Contains("change of spectral band (effective dose at equal indication): not modelled", result.Output, StringComparison.Ordinal);
        var budgets = new CsvFile(tool.At("output", "hub-bond-lamp", "compare-hub-bond-led", "tables", "light_budgets.csv"));
        Assert.Equal("", budgets.Text(budgets.Where("factor", "guide, new").Single(), "b_ratio"));
        Assert.Contains("not modelled", budgets.Text(budgets.Where("factor", "spectral band").Single(), "remark"), StringComparison.Ordinal);
        var summary = JsonNode.Parse(File.ReadAllText(tool.At("output", "hub-bond-lamp", "compare-hub-bond-led", "summary.json")))!;
        Assert.Equal("Hub bond, an LED head at each site", (string)summary["otherScenario"]!);
    }
}

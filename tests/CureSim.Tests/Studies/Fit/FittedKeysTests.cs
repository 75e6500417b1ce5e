using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Reports.Fit;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

namespace CureSim.Tests.Studies.Fit;

/// <summary>What is fitted goes back into a scenario, its uncertainty with it, and runs.</summary>
public class FittedKeysTests
{
    private static readonly string File = Path.Combine(Statistics.DataFile.Path(), "..", "..", "scenarios", "emitter-log.yaml");

    private static readonly Lazy<LogFit> Fit = new(() =>
    {
        var cell = ScenarioReader.Read(File, []).Cell!;
        return LogFit.Of(InventedLog.Of(new RunPlan(cell with { Run = cell.Run with { PartsAStep = 1 } }), 0, 0, 2), new());
    });

    [Fact]
    public void Keys_GoIntoAScenario_AndRun()
    {
        var keys = FittedKeys.Of(Fit.Value);
        Assert.Equal(["source.ageing", "source.failure", "radiometer.repeatability", "radiometer.session", "disturbances"], keys.Select(k => k.Path));
        var read = ScenarioReader.Read(File, [.. keys.Where(k => !k.IsList).SelectMany(k => new[] { $"{k.Path}=", $"{k.Path}={k.Text}" }), $"disturbances=[ {keys[^1].Text} ]", "run.lifetimes=8", "run.worlds=4", "production.horizon=240 h"]);
        Assert.Empty(read.Problems);

        // Three parameters of the form, each unknown, all pairs correlated or as good as not.
        Assert.Contains("source.ageing.two_stage.late_time", read.ResolvedYaml, StringComparison.Ordinal);
        Assert.NotEmpty(read.Cell!.UnknownCorrelations);
        var result = new LocalRunner(new RunPlan(read.Cell), 1).Run();
        Assert.Equal(32, result.Records.Length);
    }

    [Fact]
    public void Block_IsYamlThatAScenarioTakesAsItStands()
    {
        // A scenario without the three blocks, and the block below it.
        string text = FitBlock.Of(Fit.Value, new("log", "log.csv", "", [], []));
        string[] lines = System.IO.File.ReadAllLines(File);
        string whole = string.Join('\n', lines.Where(l => !l.StartsWith("radiometer:", StringComparison.Ordinal))).Replace("source:\n", "source:\n" + Under(text, "source"), StringComparison.Ordinal);
        whole = Without(whole, "  ageing:\n", "  failure: {") + "\nradiometer:\n" + Under(text, "radiometer");
        whole = whole.Replace("  failure: { weibull: { shape: 3, scale: 2600 h } }\n", "", StringComparison.Ordinal).Replace("  - { name: window cracks, rate: 1 /15000 h, factor: { uniform: { from: 80 %, to: 92 % } }, cleared_by: nothing }", Under(text, "disturbances").TrimEnd(), StringComparison.Ordinal);
        string path = Path.Combine(Path.GetTempPath(), Guid.NewGuid().ToString("N") + ".yaml");
        try
        {
            System.IO.File.WriteAllText(path, whole);
            var read = ScenarioReader.Read(path, []);
            Assert.Empty(read.Problems);
            Assert.Equal(0.00824, read.Cell!.Radiometer.Repeatability.Varies.StandardDeviation, 1e-6);
        }
        finally
        {
            System.IO.File.Delete(path);
        }
    }

    [Fact]
    public void FormsThatCannotBeToldApart_GoInByWeight()
    {
        var fit = Fit.Value;
        var both = fit with { Forms = [.. fit.Forms.Select(f => f with { Difference = f.Form.Name == "exponential" ? 20.0 : f.Form.Name == "stretched" ? 1.0 : 0.0, Weight = f.Form.Name == "stretched" ? 0.38 : 0.62 })] };
        var key = FittedKeys.Of(both)[0];
        Assert.Contains("candidates", key.Text, StringComparison.Ordinal);
        var read = ScenarioReader.Read(File, ["source.ageing=", $"source.ageing={key.Text}", "run.worlds=4"]);
        Assert.Empty(read.Problems);
        Assert.Equal(2, read.Cell!.Source.Ageing.Length);
    }

    // The lines below a key of the block.
    private static string Under(string text, string key)
    {
        string[] lines = text.Split('\n');
        int at = Array.IndexOf(lines, key + ":");
        return string.Join('\n', lines.Skip(at + 1).TakeWhile(l => l.StartsWith(' '))) + "\n";
    }

    private static string Without(string text, string from, string to)
    {
        int a = text.LastIndexOf(from, StringComparison.Ordinal), b = text.IndexOf(to + " weibull: { shape: 3", StringComparison.Ordinal);
        return text[..a] + text[b..];
    }
}

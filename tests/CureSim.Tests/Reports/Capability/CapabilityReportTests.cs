using CureSim.Core.Statistics;
using CureSim.Reports.Capability;
using CureSim.Reports.Figures;
using CureSim.Reports.Plans;
using CureSim.Reports.Tables;
using CureSim.Studies.Capability;
using CureSim.Studies.Plans;

namespace CureSim.Tests.Reports.Capability;

/// <summary>What is written about a sample, whatever the sample is.</summary>
public class CapabilityReportTests
{
    public static TheoryData<string> Kinds => ["normal", "two values", "one limit", "skewed", "two lots", "rounded", "negative", "large", "plain numbers", "hardly any spread", "far outside", "all sizes"];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Everything_EachKindOfSample_IsWrittenAndFollowsTheRules(string kind)
    {
        var (analysis, context) = Make(kind);
        foreach (var (_, figure) in CapabilityFigures.Of(analysis, context))
        {
            FigureRules.Check(figure); // throws
        }

        var tables = CapabilityTables.Of(analysis, context);
        Assert.All(tables, t => Assert.NotEmpty(t.Rows));
        Assert.NotEmpty(CapabilitySummary.Of(analysis, context).ToBytes()); // throws on a number that is not finite or a value without reason
        Assert.InRange(CapabilityAnswer.Of(analysis, context).Length, 9, 12);

        // A figure stands with a limit of its interval, or is withheld with a reason: never a bare number.
        Assert.All(CapabilityRows.Of(analysis, context), row => Assert.True(
            row.Figure.Withheld is { Length: > 0 } || (row.Figure.Value is not null && (row.Figure.Lower ?? row.Figure.Upper) is not null), row.Id));
    }

    [Fact]
    public void Answer_SkewedSample_SaysWhichFigureToUse()
    {
        var (analysis, context) = Make("skewed");
        string text = string.Join("\n", CapabilityAnswer.Of(analysis, context).Select(l => $"{l.Label}: {l.Text}"));
        Assert.Contains("not normal: use Ppk after the power", text, StringComparison.Ordinal);
        Assert.Contains("under the normal fit withheld", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Answer_NoGroups_KeepsCpkBack()
    {
        var (analysis, context) = Make("normal");
        string line = CapabilityAnswer.Of(analysis, context).Single(l => l.Label == "Cpk, short-term").Text;
        Assert.Contains("ISO 22514 keeps Cp and Cpk", line, StringComparison.Ordinal);
        Assert.DoesNotContain(CapabilityRows.Of(analysis, context), r => r.Id is "cp" or "cpk");
    }

    [Fact]
    public void Groups_NamedLikeFormulas_AreMadeHarmless()
    {
        double[] values = [.. Normal(20)];
        var analysis = CapabilityAnalysis.Of(new(values, [.. values.Select((_, i) => i < 10 ? "=1+1" : "@x")]), new(new(5.0, 9.0), 0.95, 0.99, null, null));
        var tables = CapabilityTables.Of(analysis, Context(20));
        foreach (string name in new[] { "groups", "values" })
        {
            string csv = CsvText.Of(tables.Single(t => t.Name == name));
            Assert.Contains("'=1+1", csv, StringComparison.Ordinal);
            Assert.DoesNotContain(",=1+1", csv, StringComparison.Ordinal);
            Assert.DoesNotContain("\n=1+1", csv, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void PlanTables_EachTable_HasSourceAndCaption()
    {
        var tables = PlanTables.Of(SamplePlanTables.Of(0.95, 0.99, 60));
        Assert.Equal(["attribute_plans", "order_statistics", "normal_factors", "index_plans", "own_parts", "risk_pairs"], tables.Select(t => t.Table.Name));
        Assert.All(tables, t => Assert.True(t.Caption.Length > 20 && t.Source.Length > 10, t.Table.Name));
        Assert.Contains("common practice, no source", tables[^1].Caption, StringComparison.Ordinal);
    }

    private static IEnumerable<double> Normal(int n, double mean = 7.0, double deviation = 0.5) =>
        Enumerable.Range(1, n).Select(i => mean + (deviation * NormalLaw.Quantile((i - 0.5) / n)));

    private static CapabilityContext Context(int count) => new("s", "s.csv", new string('0', 64), "dose [J/cm2]", "dose", "J/cm²", "j_per_cm2", "lot", [.. Enumerable.Range(2, count)]);

    private static (CapabilityAnalysis Analysis, CapabilityContext Context) Make(string kind)
    {
        double[] values = kind switch
        {
            "hardly any spread" => [7.0, 7.0, 7.0, 7.0, 7.0, 7.0, 7.0, 7.0, 7.0 * (1.0 + 1e-9)],
            "all sizes" => [1e-60, 1e-30, 1.0, 1e30, 1e60, 2.0, 3.0, 4.0, 5.0],
            "two values" => [7.0, 7.5],
            "skewed" => [.. Normal(120, 0.0, 0.7).Select(x => Math.Exp(x))],
            "two lots" => [.. Normal(40, 6.0, 0.1), .. Normal(40, 8.0, 0.1)],
            "rounded" => [.. Normal(60).Select(v => Math.Round(v * 4.0) / 4.0)],
            "negative" => [.. Normal(60, 0.0, 1.5)],
            "large" => [.. Normal(6000)],
            _ => [.. Normal(60)],
        };
        var limits = kind switch { "one limit" => new LimitPair(null, 9.0), "negative" => new LimitPair(-6.0, 7.0, 0.0), "skewed" => new LimitPair(0.05, 20.0), "far outside" => new LimitPair(1e6, 1e60), "all sizes" => new LimitPair(1e-60, 1e60), _ => new LimitPair(4.0, 10.0, 7.0) };
        string[] groups = kind == "two lots" ? [.. values.Select((_, i) => i < 40 ? "A" : "B")] : [];
        var uncertainty = kind is "negative" or "plain numbers" ? new ReadingUncertainty(0.3, false, 2.0) : kind is "rounded" ? new ReadingUncertainty(0.04, true, 2.0) : null;
        return (CapabilityAnalysis.Of(new(values, groups), new(limits, 0.95, 0.99, 1.33, uncertainty)), kind == "plain numbers" ? Context(values.Length) with { Unit = null, UnitSuffix = "" } : Context(values.Length));
    }
}

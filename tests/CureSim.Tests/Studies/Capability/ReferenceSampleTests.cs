using System.Globalization;
using CureSim.Core.Statistics;
using CureSim.Scenarios;
using CureSim.Studies.Capability;
using CureSim.Tests.Statistics;

namespace CureSim.Tests.Studies.Capability;

/// <summary>The shipped sample from its file to its figures, against R and SciPy (tests/data/reference/capability_sample.R, capability_sample.py).</summary>
public class ReferenceSampleTests
{
    private static readonly Dictionary<string, double> Expected = DataFile.Csv("reference", "capability-sample.csv").Skip(1)
        .ToDictionary(r => r[0], r => double.Parse(r[1], CultureInfo.InvariantCulture));

    private static readonly MeasuredSample Sample = SampleFile.Read(DataFile.Path("..", "..", "scenarios", "samples", "hub-bond-dose.csv"), new(Group: "setup")).Sample!;

    private static readonly CapabilityAnalysis Two = Judge(new LimitPair(5.0, 11.0, 7.0));

    private static readonly CapabilityAnalysis One = Judge(new LimitPair(5.0, null));

    // Both sides work in doubles and print 15 digits; the longest chain (noncentral t inverted) keeps ten of them.
    private const double Relative = 1e-9;

    [Fact]
    public void Sample_Moments_AgreeWithR()
    {
        Same("count", Two.Moments.Count);
        Same("mean", Two.Overall.Mean, "mean_lower", "mean_upper");
        Same("sd", Two.Overall.Deviation, "sd_lower", "sd_upper");
    }

    [Fact]
    public void Sample_Indices_AgreeWithRAndSciPy()
    {
        Same("pp", Two.Overall.Pp, "pp_lower", "pp_upper");
        Same("ppk", Two.Overall.Ppk, "ppk_lower", "ppk_upper");
        Same("ppk_one_sided", Two.Overall.PpkLower.Lower);
        Same("ppl", Two.Overall.Ppl, "ppl_lower", "ppl_upper");
        Same("ppu", Two.Overall.Ppu.Value);
        Same("ppl_one_sided", One.Overall.PpkLower.Lower);
    }

    [Fact]
    public void Sample_WithinGroups_AgreesWithRsAnova()
    {
        var groups = Two.Groups!;
        Assert.Equal(6, groups.Groups.Count);
        Same("within", groups.Within.Value);
        Same("within_lower", groups.Within.Lower95);
        Same("within_upper", groups.Within.Upper95);
        Same("cpk", groups.Cpk.Value);
        Same("cp", groups.Cp.Value);
        Same("cp_lower", groups.Cp.Lower);
        Same("groups_p", groups.Components!.PValue);
        Assert.True(groups.Differ);
    }

    [Fact]
    public void Sample_Normality_AgreesWithR()
    {
        Same("ad_modified", Two.Normality.AndersonDarling.Modified);
        Same("sw", Two.Normality.ShapiroWilk.Statistic, 1e-7); // R works its weights out with other arithmetic
        Same("sw_p", Two.Normality.ShapiroWilk.PValue, 1e-5); // a difference of 1e-7 in W is a larger one in ln(1 − W)
        Same("ad_p", Two.Normality.AndersonDarling.PValue);
        Assert.False(Two.Normality.Refused);
        Assert.Equal(JudgingIndex.Moments, Two.Use);
    }

    [Fact]
    public void Sample_FractionAndMedian_AgreeWithR()
    {
        Assert.Equal(0, Two.Outside.Count);
        Same("outside_upper_one_sided", Two.Outside.ClopperPearson.Upper);
        Same("fitted", Two.Outside.Fitted.Value);
        Same("x50", Two.Percentiles.Median, "x50_lower", "x50_upper");
        Assert.NotNull(Two.Percentiles.Low.Withheld);
        Assert.Null(Two.Percentiles.Ppk.Value);
    }

    [Fact]
    public void Sample_ToleranceFactors_AgreeWithRAndSciPy()
    {
        Same("k1", One.Tolerance.Normal.Factor);
        Same("k2", Two.Tolerance.Normal.Factor, 1e-8); // R's quadrature is asked for 1e-10, its root for 1e-10 of k
        Assert.Equal(473, Two.Tolerance.WilksLeast); // row TOL-W2-95-99
        Assert.Equal(299, One.Tolerance.WilksLeast); // row TOL-W1-95-99
    }

    [Fact]
    public void Sample_Conformity_AgreesWithRAndTheDefinition()
    {
        var c = Judge(new LimitPair(5.0, 11.0), new ReadingUncertainty(0.04, true, 2.0)).Conformity!;
        Same("accept_lower", c.Acceptance!.Lower);
        Same("accept_upper", c.Acceptance.Upper);
        Same("worst_conformance", c.Worst.Conformance);
        Assert.Equal(5.71, c.Worst.Reading);
        Assert.Equal(60, c.Accepted);
    }

    [Fact]
    public void NormalPlot_PointsAndBand_AgreeWithR()
    {
        double[] sorted = [.. Sample.Values.Order()];
        var points = NormalPlot.Of(sorted, [1, 30, 60], Two.Moments.Mean, Two.Moments.StandardDeviation!.Value);
        foreach (var (point, rank) in points.Zip(new[] { 1, 30, 60 }))
        {
            Same($"plot_z_{rank}", point.Quantile);
            Same($"plot_lower_{rank}", point.Lower);
            Same($"plot_upper_{rank}", point.Upper);
            Assert.Equal(sorted[rank - 1], point.Value);
        }
    }

    private static CapabilityAnalysis Judge(LimitPair limits, ReadingUncertainty? uncertainty = null) =>
        CapabilityAnalysis.Of(new(Sample.Values, Sample.Groups), new(limits, 0.95, 0.99, null, uncertainty));

    private static void Same(string id, ConfidenceInterval figure, string lower, string upper)
    {
        Same(id, figure.Value);
        Same(lower, figure.Lower);
        Same(upper, figure.Upper);
    }

    private static void Same(string id, double? value, double relative = Relative)
    {
        double expected = Expected[id];
        Assert.True(value is { } v && Math.Abs(v - expected) <= relative * Math.Abs(expected), FormattableString.Invariant($"{id}: {value} instead of {expected}"));
    }
}

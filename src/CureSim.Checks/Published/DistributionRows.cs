using System.Text.RegularExpressions;
using CureSim.Core.Distributions;
using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the distributions: moments, density, probability and quantiles.</summary>
internal static partial class DistributionRows
{
    private static readonly Dictionary<string, IDistribution> Laws = new()
    {
        ["DIS-NORM"] = new NormalDistribution(10, 2),
        ["DIS-TN1"] = new TruncatedDistribution(new NormalDistribution(10, 2), 8, 13),
        ["DIS-TN2"] = new TruncatedDistribution(new NormalDistribution(0, 1), 2, double.PositiveInfinity),
        ["DIS-LN2"] = new LognormalDistribution(10, 1.2),
        ["DIS-UNI"] = new UniformDistribution(2, 12),
        ["DIS-TRI"] = new TriangularDistribution(2, 5, 12),
        ["DIS-WEI"] = new WeibullDistribution(1.5, 100),
        ["DIS-GAM"] = new GammaDistribution(2.5, 3),
        ["DIS-BETA"] = new BetaDistribution(2, 5),
        ["DIS-T"] = new StudentTDistribution(5),
        ["DIS-IG"] = new InverseGaussianDistribution(2, 8),
        ["DIS-GUM"] = new GumbelDistribution(10, 2),
    };

    public static readonly Dictionary<string, Action<PublishedRow>> Checks = Laws.Keys.Select(id => (Id: id, Compare: (Action<PublishedRow>)Law))
        .Append(("DIS-DISC", Discrete)).ToDictionary(c => c.Item1, c => c.Item2);

    private static void Law(PublishedRow row)
    {
        var law = Laws[row.Id];
        row.Check("mean", law.Mean);
        row.Check("sd", law.StandardDeviation);
        double[] x = Arguments(row, "pdf"), p = Arguments(row, "quantile");
        row.Holds("three points and five probabilities", x.Length == 3 && p.Length == 5);
        row.CheckList($"pdf({Inside(row, "pdf")})", [.. x.Select(law.Density)]);
        row.CheckList("cdf", [.. x.Select(law.Cdf)]);
        string[] cdf = row.Tokens("cdf");
        for (int i = 0; i < x.Length; i++)
        {
            // 1 − F from figures of twelve digits.
            row.Equal(FormattableString.Invariant($"survival at {x[i]}"), 1.0 - PublishedRow.Parse(cdf[i]), law.Survival(x[i]), 1e-9 * (1.0 - PublishedRow.Parse(cdf[i])));
        }

        // At the middle of a law symmetric about 0 the row prints a rounding, 7·10⁻¹⁷: 10⁻¹² absolute.
        row.CheckList($"quantile({Inside(row, "quantile")})", [.. p.Select(law.QuantileExact)], looser: 1e-12);
        if (row.Id == "DIS-IG")
        {
            // The law of the survival statistics is another one in code.
            var passage = new InverseGaussianLaw(2.0, 8.0);
            row.Check("mean", passage.Mean);
            row.Check("sd", Math.Sqrt(passage.Variance));
            row.CheckList("pdf(1,2,4)", [.. x.Select(passage.Density)]);
            row.CheckList("cdf", [.. x.Select(passage.Cdf)]);
            row.CheckList("quantile(0.001,0.05,0.5,0.95,0.999)", [.. p.Select(passage.Quantile)]);
        }
    }

    private static void Discrete(PublishedRow row)
    {
        var law = new DiscreteDistribution([1, 2, 5], [0.2, 0.5, 0.3]);
        row.Check("mean", law.Mean);
        row.Check("var", law.StandardDeviation * law.StandardDeviation);
        row.Check("sd", law.StandardDeviation);
        row.Check("cdf(1)", law.Cdf(1));
        row.Check("cdf(2)", law.Cdf(2));
        row.Check("cdf(5)", law.Cdf(5));
        row.Equal("cdf below the first value", 0.0, law.Cdf(0.99), 0);
        row.Equal("cdf below the second value", 0.2, law.Cdf(1.99), 0);
        foreach (Match m in Inverse().Matches(row.ExpectedText))
        {
            row.Compare($"inverse of {m.Groups[1].Value}", m.Groups[2].Value, law.Quantile(PublishedRow.Parse(m.Groups[1].Value)));
        }

        row.Equal("inverse just above a step", 5.0, law.Quantile(0.7000001), 0);
    }

    private static string Inside(PublishedRow row, string call) => Regex.Match(row.ExpectedText, call + @"\(([^)]*)\)").Groups[1].Value;

    private static double[] Arguments(PublishedRow row, string call) => [.. Inside(row, call).Split(',').Select(PublishedRow.Parse)];

    [GeneratedRegex(@"u=([\d.]+)->([\d.]+)")]
    private static partial Regex Inverse();
}

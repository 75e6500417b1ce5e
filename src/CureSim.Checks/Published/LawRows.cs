using System.Text.RegularExpressions;
using CureSim.Core.Numerics;
using CureSim.Core.Statistics;
using EmpiricalLaw = CureSim.Core.Distributions.EmpiricalDistribution;
using PlainQuantile = CureSim.Core.Distributions.SampleQuantile;
using PlainQuantileType = CureSim.Core.Distributions.SampleQuantileType;

namespace CureSim.Checks.Published;

/// <summary>Rows of the normal law and of sample quantiles. Each is computed in two places of the program, by the statistics and by what draws numbers.</summary>
internal static partial class LawRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        // 1e-14 relative is the row's own tolerance.
        ["RNG-PHI-"] = row =>
        {
            row.Compare("Phi", row.ExpectedText, NormalLaw.Cdf(Argument(row)));
            row.Compare("Phi of the block functions", row.ExpectedText, BlockMath.NormalCdf(Argument(row)));
            row.Equal("survival on the other side", BlockMath.NormalCdf(Argument(row)), BlockMath.NormalSurvival(-Argument(row)), 0);
        },

        // The row asks for 1e-15 of the decimal argument. The nearest double is up to half a unit away, which moves the quantile by that over φ(z):
        // 6e-15 at 0.99865. Beside that AS 241 is good to about 1e-16; 2e-15 is allowed.
        ["RNG-INV-"] = row =>
        {
            double p = Argument(row);
            double z = PublishedRow.Parse(row.ExpectedText);
            double argument = 0.5 * (Math.BitIncrement(p) - p) / NormalLaw.Density(z);
            row.Compare("quantile", row.ExpectedText, NormalLaw.Quantile(p), (2e-15 * Math.Abs(z)) + argument);
            row.Compare("quantile of the block functions", row.ExpectedText, BlockMath.NormalQuantile(p), (1e-15 * Math.Abs(z)) + argument);
        },
        ["DIS-EMP-hazen"] = row => Quantiles(row, QuantileType.Type5, PlainQuantileType.Hazen),
        ["DIS-EMP-weibull"] = row => Quantiles(row, QuantileType.Type6, PlainQuantileType.Weibull),
        ["DIS-EMP-linear"] = row => Quantiles(row, QuantileType.Type7, PlainQuantileType.Linear),
        ["DIS-EMP-SUM"] = row =>
        {
            SampleMoments m = SampleMoments.Of(row.InputList("data"));
            row.Check("mean", m.Mean);
            row.Check("sd(n-1)", m.StandardDeviation!.Value);
            row.Check("skew g1", m.Skewness!.Value);
            row.Check("kurt g2", m.ExcessKurtosis!.Value);
            var law = new EmpiricalLaw(row.InputList("data"));
            row.Check("mean", law.Mean);
            row.Check("sd(n-1)", law.SampleStandardDeviation);
        },
    };

    private static double Argument(PublishedRow row) => PublishedRow.Parse(InBrackets().Match(row.Inputs).Groups[1].Value);

    private static void Quantiles(PublishedRow row, QuantileType type, PlainQuantileType plain)
    {
        double[] data = row.InputList("data"), p = row.InputList("p");
        row.CheckList(string.Empty, [.. p.Select(x => SampleQuantile.Of(data, x, type))]);
        row.CheckList(string.Empty, [.. p.Select(x => PlainQuantile.Of(data, x, plain))]);
        if (plain == PlainQuantileType.Hazen)
        {
            row.CheckList(string.Empty, [.. p.Select(new EmpiricalLaw(data).Quantile)]);
        }
    }

    [GeneratedRegex(@"\(([^)]*)\)$")]
    private static partial Regex InBrackets();
}

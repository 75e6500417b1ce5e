using System.Text.RegularExpressions;
using CureSim.Core.Statistics;

namespace CureSim.Tests.Statistics;

/// <summary>Rows of the normal law and of sample quantiles.</summary>
internal static partial class LawRows
{
    public static readonly Dictionary<string, Action<CheckRow>> Checks = new()
    {
        // 1e-14 relative is the row's own tolerance.
        ["RNG-PHI-"] = row => row.Compare("Phi", row.ExpectedText, NormalLaw.Cdf(Argument(row))),

        // The row asks for 1e-15 of the decimal argument. The nearest double is up to half a unit away, which moves the quantile by that over φ(z):
        // 6e-15 at 0.99865. Beside that AS 241 is good to about 1e-16; 2e-15 is allowed.
        ["RNG-INV-"] = row =>
        {
            double p = Argument(row);
            double z = CheckRow.Parse(row.ExpectedText);
            row.Compare("quantile", row.ExpectedText, NormalLaw.Quantile(p), (2e-15 * Math.Abs(z)) + (0.5 * (Math.BitIncrement(p) - p) / NormalLaw.Density(z)));
        },
        ["DIS-EMP-hazen"] = row => Quantiles(row, QuantileType.Type5),
        ["DIS-EMP-weibull"] = row => Quantiles(row, QuantileType.Type6),
        ["DIS-EMP-linear"] = row => Quantiles(row, QuantileType.Type7),
        ["DIS-EMP-SUM"] = row =>
        {
            SampleMoments m = SampleMoments.Of(row.InputList("data"));
            row.Check("mean", m.Mean);
            row.Check("sd(n-1)", m.StandardDeviation!.Value);
            row.Check("skew g1", m.Skewness!.Value);
            row.Check("kurt g2", m.ExcessKurtosis!.Value);
        },
    };

    private static double Argument(CheckRow row) => CheckRow.Parse(InBrackets().Match(row.Inputs).Groups[1].Value);

    private static void Quantiles(CheckRow row, QuantileType type)
    {
        double[] data = row.InputList("data");
        row.CheckList(string.Empty, [.. row.InputList("p").Select(p => SampleQuantile.Of(data, p, type))]);
    }

    [GeneratedRegex(@"\(([^)]*)\)$")]
    private static partial Regex InBrackets();
}

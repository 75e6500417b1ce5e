using System.Globalization;
using System.Text.RegularExpressions;
using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic normality.</summary>
internal static partial class NormalityRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["NRM-ADP"] = row =>
        {
            foreach (Match m in PointRegex().Matches(row.ExpectedText))
            {
                row.Compare(m.Value, m.Groups[2].Value, AndersonDarling.PValue(PublishedRow.Parse(m.Groups[1].Value)));
            }
        },
        ["NRM-AD-michelson"] = row => Tests(row, "michelson.csv"),
        ["NRM-AD-precip"] = row => Tests(row, "precip.csv"),
        ["NRM-BOXCOX"] = row =>
        {
            double[] volume = Column("trees.csv");
            BoxCox fit = BoxCox.Fit(volume);

            // A maximum found by comparing values is good to the root of the rounding, 1e-8; ours is the root of the derivative.
            row.Check("lambda", fit.Lambda.Get(), 1e-8);
            row.Check("loglik(lambda)", fit.LogLikelihood);
            row.Check("loglik(0)", BoxCox.ProfileLogLikelihood(volume, 0));
            row.Check("loglik(1)", BoxCox.ProfileLogLikelihood(volume, 1));

            // R interpolates the profile between grid points 0.04 apart with a spline: its ends are good to about 1e-5.
            string[] ends = row.Tokens("95 % profile CI (R)");
            row.Compare("lower", ends[0], fit.Lambda.Lower95!.Value, 3e-5);
            row.Compare("upper", ends[1], fit.Lambda.Upper95!.Value, 3e-5);
        },
    };

    public static double[] Column(string file, int column = 0) =>
        [.. PublishedData.Csv(file).Skip(1).Select(f => double.Parse(f[column], CultureInfo.InvariantCulture))];

    private static void Tests(PublishedRow row, string file)
    {
        double[] data = Column(file);
        SampleMoments moments = SampleMoments.Of(data);
        row.Check("mean", moments.Mean);
        row.Check("sd", moments.StandardDeviation!.Value);
        NormalityTest found = AndersonDarling.Normal(data);
        row.Check("A2", found.Statistic!.Value);
        row.Check("A*", found.Modified!.Value);
        row.Check("p", found.PValue!.Value);

        // 1e-5 is the row's tolerance for W. The row's W carries single-precision errors (0.98807287 where R in double precision gives 0.988074330, as
        // ours); 1.5e-6 of W moves p by 1.1e-4. The tests hold ours to R's double-precision figures.
        NormalityTest shapiro = ShapiroWilk.Normal(data);
        row.Check("Shapiro-Wilk W", shapiro.Statistic!.Value, 1e-5);
        row.Compare("Shapiro-Wilk p", row.ExpectedText.Split("p=")[^1], shapiro.PValue!.Value, 2e-4);
    }

    [GeneratedRegex(@"p\(([\d.]+)\)=([\d.eE+\-]+)")]
    private static partial Regex PointRegex();
}

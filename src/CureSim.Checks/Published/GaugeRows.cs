using CureSim.Core.Statistics;

namespace CureSim.Checks.Published;

/// <summary>Rows of the topic gauge.</summary>
internal static class GaugeRows
{
    public static readonly Dictionary<string, Action<PublishedRow>> Checks = new()
    {
        ["GRR-NIST-2441"] = row =>
        {
            double[] s = [.. row.Inputs.Split('=')[1].Split(';')[0].Split(',').Select(PublishedRow.Parse)];
            Estimate pooled = PooledDeviation.Of(s, [.. s.Select(_ => 5)]);
            row.Check("pooled s1", pooled.Get());
            row.Check("s1", pooled.Get());
            row.Compare("degrees of freedom", "60", pooled.Count!.Value);

            // The page's sum of squares 0.37176 is rounded; the row gives the recomputed one.
            row.Check("SS recomputed", 60 * pooled.Get() * pooled.Get());
        },

        // The daily averages are not in the row; what follows from its own figures is checked: pooling of the two runs and the level-3 deviation.
        ["GRR-NIST-L2"] = row =>
        {
            double[] s = [.. row.ExpectedText.Split("level-2 sds ")[1].Split(';')[0].Split(',').Select(PublishedRow.Parse)];
            Estimate pooled = PooledDeviation.Of(s, [5, 5]);
            row.Check("pooled s2 (10 df)", pooled.Get(), 5e-10);
            double[] means = [.. row.ExpectedText.Split("run means ")[1].Split(';')[0].Split(',').Select(PublishedRow.Parse)];

            // The run means are printed to six decimals, so their deviation is known to 5e-7.
            row.Check("level-3 sd of run means", SampleMoments.Of(means).StandardDeviation!.Value, 5e-7);
        },
        ["GRR-NIST-2443"] = row =>
        {
            double[] s = [.. row.Inputs.Split("sds ")[1].Split(' ')[0].Split(',').Select(PublishedRow.Parse)];
            Estimate pooled = PooledDeviation.Of(s, [.. s.Select(_ => 1)]);
            row.Check("pooled s3", pooled.Get());
        },
        ["GRR-DYE"] = row =>
        {
            double[][] batches = [.. PublishedData.Csv("dyestuff.csv").Skip(1).GroupBy(f => f[0])
                .Select(g => g.Select(f => PublishedRow.Parse(f[1])).ToArray())];
            row.Holds("six batches", batches.Length == 6);
            OneWayComponents found = OneWayComponents.Of(batches);
            row.Check("MS batch", found.MeanSquareBetween);
            row.Check("MS error", found.MeanSquareWithin);
            row.Check("F", found.F!.Value);
            row.Check("var batch", found.VarianceBetween);
            row.Check("var error", found.VarianceWithin);

            // √1764.05 = 42.00059523; the row's 42.0005953 is an optimiser's, held to the row's 1e-6.
            row.Check("sd", Math.Sqrt(found.VarianceBetween), 1e-6);
            row.Check("REML criterion", found.RestrictedCriterion!.Value);
            row.Check("ML var batch", found.LikelihoodVarianceBetween!.Value);
            row.Check("deviance", found.LikelihoodDeviance!.Value);
            row.Check("grand mean", found.GrandMean.Get());
            row.Check("SE", found.GrandMean.StandardError!.Value);
        },
    };
}

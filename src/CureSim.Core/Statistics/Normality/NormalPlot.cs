namespace CureSim.Core.Statistics;

/// <summary>One point of a normal probability plot.</summary>
/// <param name="Quantile">Standard normal quantile of its plotting position.</param>
/// <param name="Value">The order statistic, in the unit of the values.</param>
/// <param name="Lower">Lower end of the range in which this order statistic of a normal sample falls with the given probability.</param>
/// <param name="Upper">Upper end.</param>
public sealed record NormalPlotPoint(double Quantile, double Value, double Lower, double Upper);

/// <summary>Normal probability plot of a sample, with the pointwise band of a normal sample of its mean and standard deviation.</summary>
/// <remarks>
/// Plotting position (i − 3/8)/(n + 1/4) (Blom). Band: x̄ + s·Φ⁻¹(b) with b the α/2 and 1 − α/2 quantiles of the beta law (i, n + 1 − i) of the uniform order
/// statistic. It holds for each point by itself and takes mean and deviation as known, so a point now and then outside is no sign.
/// Source: G. Blom, Statistical Estimates and Transformed Beta-Variables (1958); H. A. David and H. N. Nagaraja, Order Statistics (2003), 2.1.
/// Checked against: R qnorm and qbeta (tests/data/reference/capability-sample.csv).
/// </remarks>
public static class NormalPlot
{
    private const double Offset = 0.375;

    /// <summary>Ranks to draw: all of a small sample, else about so many at equal distances of the normal quantile, with both ends.</summary>
    /// <param name="count">Sample size n, at least 1.</param>
    /// <param name="most">Largest number of ranks, at least 2.</param>
    public static int[] Ranks(int count, int most)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(most, 2);
        if (count <= most)
        {
            return [.. Enumerable.Range(1, count)];
        }

        double end = NormalLaw.Quantile((count - Offset) / (count + 1.0 - (2.0 * Offset)));
        return
        [
            .. Enumerable.Range(0, most)
                .Select(j => NormalLaw.Cdf(end * ((2.0 * j / (most - 1.0)) - 1.0)))
                .Select(p => (int)Math.Clamp(Math.Round((p * (count + 1.0 - (2.0 * Offset))) + Offset), 1.0, count))
                .Distinct(),
        ];
    }

    /// <summary>Points for the given ranks of values sorted upwards.</summary>
    /// <param name="sorted">The values.</param>
    /// <param name="ranks">Ranks from 1, rising.</param>
    /// <param name="mean">Mean of the fitted normal law.</param>
    /// <param name="deviation">Its standard deviation.</param>
    /// <param name="probability">Probability of the band, 0 … 1.</param>
    public static IReadOnlyList<NormalPlotPoint> Of(ReadOnlySpan<double> sorted, ReadOnlySpan<int> ranks, double mean, double deviation, double probability = 0.95)
    {
        ConfidenceInterval.Guard(probability);
        var points = new List<NormalPlotPoint>(ranks.Length);
        int n = sorted.Length;
        double tail = 0.5 * (1.0 - probability);
        foreach (int i in ranks)
        {
            points.Add(new(
                NormalLaw.Quantile((i - Offset) / (n + 1.0 - (2.0 * Offset))), sorted[i - 1],
                mean + (deviation * NormalLaw.Quantile(BetaLaw.Quantile(tail, i, n + 1 - i))),
                mean + (deviation * NormalLaw.Quantile(BetaLaw.UpperQuantile(tail, i, n + 1 - i)))));
        }

        return points;
    }
}

using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>
/// The distribution of a sample, straight between its order statistics: quantile of Hyndman and Fan's type 5. Its mean is that of the sample;
/// half a value's probability lies at each end.
/// </summary>
public sealed class EmpiricalDistribution : IDistribution
{
    private readonly double[] sorted;

    /// <param name="sample">At least two finite values, not all equal, in any order.</param>
    /// <exception cref="ArgumentException">The sample is too small, or holds a value that is not finite.</exception>
    public EmpiricalDistribution(IEnumerable<double> sample)
    {
        sorted = [.. sample];
        Array.Sort(sorted);
        foreach (double value in sorted)
        {
            Parameter.Finite(value, nameof(sample));
        }

        int n = sorted.Length;
        if (n < 2 || sorted[0] == sorted[^1])
        {
            throw new ArgumentException($"sample: {n} values, of which two must differ", nameof(sample));
        }

        Mean = sorted.Average();
        double squares = 0.0, pieces = 0.5 * (Square(0) + Square(n - 1));
        for (int i = 0; i < n; i++)
        {
            squares += Square(i);
            if (i > 0)
            {
                double a = sorted[i - 1] - Mean, b = sorted[i] - Mean;
                pieces += ((a * a) + (a * b) + (b * b)) / 3.0;
            }
        }

        StandardDeviation = Math.Sqrt(pieces / n);
        SampleStandardDeviation = Math.Sqrt(squares / (n - 1));

        double Square(int i) => (sorted[i] - Mean) * (sorted[i] - Mean);
    }

    /// <summary>The sample from small to large.</summary>
    public IReadOnlyList<double> Sorted => sorted;

    /// <inheritdoc/>
    public double Mean { get; }

    /// <summary>Standard deviation of what is drawn: of the distribution straight between the values, a little less than the sample's.</summary>
    public double StandardDeviation { get; }

    /// <summary>Standard deviation of the sample, with n − 1.</summary>
    public double SampleStandardDeviation { get; }

    /// <inheritdoc/>
    public double Minimum => sorted[0];

    /// <inheritdoc/>
    public double Maximum => sorted[^1];

    /// <inheritdoc/>
    public double Density(double x)
    {
        int above = CountNotAbove(x);
        return above == 0 || above == sorted.Length ? 0.0 : 1.0 / (sorted.Length * (sorted[above] - sorted[above - 1]));
    }

    /// <inheritdoc/>
    public double Cdf(double x)
    {
        int n = sorted.Length, j = CountNotAbove(x);
        return j == 0 ? 0.0 : j == n ? 1.0 : (j - 0.5 + ((x - sorted[j - 1]) / (sorted[j] - sorted[j - 1]))) / n;
    }

    /// <inheritdoc/>
    public double Survival(double x) => 1.0 - Cdf(x);

    /// <inheritdoc/>
    public double Quantile(double p) => SampleQuantile.Of(sorted, p, SampleQuantileType.Hazen);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockLoop.Require(p, x);
        for (int i = 0; i < p.Length; i++)
        {
            x[i] = Quantile(p[i]);
        }
    }

    private int CountNotAbove(double x)
    {
        int low = 0, high = sorted.Length;
        while (low < high)
        {
            int middle = (low + high) >>> 1;
            (low, high) = sorted[middle] <= x ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}

using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>
/// Quantiles as a monotone piecewise cubic of the normal score z = Φ⁻¹(p), for distributions whose exact quantile needs a search.
/// </summary>
/// <remarks>
/// In z the quantile of a bell-like distribution is nearly straight, so that few intervals do. The cubic of an interval takes value and slope at both ends
/// (Hermite); slopes are held to three times the chord's, which keeps it monotone (F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238–246).
/// Building doubles the intervals until the error at every midpoint is below 2·10⁻⁷ standard deviations. Scores beyond ±8.5, which no uniform of 53 bits
/// reaches, are held there.
/// </remarks>
internal sealed class QuantileTable
{
    public const double EndScore = 8.5;
    private const int FewestIntervals = 256;
    private const int MostIntervals = 16384;
    private const double MidpointError = 2e-7;

    private readonly double[] cubics; // four coefficients an interval, in t from 0 to 1
    private readonly double intervals;

    private QuantileTable(double[] x, double[] slope)
    {
        int n = x.Length - 1;
        intervals = n;
        cubics = new double[4 * n];
        double width = 2.0 * EndScore / n;
        for (int i = 0; i < n; i++)
        {
            double chord = x[i + 1] - x[i];
            double left = Math.Min(slope[i] * width, 3.0 * chord), right = Math.Min(slope[i + 1] * width, 3.0 * chord);
            cubics[4 * i] = x[i];
            cubics[(4 * i) + 1] = left;
            cubics[(4 * i) + 2] = (3.0 * chord) - (2.0 * left) - right;
            cubics[(4 * i) + 3] = left + right - (2.0 * chord);
        }
    }

    /// <summary>Tabulates a distribution by its exact quantile.</summary>
    public static QuantileTable Of(ITabulatedDistribution distribution)
    {
        double bound = MidpointError * distribution.StandardDeviation;
        double[] x = Nodes(distribution, FewestIntervals + 1, 0.0, FewestIntervals);
        while (true)
        {
            int n = x.Length - 1;
            var table = new QuantileTable(x, Slopes(distribution, x));
            double[] middle = Nodes(distribution, n, 0.5, n);
            bool close = Enumerable.Range(0, n).All(i => Math.Abs(table.At(Score(i + 0.5, n)) - middle[i]) <= bound);
            if (close || n == MostIntervals)
            {
                return table;
            }

            // The midpoints are the new nodes of the table with twice the intervals.
            x = [.. Enumerable.Range(0, (2 * n) + 1).Select(i => i % 2 == 0 ? x[i / 2] : middle[i / 2])];
        }
    }

    /// <summary>The quantile at score <paramref name="z"/>.</summary>
    public double At(double z)
    {
        double place = Math.Clamp((z + EndScore) * (intervals / (2.0 * EndScore)), 0.0, intervals);
        double whole = Math.Min(Math.Floor(place), intervals - 1.0);
        double t = place - whole;
        var c = cubics.AsSpan(4 * (int)whole, 4);
        return Math.FusedMultiplyAdd(t, Math.FusedMultiplyAdd(t, Math.FusedMultiplyAdd(t, c[3], c[2]), c[1]), c[0]);
    }

    /// <summary>The quantile at probability <paramref name="p"/>.</summary>
    public double Quantile(double p) => At(BlockMath.NormalQuantile(p));

    /// <summary>Block form of <see cref="Quantile"/>.</summary>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x)
    {
        BlockMath.NormalQuantile(p, x);
        for (int i = 0; i < x.Length; i++)
        {
            x[i] = At(x[i]);
        }
    }

    private static double Score(double place, int intervals) => EndScore * ((2.0 * place / intervals) - 1.0);

    /// <summary>Exact quantiles at <paramref name="count"/> scores; both tails are given, so that the upper one is as exact as the lower.</summary>
    private static double[] Nodes(ITabulatedDistribution distribution, int count, double first, int intervals)
    {
        var x = new double[count];
        for (int i = 0; i < count; i++)
        {
            double z = Score(first + i, intervals);
            x[i] = distribution.QuantileExact(BlockMath.NormalCdf(z), BlockMath.NormalCdf(-z));
        }

        return x;
    }

    /// <summary>dx/dz = φ(z)/density; 0 where the density runs to infinity or both are too small to divide.</summary>
    private static double[] Slopes(ITabulatedDistribution distribution, double[] x)
    {
        var slope = new double[x.Length];
        for (int i = 0; i < x.Length; i++)
        {
            double s = BlockMath.NormalDensity(Score(i, x.Length - 1)) / distribution.Density(x[i]);
            slope[i] = double.IsFinite(s) ? s : 0.0;
        }

        return slope;
    }
}

using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>
/// Beta distribution, on 0 to 1 unless other ends are given. <see cref="Quantile"/> is a table within 10⁻⁶ standard deviations; <c>QuantileExact</c> is not.
/// </summary>
public sealed class BetaDistribution : ITabulatedDistribution
{
    private readonly Lazy<QuantileTable> table;

    /// <param name="a">First shape, &gt; 0.</param>
    /// <param name="b">Second shape, &gt; 0.</param>
    /// <param name="min">Lower end.</param>
    /// <param name="max">Upper end, &gt; min.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public BetaDistribution(double a, double b, double min = 0.0, double max = 1.0)
    {
        A = Parameter.Positive(a);
        B = Parameter.Positive(b);
        Parameter.Increasing(min, max);
        Minimum = min;
        Maximum = max;
        table = new(() => QuantileTable.Of(this));
    }

    /// <summary>First shape.</summary>
    public double A { get; }

    /// <summary>Second shape.</summary>
    public double B { get; }

    /// <inheritdoc/>
    public double Mean => Minimum + (Width * A / (A + B));

    /// <inheritdoc/>
    public double StandardDeviation => Width * Math.Sqrt(A * B / (A + B + 1.0)) / (A + B);

    /// <inheritdoc/>
    public double Minimum { get; }

    /// <inheritdoc/>
    public double Maximum { get; }

    private double Width => Maximum - Minimum;

    /// <inheritdoc/>
    public double Density(double x)
    {
        if (x < Minimum || x > Maximum)
        {
            return 0.0;
        }

        double y = (x - Minimum) / Width, w = (Maximum - x) / Width;
        return BlockMath.Exp(Term(A, y) + Term(B, w) - BetaFunctions.LogBeta(A, B)) / Width;

        static double Term(double shape, double part) => shape == 1.0 ? 0.0 : (shape - 1.0) * BlockMath.Log(part);
    }

    /// <inheritdoc/>
    public double Cdf(double x) => BetaFunctions.Incomplete(A, B, (x - Minimum) / Width, (Maximum - x) / Width).Lower;

    /// <inheritdoc/>
    public double Survival(double x) => BetaFunctions.Incomplete(A, B, (x - Minimum) / Width, (Maximum - x) / Width).Upper;

    /// <inheritdoc/>
    public double Quantile(double p) => table.Value.Quantile(p);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x) => table.Value.Quantiles(p, x);

    /// <inheritdoc/>
    /// <remarks>Newton's method on ln(I/p), or above ½ on the other tail, in the logit of x: nearly straight in both tails.</remarks>
    public double QuantileExact(double p, double complement)
    {
        if (!(p > 0.0 && complement > 0.0))
        {
            return p == 0.0 ? Minimum : complement == 0.0 ? Maximum : double.NaN;
        }

        // Near 0, I = x^a/(a·B(a, b)) but for a relative error of about (a + b)·x; likewise near 1.
        double logBeta = BetaFunctions.LogBeta(A, B), near = -40.0 - Math.Max(0.0, BlockMath.Log(A + B));
        double bottom = (BlockMath.Log(A * p) + logBeta) / A, top = (BlockMath.Log(B * complement) + logBeta) / B;
        double logit = bottom < near ? bottom : top < near ? -top
            : MonotoneRoot.Find(Excess, Guess(p, complement, bottom, top), double.NegativeInfinity, double.PositiveInfinity);
        return logit < 0.0 ? Minimum + (Width * Logistic(logit)) : Maximum - (Width * Logistic(-logit));

        (double Value, double Slope) Excess(double y)
        {
            var (lower, upper, front) = BetaFunctions.Incomplete(A, B, Logistic(y), Logistic(-y));
            return p < complement
                ? (BlockMath.Log(lower / p), front / lower)
                : (-BlockMath.Log(upper / complement), front / upper);
        }
    }

    /// <summary>Where to start, as a logit: from the normal of the same mean and standard deviation, or from the behaviour at the end it runs past.</summary>
    private double Guess(double p, double complement, double bottom, double top)
    {
        double mean = A / (A + B), sd = Math.Sqrt(A * B / (A + B + 1.0)) / (A + B);
        double x = mean + (sd * (p < complement ? BlockMath.NormalQuantile(p) : -BlockMath.NormalQuantile(complement)));
        return x < 0.1 * mean ? Math.Min(bottom, 0.0) : 1.0 - x < 0.1 * (1.0 - mean) ? -Math.Min(top, 0.0) : BlockMath.Log(x / (1.0 - x));
    }

    private static double Logistic(double y) => 1.0 / (1.0 + BlockMath.Exp(-y));
}

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
        return Power(y, A - 1.0) * Power(w, B - 1.0) * BlockMath.Exp(-BetaFunctions.LogBeta(A, B)) / Width;

        static double Power(double x, double y) => y == 0.0 ? 1.0 : BlockMath.Pow(x, y);
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
    public double QuantileExact(double p, double complement)
    {
        if (!(p > 0.0 && complement > 0.0))
        {
            return p == 0.0 ? Minimum : complement == 0.0 ? Maximum : double.NaN;
        }

        return p < complement ? Minimum + (Width * LowerQuantile(A, B, p)) : Maximum - (Width * LowerQuantile(B, A, complement));
    }

    /// <summary>Quantile of at most ½ on 0 to 1, by Newton's method on ln(I/p) in the logit of x: nearly straight in the tail.</summary>
    private static double LowerQuantile(double a, double b, double p)
    {
        // Near 0, I = x^a/(a·B(a, b)) but for a relative error of about (a + b)·x.
        double small = (BlockMath.Log(a * p) + BetaFunctions.LogBeta(a, b)) / a;
        if (small < -40.0 - Math.Max(0.0, BlockMath.Log(a + b)))
        {
            return BlockMath.Exp(small);
        }

        double mean = a / (a + b), sd = Math.Sqrt(mean * (1.0 - mean) / (a + b + 1.0));
        double x = mean + (sd * BlockMath.NormalQuantile(p));
        double guess = x > 0.1 * mean ? BlockMath.Log(x) - BlockMath.Log1p(-x) : Math.Min(small, 0.0);
        return Logistic(MonotoneRoot.Find(Excess, guess, double.NegativeInfinity, double.PositiveInfinity));

        (double Value, double Slope) Excess(double y)
        {
            var (lower, _, front) = BetaFunctions.Incomplete(a, b, Logistic(y), Logistic(-y));
            return (BlockMath.Log(lower / p), front / lower);
        }

        static double Logistic(double y) => 1.0 / (1.0 + BlockMath.Exp(-y));
    }
}

using CureSim.Core.Numerics;

namespace CureSim.Core.Distributions;

/// <summary>Gamma distribution. <see cref="Quantile"/> is a table within 10⁻⁶ standard deviations; <c>QuantileExact</c> is not.</summary>
public sealed class GammaDistribution : ITabulatedDistribution
{
    private readonly Lazy<QuantileTable> table;

    /// <param name="shape">Shape, &gt; 0.</param>
    /// <param name="scale">Scale, &gt; 0: mean over shape.</param>
    /// <exception cref="ArgumentException">A parameter is out of range.</exception>
    public GammaDistribution(double shape, double scale)
    {
        Shape = Parameter.Positive(shape);
        Scale = Parameter.Positive(scale);
        table = new(() => QuantileTable.Of(this));
    }

    /// <summary>Shape.</summary>
    public double Shape { get; }

    /// <summary>Scale.</summary>
    public double Scale { get; }

    /// <inheritdoc/>
    public double Mean => Shape * Scale;

    /// <inheritdoc/>
    public double StandardDeviation => Math.Sqrt(Shape) * Scale;

    /// <inheritdoc/>
    public double Minimum => 0.0;

    /// <inheritdoc/>
    public double Maximum => double.PositiveInfinity;

    /// <inheritdoc/>
    public double Density(double x)
    {
        if (!(x > 0.0))
        {
            return x < 0.0 || Shape > 1.0 ? 0.0 : Shape == 1.0 ? 1.0 / Scale : double.PositiveInfinity;
        }

        double y = x / Scale;
        return BlockMath.Exp(((Shape - 1.0) * BlockMath.Log(y)) - y - GammaFunctions.LogGamma(Shape)) / Scale;
    }

    /// <inheritdoc/>
    public double Cdf(double x) => GammaFunctions.Incomplete(Shape, x / Scale).Lower;

    /// <inheritdoc/>
    public double Survival(double x) => GammaFunctions.Incomplete(Shape, x / Scale).Upper;

    /// <inheritdoc/>
    public double Quantile(double p) => table.Value.Quantile(p);

    /// <inheritdoc/>
    public void Quantiles(ReadOnlySpan<double> p, Span<double> x) => table.Value.Quantiles(p, x);

    /// <inheritdoc/>
    /// <remarks>Newton's method on ln(P/p), or on ln(q/Q) above ½, in ln x: nearly straight in both tails.</remarks>
    public double QuantileExact(double p, double complement)
    {
        if (!(p > 0.0 && complement > 0.0))
        {
            return p == 0.0 ? 0.0 : complement == 0.0 ? double.PositiveInfinity : double.NaN;
        }

        // Near 0, P = x^a/Γ(a + 1) but for a relative error of a·x.
        double small = (BlockMath.Log(p) + GammaFunctions.LogGamma(Shape + 1.0)) / Shape;
        if (small < -40.0 - Math.Max(0.0, BlockMath.Log(Shape)))
        {
            return Scale * BlockMath.Exp(small);
        }

        // Wilson and Hilferty: the cube root is nearly normal.
        double z = p < complement ? BlockMath.NormalQuantile(p) : -BlockMath.NormalQuantile(complement);
        double root = 1.0 - (1.0 / (9.0 * Shape)) + (z / (3.0 * Math.Sqrt(Shape)));
        double guess = root > 0.2 ? BlockMath.Log(Shape * root * root * root) : small;
        return Scale * BlockMath.Exp(MonotoneRoot.Find(Excess, guess, double.NegativeInfinity, double.PositiveInfinity));

        (double Value, double Slope) Excess(double y)
        {
            var (lower, upper, front) = GammaFunctions.Incomplete(Shape, BlockMath.Exp(y));
            return p < complement
                ? (BlockMath.Log(lower / p), front / lower)
                : (-BlockMath.Log(upper / complement), front / upper);
        }
    }
}

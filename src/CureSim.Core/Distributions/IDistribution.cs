namespace CureSim.Core.Distributions;

/// <summary>
/// One uncertain number. One uniform in, one value out, so that counter-based draws, quasi-random points
/// and tables of quantiles can all take the same place.
/// </summary>
/// <remarks>Values are in SI units of whatever the quantity is; a distribution itself knows no unit.</remarks>
public interface IDistribution
{
    /// <summary>Expected value.</summary>
    double Mean { get; }

    /// <summary>Standard deviation; 0 for a fixed value.</summary>
    double StandardDeviation { get; }

    /// <summary>Lower end of the support; may be −∞.</summary>
    double Minimum { get; }

    /// <summary>Upper end of the support; may be +∞.</summary>
    double Maximum { get; }

    /// <summary>Probability density at <paramref name="x"/>; for a discrete distribution the probability of exactly x.</summary>
    double Density(double x);

    /// <summary>P(X ≤ x).</summary>
    double Cdf(double x);

    /// <summary>P(X &gt; x), accurate in the upper tail.</summary>
    double Survival(double x);

    /// <summary>The value whose Cdf is <paramref name="p"/>, 0 &lt; p &lt; 1. Smallest such value for a discrete distribution.</summary>
    double Quantile(double p);

    /// <summary>Block form of <see cref="Quantile"/>: bit-equal to it, element by element. Spans have equal length; may alias.</summary>
    void Quantiles(ReadOnlySpan<double> p, Span<double> x);
}

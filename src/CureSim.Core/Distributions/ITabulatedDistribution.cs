namespace CureSim.Core.Distributions;

/// <summary>
/// A distribution whose <see cref="IDistribution.Quantile"/> is read from a table fine enough for simulation (within 10⁻⁶ standard deviations), because the
/// exact one has no closed form; also one made from another, which may be such a distribution.
/// </summary>
public interface ITabulatedDistribution : IDistribution
{
    /// <summary>The quantile to about 10⁻¹² relative, slow: for checks and for building tables, not for draws.</summary>
    /// <param name="p">Probability below.</param>
    /// <param name="complement">1 − p, given apart because it may be too small to be had from p.</param>
    double QuantileExact(double p, double complement);
}

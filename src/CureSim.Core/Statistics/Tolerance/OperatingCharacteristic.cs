namespace CureSim.Core.Statistics;

/// <summary>Chance that a plan accepts, as a function of the fraction nonconforming, when parts are independent of each other.</summary>
/// <remarks>
/// Attribute plan: P(Bin(n, p) ≤ c) = I_{1−p}(n − c, c + 1), which is defined for n that are not whole too.
/// Measured plan, one limit, normal output: accepted when (U − mean)/s ≥ k, so P = P(T ≥ k√n), T noncentral t with n − 1 degrees and noncentrality √n·z_{1−p}.
/// Source: binomial; noncentral t as in ISO 16269-6 (one-sided factor: the k at which P is 1 − confidence at p = 1 − coverage).
/// Checked against: rows TOL-SR-* and TOL-K-* turned round, SciPy figures beside the tests.
/// </remarks>
public static class OperatingCharacteristic
{
    /// <summary>Chance that an attribute plan accepts.</summary>
    /// <param name="parts">n &gt; c; need not be whole.</param>
    /// <param name="allowed">c ≥ 0.</param>
    /// <param name="nonconforming">p, 0 … 1.</param>
    public static double Attribute(double parts, int allowed, double nonconforming)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(allowed);
        if (!(parts > allowed) || !(nonconforming is >= 0.0 and <= 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(parts), "More parts than are allowed to be nonconforming, and a fraction from 0 to 1, are needed.");
        }

        return nonconforming == 0.0 ? 1.0 : nonconforming == 1.0 ? 0.0 : BetaLaw.Survival(nonconforming, allowed + 1.0, parts - allowed);
    }

    /// <summary>Chance that a measured plan of factor k at one limit accepts a normal output.</summary>
    /// <param name="parts">n ≥ 2.</param>
    /// <param name="factor">k.</param>
    /// <param name="nonconforming">p, strictly between 0 and 1.</param>
    public static double Measured(int parts, double factor, double nonconforming)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(parts, 2);
        if (!(nonconforming is > 0.0 and < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(nonconforming), nonconforming, "A fraction strictly between 0 and 1 is needed.");
        }

        double root = Math.Sqrt(parts);
        return NoncentralTLaw.Survival(factor * root, parts - 1, root * NormalLaw.UpperQuantile(nonconforming));
    }
}

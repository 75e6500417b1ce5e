namespace CureSim.Core.Statistics;

/// <summary>Factors k of statistical tolerance intervals of a normal output: mean ± k·s (two-sided) or one bound, mean and s from n independent parts.</summary>
/// <remarks>
/// One-sided exact: k₁ = t_{γ,n−1}(z_p √n)/√n, noncentral t. One-sided approximate (Natrella): a = 1 − z_γ²/(2(n−1)), b = z_p² − z_γ²/n,
/// k₁ = (z_p + √(z_p² − ab))/a.
/// Two-sided exact: the k at which ∫ φ(z) P(χ²_{n−1} ≥ (n−1) r²(z)/k²) dz = γ, where Φ(z/√n + r) − Φ(z/√n − r) = p.
/// Two-sided approximate (Howe): k₂ = z_{(1+p)/2} √((n−1)(1 + 1/n)/χ²_{1−γ,n−1}); Guenther's correction multiplies it by
/// w = √(1 + (n − 3 − χ²_{1−γ,n−1})/(2(n+1)²)). The lower-tail quantile is the one that belongs to the formula: the e-Handbook's worked figure
/// w = 0.9972 follows from neither tail (lower 1.00168, upper 0.99738).
/// Source: ISO 16269-6 (definitions); NIST/SEMATECH e-Handbook 7.2.6.3; W. G. Howe, JASA 64 (1969) 610; M. G. Natrella, Experimental Statistics,
/// NBS Handbook 91 (1963); W. C. Guenther, Sampling Inspection in Statistical Quality Control (1977); R. E. Odeh and D. B. Owen (1980).
/// Checked against: rows TOL-01 … TOL-06, TOL-K-*.
/// </remarks>
public static class NormalToleranceFactor
{
    /// <summary>Exact one-sided factor for n ≥ 2 parts.</summary>
    /// <param name="count">Number of independent parts n.</param>
    /// <param name="coverage">Proportion p of the output to be covered.</param>
    /// <param name="confidence">γ.</param>
    public static double OneSided(int count, double coverage, double confidence)
    {
        Guard(count, coverage, confidence);
        double root = Math.Sqrt(count);
        return NoncentralTLaw.Quantile(confidence, count - 1, NormalLaw.Quantile(coverage) * root) / root;
    }

    /// <summary>Approximate one-sided factor after Natrella; withheld where its root is not real.</summary>
    public static Estimate OneSidedNatrella(int count, double coverage, double confidence)
    {
        Guard(count, coverage, confidence);
        var (a, b) = NatrellaCoefficients(count, coverage, confidence);
        double z = NormalLaw.Quantile(coverage);
        double square = (z * z) - (a * b);
        return a > 0.0 && square >= 0.0
            ? Estimate.Bounded((z + Math.Sqrt(square)) / a, null, null, null, count)
            : Estimate.Withhold("the approximation has no real factor for so few parts at this confidence", count);
    }

    /// <summary>Exact two-sided factor (equal distance on both sides of the mean, proportion between the bounds).</summary>
    public static double TwoSided(int count, double coverage, double confidence)
    {
        Guard(count, coverage, confidence);
        double start = Howe(count, coverage, confidence);
        double Excess(double k) => TwoSidedConfidence(k, count, coverage) - confidence;
        return MonotoneRoot.FindOutward(Excess, start, Excess(start) < 0.0 ? 0.05 * start : -0.05 * start);
    }

    /// <summary>Approximate two-sided factor after Howe.</summary>
    public static double Howe(int count, double coverage, double confidence)
    {
        Guard(count, coverage, confidence);
        double degrees = count - 1.0;
        double chi = ChiSquareLaw.UpperQuantile(confidence, degrees);
        return NormalLaw.UpperQuantile(0.5 * (1.0 - coverage)) * Math.Sqrt(degrees * (1.0 + (1.0 / count)) / chi);
    }

    /// <summary>Guenther's correction of Howe's factor.</summary>
    public static double GuentherWeight(int count, double confidence)
    {
        Guard(count, 0.5, confidence);
        double chi = ChiSquareLaw.UpperQuantile(confidence, count - 1.0);
        return Math.Sqrt(1.0 + ((count - 3.0 - chi) / (2.0 * (count + 1.0) * (count + 1.0))));
    }

    /// <summary>Confidence with which mean ± k·s of n parts covers at least the proportion.</summary>
    public static double TwoSidedConfidence(double k, int count, double coverage)
    {
        double degrees = count - 1.0;
        double root = Math.Sqrt(count);
        double Integrand(double z)
        {
            double r = HalfWidth(z / root, coverage);
            return NormalLaw.Density(z) * ChiSquareLaw.Survival(degrees * r * r / (k * k), degrees);
        }

        // Even in z; beyond 9 the normal density is below 1e-18.
        return 2.0 * GaussQuadrature.Integrate(Integrand, 0.0, 9.0, 1e-12);
    }

    internal static (double A, double B) NatrellaCoefficients(int count, double coverage, double confidence)
    {
        double z = NormalLaw.Quantile(coverage);
        double g = NormalLaw.Quantile(confidence);
        return (1.0 - (g * g / (2.0 * (count - 1.0))), (z * z) - (g * g / count));
    }

    /// <summary>The r ≥ 0 with Φ(m + r) − Φ(m − r) = p, m ≥ 0: Newton from below, where the fraction outside is convex in r, so it does not overshoot.</summary>
    private static double HalfWidth(double m, double coverage)
    {
        // Outside fraction = P(Z > m + r) + P(Z > r − m); written with the tails to keep digits for coverage near 1.
        double outside = 1.0 - coverage;
        double r = m + NormalLaw.UpperQuantile(outside);
        double least = NormalLaw.UpperQuantile(0.5 * outside);
        r = Math.Max(r, least);
        for (int i = 0; i < 100; i++)
        {
            double f = NormalLaw.Survival(m + r) + NormalLaw.Survival(r - m) - outside;
            double step = f / (NormalLaw.Density(m + r) + NormalLaw.Density(r - m));
            double next = r + step;
            if (Math.Abs(next - r) <= 4e-16 * next)
            {
                return next;
            }

            r = next;
        }

        return r;
    }

    private static void Guard(int count, double coverage, double confidence)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        ConfidenceInterval.Guard(confidence);
        if (!(coverage > 0.0 && coverage < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(coverage), coverage, "A proportion strictly between 0 and 1 is needed.");
        }
    }
}

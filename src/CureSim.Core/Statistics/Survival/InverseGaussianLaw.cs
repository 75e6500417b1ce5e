namespace CureSim.Core.Statistics;

/// <summary>First time at which a Wiener process with drift ν and diffusion σ from 0 reaches a &gt; 0: the inverse Gaussian law.</summary>
/// <remarks>
/// Mean μ = a/ν, shape λ = a²/σ², variance μ³/λ. F(t) = Φ(√(λ/t)(t/μ − 1)) + e^{2λ/μ} Φ(−√(λ/t)(t/μ + 1)).
/// The second product is formed as φ-scaled tail · exp(−(λ/2t)(t/μ − 1)²), which neither over- nor underflows.
/// Source: E. Schrödinger, Phys. Z. 16 (1915) 289; R. S. Chhikara and J. L. Folks, The Inverse Gaussian Distribution (1989).
/// Checked against: rows SUR-IG-*, DIS-IG.
/// </remarks>
/// <param name="Mean">μ, in the unit of time.</param>
/// <param name="Shape">λ, in the unit of time.</param>
public sealed record InverseGaussianLaw(double Mean, double Shape)
{
    /// <summary>The law of a first passage.</summary>
    public static InverseGaussianLaw FirstPassage(double drift, double diffusion, double threshold)
    {
        if (!(drift > 0.0 && diffusion > 0.0 && threshold > 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(drift), drift, "Drift, diffusion and threshold must be above zero.");
        }

        return new InverseGaussianLaw(threshold / drift, threshold * threshold / (diffusion * diffusion));
    }

    /// <summary>Variance, in the square of the unit of time.</summary>
    public double Variance => Mean * Mean * Mean / Shape;

    /// <summary>P(T ≤ t).</summary>
    public double Cdf(double t)
    {
        if (!(t > 0.0))
        {
            return 0.0;
        }

        if (double.IsPositiveInfinity(t))
        {
            return 1.0;
        }

        double root = Math.Sqrt(Shape / t);
        return NormalLaw.Cdf(root * ((t / Mean) - 1.0)) + Mirror(t, root);
    }

    /// <summary>P(T &gt; t). Near 1e-16 of the larger term when both nearly cancel.</summary>
    public double Survival(double t)
    {
        if (!(t > 0.0))
        {
            return 1.0;
        }

        double root = Math.Sqrt(Shape / t);
        return double.IsPositiveInfinity(t) ? 0.0 : Math.Max(0.0, NormalLaw.Survival(root * ((t / Mean) - 1.0)) - Mirror(t, root));
    }

    /// <summary>Density at t.</summary>
    public double Density(double t)
    {
        double d = (t / Mean) - 1.0;
        return t > 0.0 ? Math.Sqrt(Shape / (2.0 * Math.PI * t)) / t * Math.Exp(-0.5 * Shape / t * d * d) : 0.0;
    }

    /// <summary>The t with P(T ≤ t) = p, 0 &lt; p &lt; 1.</summary>
    public double Quantile(double p)
    {
        if (!(p > 0.0 && p < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability strictly between 0 and 1 is needed.");
        }

        double Difference(double logTime) => p <= 0.5 ? Cdf(Math.Exp(logTime)) - p : 1.0 - p - Survival(Math.Exp(logTime));
        double start = Math.Log(Mean);
        return Math.Exp(MonotoneRoot.FindOutward(Difference, start, Difference(start) < 0.0 ? 0.1 : -0.1));
    }

    private double Mirror(double t, double root)
    {
        double d = root * ((t / Mean) - 1.0);
        return NormalLaw.ScaledTail(root * ((t / Mean) + 1.0)) * Math.Exp(-0.5 * d * d);
    }
}

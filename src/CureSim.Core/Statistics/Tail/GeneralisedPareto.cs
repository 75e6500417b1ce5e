namespace CureSim.Core.Statistics;

/// <summary>Law of the amount by which a value exceeds a high threshold.</summary>
/// <param name="Shape">ξ: below 0 a finite end, 0 exponential, above 0 a heavy tail.</param>
/// <param name="Scale">β &gt; 0, in the unit of the values.</param>
/// <remarks>
/// P(Y &gt; y) = (1 + ξy/β)^(−1/ξ), e^(−y/β) at ξ = 0. With ζ = P(X &gt; u): P(X &gt; x) = ζ·P(Y &gt; x − u).
/// Source: J. Pickands, Ann. Statist. 3 (1975) 119; J. R. M. Hosking and J. R. Wallis, Technometrics 29 (1987) 339 (fit by probability-weighted
/// moments and its errors, valid for ξ &lt; ½). Checked against: rows TAIL-GPD-*.
/// </remarks>
public sealed record GeneralisedPareto(double Shape, double Scale)
{
    /// <summary>End of the support; null when there is none.</summary>
    public double? UpperEnd => Shape < 0.0 ? -Scale / Shape : null;

    /// <summary>P(Y &gt; y), y ≥ 0.</summary>
    public double Survival(double y)
    {
        if (!(y > 0.0))
        {
            return 1.0;
        }

        double z = Shape * y / Scale;
        return z <= -1.0 ? 0.0 : Shape == 0.0 ? Math.Exp(-y / Scale) : Math.Exp(-SmallArgument.Log1P(z) / Shape);
    }

    /// <summary>The y with P(Y &gt; y) = q, 0 &lt; q ≤ 1.</summary>
    public double UpperQuantile(double q)
    {
        if (!(q > 0.0 && q <= 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(q), q, "A probability above 0 and at most 1 is needed.");
        }

        return Shape == 0.0 ? -Scale * Math.Log(q) : Scale * SmallArgument.ExpM1(-Shape * Math.Log(q)) / Shape;
    }

    /// <summary>P(X &gt; x) for x at or above the threshold, <paramref name="exceedance"/> = P(X &gt; threshold).</summary>
    public double TailProbability(double x, double threshold, double exceedance) =>
        x >= threshold
            ? exceedance * Survival(x - threshold)
            : throw new ArgumentOutOfRangeException(nameof(x), x, "The law describes values above the threshold only.");

    /// <summary>The x with P(X &gt; x) = q ≤ exceedance.</summary>
    public double TailQuantile(double q, double threshold, double exceedance) => threshold + UpperQuantile(q / exceedance);

    /// <summary>Fit to excesses over a threshold by probability-weighted moments; both withheld with fewer than 20 excesses or a shape at or above ½.</summary>
    public static (Estimate Shape, Estimate Scale) Fit(ReadOnlySpan<double> excesses)
    {
        int n = excesses.Length;
        double[] y = excesses.ToArray();
        Array.Sort(y);
        if (n < 20 || !(y[0] >= 0.0) || !(y[^1] > 0.0) || double.IsInfinity(y[^1]))
        {
            Estimate none = Estimate.Withhold("at least 20 excesses, none negative and not all zero, are needed", n);
            return (none, none);
        }

        double a0 = 0.0;
        double a1 = 0.0;
        for (int i = 0; i < n; i++)
        {
            a0 += y[i] / n;
            a1 += (n - 1.0 - i) / (n - 1.0) * y[i] / n;
        }

        double d = a0 - (2.0 * a1);
        if (!(d > 0.0))
        {
            Estimate none = Estimate.Withhold("the excesses show no spread", n);
            return (none, none);
        }

        double k = (a0 / d) - 2.0;
        double scale = 2.0 * a0 * a1 / d;
        if (k <= -0.5)
        {
            Estimate none = Estimate.Withhold("the tail is too heavy for these moments (shape at or above ½)", n);
            return (none, none);
        }

        double bottom = n * (1.0 + (2.0 * k)) * (3.0 + (2.0 * k));
        double shapeVariance = (1.0 + k) * (2.0 + k) * (2.0 + k) * (1.0 + k + (2.0 * k * k)) / bottom;
        double scaleVariance = scale * scale * (7.0 + (k * (18.0 + (k * (11.0 + (2.0 * k)))))) / bottom;
        return (Estimate.Of(-k, Math.Sqrt(shapeVariance), n), Estimate.Of(scale, Math.Sqrt(scaleVariance), n));
    }
}

using CureSim.Core.Statistics;

namespace CureSim.Studies.Capability;

/// <summary>The sample after the Box–Cox power that makes it most nearly normal, and the index of the transformed values against the transformed limits.</summary>
/// <param name="Lambda">The power with its 95 % interval.</param>
/// <param name="Normality">The transformed values tested; null when there is no power.</param>
/// <param name="Ppk">Index of the transformed values with Bissell's interval; the power's own error is not in it.</param>
/// <param name="PpkLower">One-sided lower limit, as for the values themselves.</param>
/// <remarks>Source: Box and Cox (1964); NIST/SEMATECH e-Handbook 6.1.6 (indices of an output that is not normal).</remarks>
public sealed record PowerFinding(Estimate Lambda, NormalityFinding? Normality, ConfidenceInterval Ppk, ConfidenceInterval PpkLower)
{
    /// <summary>True when the transformed values do not contradict a normal law, so that their index may be used.</summary>
    public bool IsUsable => Ppk.Withheld is null && Normality?.Refused == false;

    /// <summary>Fits the power and forms the index.</summary>
    public static PowerFinding Of(ReadOnlySpan<double> values, LimitPair limits, double confidence)
    {
        int n = values.Length;
        var fit = BoxCox.Fit(values);
        PowerFinding Refuse(string why, NormalityFinding? normality = null)
        {
            var none = ConfidenceInterval.Withhold(why, confidence, n);
            return new(fit.Lambda, normality, none, none);
        }

        if (fit.Lambda.Value is not { } lambda)
        {
            return Refuse(fit.Lambda.Withheld!);
        }

        double[] transformed = new double[n];
        for (int i = 0; i < n; i++)
        {
            transformed[i] = BoxCox.Transform(values[i], lambda);
        }

        var normality = NormalityFinding.Of(transformed);
        if (limits.Lower <= 0.0 || limits.Upper <= 0.0)
        {
            return Refuse("a limit at or below zero has no power transform", normality);
        }

        var inner = new LimitPair(Transform(limits.Lower, lambda), Transform(limits.Upper, lambda));
        var moments = SampleMoments.Of(transformed);
        return moments.StandardDeviation is > 0.0 && MomentCapability.Of(moments.Mean, moments.StandardDeviation.Value, inner).Cpk is { } index
            ? new(fit.Lambda, normality, CapabilityInterval.Cpk(index, n, confidence), OverallFinding.LowerLimit(index, inner, n, confidence))
            : Refuse("the transformed values show no spread", normality);
    }

    private static double? Transform(double? limit, double lambda) => limit is { } l ? BoxCox.Transform(l, lambda) : null;
}

namespace CureSim.Core.Statistics;

/// <summary>Confidence limits of moment indices found on a sample of n independent parts of a normal output, and what must be seen to show an index.</summary>
/// <remarks>
/// Cp:  Cp √(χ²_{α/2,n−1}/(n−1)) … Cp √(χ²_{1−α/2,n−1}/(n−1)), exact.
/// Cpk: Cpk ± z SE, SE = √(1/(9n) + Cpk²/(2(n−1))), approximate.
/// One limit: 3√n·Cpu_hat follows the noncentral t with n − 1 degrees and noncentrality 3√n·Cpu, exact; demonstrated when
/// Cpu_hat ≥ t_{1−α,n−1}(3√n·C₀)/(3√n).
/// Source: NIST/SEMATECH e-Handbook 6.1.6 (Cp); A. F. Bissell, "How reliable is your capability index?", Appl. Statist. 39 (1990) 331;
/// Y.-M. Chou, D. B. Owen and S. A. Borrego, "Lower confidence limits on process capability indices", J. Qual. Technol. 22 (1990) 223.
/// Checked against: rows CAP-CPCI-*, CAP-CPK-*, CAP-REQ-*.
/// </remarks>
public static class CapabilityInterval
{
    /// <summary>Two-sided interval of Cp.</summary>
    public static ConfidenceInterval Cp(double cp, int count, double confidence = 0.95)
    {
        if (Refusal(cp, count, confidence) is ConfidenceInterval refused)
        {
            return refused;
        }

        double alpha = 1.0 - confidence;
        double lower = Math.Sqrt(ChiSquareLaw.Quantile(0.5 * alpha, count - 1) / (count - 1.0));
        double upper = Math.Sqrt(ChiSquareLaw.UpperQuantile(0.5 * alpha, count - 1) / (count - 1.0));
        return cp >= 0.0
            ? new ConfidenceInterval(cp, cp * lower, cp * upper, confidence, count)
            : ConfidenceInterval.Withhold("Cp is never negative", confidence, count);
    }

    /// <summary>One-sided lower limit of Cp.</summary>
    public static ConfidenceInterval CpLower(double cp, int count, double confidence = 0.95) =>
        Refusal(cp, count, confidence)
        ?? new ConfidenceInterval(cp, cp * Math.Sqrt(ChiSquareLaw.Quantile(1.0 - confidence, count - 1) / (count - 1.0)), null, confidence, count);

    /// <summary>Bissell's standard error of Cpk.</summary>
    public static double BissellError(double cpk, int count) => Math.Sqrt((1.0 / (9.0 * count)) + (cpk * cpk / (2.0 * (count - 1.0))));

    /// <summary>Two-sided approximate interval of Cpk.</summary>
    public static ConfidenceInterval Cpk(double cpk, int count, double confidence = 0.95)
    {
        if (Refusal(cpk, count, confidence) is ConfidenceInterval refused)
        {
            return refused;
        }

        double half = NormalLaw.UpperQuantile(0.5 * (1.0 - confidence)) * BissellError(cpk, count);
        return new ConfidenceInterval(cpk, cpk - half, cpk + half, confidence, count);
    }

    /// <summary>One-sided approximate lower limit of Cpk.</summary>
    public static ConfidenceInterval CpkLower(double cpk, int count, double confidence = 0.95) =>
        Refusal(cpk, count, confidence)
        ?? new ConfidenceInterval(cpk, cpk - (NormalLaw.UpperQuantile(1.0 - confidence) * BissellError(cpk, count)), null, confidence, count);

    /// <summary>One-sided exact lower limit of Cpu or Cpl (an index at one limit).</summary>
    public static ConfidenceInterval OneSidedLower(double index, int count, double confidence = 0.95)
    {
        if (Refusal(index, count, confidence) is ConfidenceInterval refused)
        {
            return refused;
        }

        double root = 3.0 * Math.Sqrt(count);
        double limit = NoncentralTLaw.NoncentralityFor(confidence, root * index, count - 1) / root;
        return new ConfidenceInterval(index, limit, null, confidence, count);
    }

    /// <summary>Smallest Cpu or Cpl that must be seen on n parts to show, with this confidence, that the true one is at least <paramref name="required"/>.</summary>
    public static double LeastObserved(double required, int count, double confidence = 0.95)
    {
        if (Refusal(required, count, confidence) is ConfidenceInterval refused)
        {
            throw new ArgumentOutOfRangeException(nameof(count), refused.Withheld);
        }

        double root = 3.0 * Math.Sqrt(count);
        return NoncentralTLaw.Quantile(confidence, count - 1, root * required) / root;
    }

    /// <summary>Smallest Cp that must be seen on n parts to show that the true one is at least <paramref name="required"/> (chi-square).</summary>
    public static double LeastObservedCp(double required, int count, double confidence = 0.95)
    {
        if (Refusal(required, count, confidence) is ConfidenceInterval refused)
        {
            throw new ArgumentOutOfRangeException(nameof(count), refused.Withheld);
        }

        return required / Math.Sqrt(ChiSquareLaw.Quantile(1.0 - confidence, count - 1) / (count - 1.0));
    }

    private static ConfidenceInterval? Refusal(double index, int count, double confidence)
    {
        ConfidenceInterval.Guard(confidence);
        return !double.IsFinite(index) ? ConfidenceInterval.Withhold("the index is not a finite number", confidence, count)
            : count < 2 ? ConfidenceInterval.Withhold("fewer than two parts show no spread", confidence, count, index)
            : null;
    }
}

namespace CureSim.Core.Statistics;

/// <summary>Sample sizes by confidence and reliability that assume no shape: order statistics, success run, attribute plans.</summary>
/// <remarks>
/// All come from one question: the smallest n with P(Bin(n, 1 − R) ≤ c) ≤ 1 − C.
/// Attribute plan: accept with at most c nonconforming. Wilks, one-sided of order m: c = m − 1 (the m-th largest value bounds R of the output);
/// two-sided (x(m), x(n+1−m)): c = 2m − 1. Success run: c = 0, n = ⌈ln(1 − C)/ln R⌉.
/// They assume independent parts; parts of one setup share emitter, lots and meter, so a plan run in one setup shows less than it says.
/// Two-sided 95 % confidence / 95 % coverage is 93; 473 is 95 % confidence / 99 % coverage.
/// Source: S. S. Wilks, Ann. Math. Statist. 12 (1941) 91 and 13 (1942) 400; ISO 16269-6 (distribution-free). Success run: common practice, no source.
/// Checked against: rows TOL-W1-*, TOL-W2-*, TOL-SR-*.
/// </remarks>
public static class SamplePlan
{
    /// <summary>A confidence that is met but for rounding counts as met: relative slack of 1 − C.</summary>
    private const double Slack = 1e-12;

    /// <summary>Smallest n of an attribute plan with acceptance number c.</summary>
    public static long Attribute(int acceptance, double confidence, double reliability)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(acceptance);
        ConfidenceInterval.Guard(confidence);
        if (!(reliability > 0.0 && reliability < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(reliability), reliability, "A reliability strictly between 0 and 1 is needed.");
        }

        double allowed = (1.0 - confidence) * (1.0 + Slack);
        bool Enough(long n) => BetaLaw.BinomialCdf(acceptance, n, 1.0 - reliability) <= allowed;
        long high = acceptance + 1L;
        while (!Enough(high))
        {
            high = checked(high * 2L);
        }

        long low = high / 2L;
        while (high - low > 1L)
        {
            long middle = low + ((high - low) / 2L);
            (low, high) = Enough(middle) ? (low, middle) : (middle, high);
        }

        return low > acceptance && Enough(low) ? low : high;
    }

    /// <summary>Parts that must all conform.</summary>
    public static long SuccessRun(double confidence, double reliability) => Attribute(0, confidence, reliability);

    /// <summary>ln(1 − C)/ln R, of which the success run is the next whole number.</summary>
    public static double SuccessRunExact(double confidence, double reliability) => SmallArgument.Log1P(-confidence) / Math.Log(reliability);

    /// <summary>Sample size at which the m-th largest (or smallest) value is a one-sided bound of the proportion.</summary>
    public static long WilksOneSided(int order, double confidence, double coverage)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(order, 1);
        return Attribute(order - 1, confidence, coverage);
    }

    /// <summary>Sample size at which x(m) and x(n+1−m) enclose the proportion.</summary>
    public static long WilksTwoSided(int order, double confidence, double coverage)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(order, 1);
        return Attribute((2 * order) - 1, confidence, coverage);
    }

    /// <summary>Confidence that a plan with n parts and at most c nonconforming shows.</summary>
    public static double Confidence(long count, int acceptance, double reliability) =>
        1.0 - BetaLaw.BinomialCdf(acceptance, count, 1.0 - reliability);
}

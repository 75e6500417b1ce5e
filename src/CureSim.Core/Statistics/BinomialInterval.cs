namespace CureSim.Core.Statistics;

/// <summary>Intervals of a proportion from x occurrences in n independent trials.</summary>
/// <remarks>
/// Clopper–Pearson (exact): lower B(α/2; x, n − x + 1), upper B(1 − α/2; x + 1, n − x), beta quantiles; one-sided with α in place of α/2.
/// Wilson (score): (p + z²/2n ± z√(p(1−p)/n + z²/4n²))/(1 + z²/n).
/// Nothing seen: upper bound 1 − α^{1/n}, never 0.
/// Source: C. J. Clopper and E. S. Pearson, Biometrika 26 (1934) 404; E. B. Wilson, JASA 22 (1927) 209; J. A. Hanley and A. Lippman-Hand, JAMA 249 (1983) 1743.
/// Checked against: rows BIN-*.
/// </remarks>
public static class BinomialInterval
{
    private const double Nothing = -34.0; // ln of a share below which a limit is 0 beside 1 in double precision

    /// <summary>Two-sided exact interval.</summary>
    public static ConfidenceInterval ClopperPearson(long seen, long trials, double confidence = 0.95)
    {
        if (Refusal(seen, trials, confidence) is ConfidenceInterval refused)
        {
            return refused;
        }

        double half = 0.5 * (1.0 - confidence);
        return new ConfidenceInterval((double)seen / trials, Lower(seen, trials, half), Upper(seen, trials, half), confidence, trials);
    }

    /// <summary>One-sided exact upper bound.</summary>
    public static ConfidenceInterval ClopperPearsonUpper(long seen, long trials, double confidence = 0.95) =>
        Refusal(seen, trials, confidence)
        ?? new ConfidenceInterval((double)seen / trials, null, Upper(seen, trials, 1.0 - confidence), confidence, trials);

    /// <summary>One-sided exact lower bound.</summary>
    public static ConfidenceInterval ClopperPearsonLower(long seen, long trials, double confidence = 0.95) =>
        Refusal(seen, trials, confidence)
        ?? new ConfidenceInterval((double)seen / trials, Lower(seen, trials, 1.0 - confidence), null, confidence, trials);

    /// <summary>Two-sided exact interval of a share that rests on as many effective trials, whole or not: the same beta quantiles with x = share·trials.</summary>
    /// <param name="share">0 … 1.</param>
    /// <param name="effectiveTrials">Above 0: trials that would give the share's standard error.</param>
    /// <param name="confidence">Above 0, below 1.</param>
    /// <remarks>Source: E. L. Korn and B. I. Graubard, Survey Methodology 24 (1998) 193 (recalled from memory), without their correction for few units.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 … 1, or no trials.</exception>
    public static ConfidenceInterval OfShare(double share, double effectiveTrials, double confidence = 0.95)
    {
        ConfidenceInterval.Guard(confidence);
        if (share is not (>= 0.0 and <= 1.0) || !(effectiveTrials > 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(share), share, "A share lies between 0 and 1 and rests on trials.");
        }

        double half = 0.5 * (1.0 - confidence), x = share * effectiveTrials, y = (1.0 - share) * effectiveTrials;

        // B(q; x, y + 1) tends to half^(1/x) as x falls: where that is nothing beside 1, the limit is 0.
        double lower = Math.Log(half) / x > Nothing ? BetaLaw.Quantile(half, x, y + 1.0) : 0.0, upper = Math.Log(half) / y > Nothing ? BetaLaw.UpperQuantile(half, x + 1.0, y) : 1.0;
        return new ConfidenceInterval(share, lower, upper, confidence, (long)effectiveTrials);
    }

    /// <summary>Two-sided score interval.</summary>
    public static ConfidenceInterval Wilson(long seen, long trials, double confidence = 0.95)
    {
        if (Refusal(seen, trials, confidence) is ConfidenceInterval refused)
        {
            return refused;
        }

        var (lower, upper) = Score(seen, trials, 0.5 * (1.0 - confidence));
        return new ConfidenceInterval((double)seen / trials, lower, upper, confidence, trials);
    }

    /// <summary>One-sided score lower bound.</summary>
    public static ConfidenceInterval WilsonLower(long seen, long trials, double confidence = 0.95) =>
        Refusal(seen, trials, confidence)
        ?? new ConfidenceInterval((double)seen / trials, Score(seen, trials, 1.0 - confidence).Lower, null, confidence, trials);

    /// <summary>One-sided score upper bound.</summary>
    public static ConfidenceInterval WilsonUpper(long seen, long trials, double confidence = 0.95) =>
        Refusal(seen, trials, confidence)
        ?? new ConfidenceInterval((double)seen / trials, null, Score(seen, trials, 1.0 - confidence).Upper, confidence, trials);

    /// <summary>Upper bound of a proportion of which nothing was seen in n trials: 1 − (1 − C)^{1/n}.</summary>
    public static double ZeroCountUpper(long trials, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(trials, 1);
        ConfidenceInterval.Guard(confidence);
        return -SmallArgument.ExpM1(SmallArgument.Log1P(-confidence) / trials);
    }

    /// <summary>A counted fraction as it is to be reported: exact 95 % interval; when nothing was seen no value, only the one-sided upper bound.</summary>
    public static Estimate Counted(long seen, long trials)
    {
        if (Refusal(seen, trials, 0.95) is ConfidenceInterval refused)
        {
            return Estimate.Withhold(refused.Withheld!, trials);
        }

        if (seen == 0)
        {
            return Estimate.Withhold(FormattableString.Invariant($"none seen in {trials}: one-sided 95 % upper bound"), trials, 0.0, ZeroCountUpper(trials));
        }

        double p = (double)seen / trials;
        ConfidenceInterval exact = ClopperPearson(seen, trials);
        return Estimate.Bounded(p, Math.Sqrt(p * (1.0 - p) / trials), exact.Lower, exact.Upper, trials);
    }

    private static double Lower(long seen, long trials, double tail) => seen == 0 ? 0.0 : BetaLaw.Quantile(tail, seen, trials - seen + 1.0);

    private static double Upper(long seen, long trials, double tail) =>
        seen == trials ? 1.0
        : seen == 0 ? -SmallArgument.ExpM1(Math.Log(tail) / trials)
        : BetaLaw.UpperQuantile(tail, seen + 1.0, trials - seen);

    private static (double Lower, double Upper) Score(long seen, long trials, double tail)
    {
        double z = NormalLaw.UpperQuantile(tail);
        double n = trials;
        double p = seen / n;
        double centre = p + (z * z / (2.0 * n));
        double half = z * Math.Sqrt((p * (1.0 - p) / n) + (z * z / (4.0 * n * n)));
        double scale = 1.0 + (z * z / n);
        return (seen == 0 ? 0.0 : (centre - half) / scale, seen == trials ? 1.0 : (centre + half) / scale);
    }

    private static ConfidenceInterval? Refusal(long seen, long trials, double confidence)
    {
        ConfidenceInterval.Guard(confidence);
        if (seen < 0 || trials < 0 || seen > trials)
        {
            throw new ArgumentOutOfRangeException(nameof(seen), seen, "Occurrences must lie between 0 and the number of trials.");
        }

        return trials == 0 ? ConfidenceInterval.Withhold("no trials", confidence, 0) : null;
    }
}

namespace CureSim.Core.Statistics;

/// <summary>Probability that the true value lies within the limits, given a reading and its standard uncertainty.</summary>
/// <remarks>
/// p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u); a limit that does not exist counts as infinitely far. Holds for a normal state of knowledge with
/// little known beforehand (JCGM 106, 7.2 … 7.4: y and u describe the posterior).
/// Source: JCGM 106:2012, clause 7. Checked against: rows CON-Z, CON-EX1, CON-EX2, CON-2S-*.
/// </remarks>
public static class ConformanceProbability
{
    /// <summary>p_c, 0 … 1.</summary>
    public static double Of(double reading, double uncertainty, LimitPair limits) => 1.0 - Outside(reading, uncertainty, limits);

    /// <summary>1 − p_c, accurate when it is small.</summary>
    public static double Outside(double reading, double uncertainty, LimitPair limits)
    {
        if (limits.Fault is string fault)
        {
            throw new ArgumentException("The limits cannot be used: " + fault + ".", nameof(limits));
        }

        if (!(uncertainty > 0.0) || !double.IsFinite(reading))
        {
            throw new ArgumentOutOfRangeException(nameof(uncertainty), uncertainty, "A finite reading and a standard uncertainty above zero are needed.");
        }

        double below = limits.Lower is double l ? NormalLaw.Survival((reading - l) / uncertainty) : 0.0;
        double above = limits.Upper is double u ? NormalLaw.Survival((u - reading) / uncertainty) : 0.0;
        return below + above;
    }
}

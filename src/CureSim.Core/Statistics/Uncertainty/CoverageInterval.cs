namespace CureSim.Core.Statistics;

/// <summary>A coverage interval of a sorted Monte Carlo result.</summary>
/// <param name="Lower">Lower end, in the unit of the values.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Probability">Coverage probability p.</param>
/// <param name="Trials">Number M of values.</param>
/// <param name="Withheld">Why there is no interval; null when there is.</param>
/// <remarks>
/// q = pM when that is whole, else the integer part of pM + ½; [y(r), y(r + q)]. Probabilistically symmetric: r = (M − q)/2 when whole, else the
/// integer part of (M − q + 1)/2. Shortest: the r that makes y(r + q) − y(r) smallest. The shortest interval is flat at its minimum: its width and
/// coverage are well determined, its end points loosely.
/// Source: JCGM 101:2008, 7.7. Checked against: row GUM-7.7 and the examples of clause 9 (rows GUM-9.*).
/// </remarks>
public sealed record CoverageInterval(double? Lower, double? Upper, double Probability, long Trials, string? Withheld = null)
{
    /// <summary>Upper − Lower.</summary>
    public double? Width => Upper - Lower;

    /// <summary>Probabilistically symmetric interval of values sorted upwards.</summary>
    public static CoverageInterval Symmetric(ReadOnlySpan<double> sorted, double probability)
    {
        if (Steps(sorted.Length, probability) is not int q)
        {
            return Refuse(sorted.Length, probability);
        }

        int gap = sorted.Length - q;
        int r = gap % 2 == 0 ? gap / 2 : (gap + 1) / 2;
        return new CoverageInterval(sorted[r - 1], sorted[r + q - 1], probability, sorted.Length);
    }

    /// <summary>Shortest interval of values sorted upwards.</summary>
    public static CoverageInterval Shortest(ReadOnlySpan<double> sorted, double probability)
    {
        if (Steps(sorted.Length, probability) is not int q)
        {
            return Refuse(sorted.Length, probability);
        }

        int best = 0;
        for (int r = 1; r + q < sorted.Length; r++)
        {
            if (sorted[r + q] - sorted[r] < sorted[best + q] - sorted[best])
            {
                best = r;
            }
        }

        return new CoverageInterval(sorted[best], sorted[best + q], probability, sorted.Length);
    }

    private static int? Steps(int trials, double probability)
    {
        ConfidenceInterval.Guard(probability);
        double product = probability * trials;
        double whole = Math.Round(product);

        // 0.95 · 10000 is whole in the standard's arithmetic but not always in binary.
        int q = (int)(Math.Abs(product - whole) < 1e-9 * trials ? whole : Math.Floor(product + 0.5));
        return q >= 1 && q < trials ? q : null;
    }

    private static CoverageInterval Refuse(int trials, double probability) =>
        new(null, null, probability, trials, FormattableString.Invariant($"{trials} trials are too few for a coverage of {100.0 * probability:0.###} %"));
}

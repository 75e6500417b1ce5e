namespace CureSim.Core.Statistics;

/// <summary>Where 90 % of the worlds' true figures lie, with the sampling noise inside each world taken out.</summary>
/// <param name="Mean">Mean of the worlds' figures.</param>
/// <param name="Lower05">5 % quantile over worlds (type 7).</param>
/// <param name="Upper95">95 % quantile over worlds (type 7).</param>
/// <param name="Shrinkage">Factor by which each world's figure was moved towards the mean, 0 … 1; 0: the worlds differ no more than their noise.</param>
/// <param name="Worlds">Number of worlds.</param>
/// <param name="Withheld">Why there is no band; null when there is.</param>
/// <remarks>
/// x'_w = m + (x_w − m)·√max(0, 1 − s²_within/s²_between), s²_between the variance (n − 1) of the figures, s²_within the mean of their squared
/// standard errors: the figures then have the variance of the true figures. Source: T. A. Louis, "Estimating a population of parameter values using
/// Bayes and empirical Bayes methods", JASA 79 (1984) 393 (the same factor for equal errors). Checked against: a hand-worked set and noise of known size.
/// </remarks>
public sealed record WorldBand(double? Mean, double? Lower05, double? Upper95, double? Shrinkage, int Worlds, string? Withheld = null)
{
    /// <summary>The band from one figure and one squared standard error for each world.</summary>
    public static WorldBand Of(ReadOnlySpan<double> figures, ReadOnlySpan<double> withinVariances)
    {
        if (figures.Length != withinVariances.Length)
        {
            throw new ArgumentException("There must be one within-world variance for each figure.", nameof(withinVariances));
        }

        if (figures.Length < 2)
        {
            return new WorldBand(null, null, null, null, figures.Length, "fewer than two worlds: what is unknown was not varied");
        }

        double within = 0.0;
        foreach (double v in withinVariances)
        {
            within += v >= 0.0 ? v : throw new ArgumentOutOfRangeException(nameof(withinVariances), v, "A variance is zero or above.");
        }

        within /= figures.Length;
        SampleMoments moments = SampleMoments.Of(figures);
        double between = moments.StandardDeviation!.Value * moments.StandardDeviation.Value;
        double shrinkage = between > 0.0 ? Math.Sqrt(Math.Max(0.0, 1.0 - (within / between))) : 0.0;
        double[] moved = new double[figures.Length];
        for (int i = 0; i < moved.Length; i++)
        {
            moved[i] = moments.Mean + ((figures[i] - moments.Mean) * shrinkage);
        }

        Array.Sort(moved);
        return new WorldBand(
            moments.Mean, SampleQuantile.OfSorted(moved, 0.05), SampleQuantile.OfSorted(moved, 0.95), shrinkage, figures.Length);
    }
}

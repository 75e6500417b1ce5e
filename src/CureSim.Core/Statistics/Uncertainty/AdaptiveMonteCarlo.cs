namespace CureSim.Core.Statistics;

/// <summary>What one batch of M trials gave.</summary>
/// <param name="Mean">Average y.</param>
/// <param name="StandardUncertainty">Standard deviation u(y) of the batch (M − 1).</param>
/// <param name="Lower">Lower end of its coverage interval.</param>
/// <param name="Upper">Upper end of its coverage interval.</param>
public readonly record struct MonteCarloBatch(double Mean, double StandardUncertainty, double Lower, double Upper);

/// <summary>Whether the batches so far suffice.</summary>
/// <param name="Finished">True when every doubled standard deviation is within the numerical tolerance.</param>
/// <param name="Uncertainty">u(y) from all h·M values.</param>
/// <param name="Delta">Numerical tolerance δ of that u(y); null before the second batch or without spread.</param>
/// <param name="TwiceMean">2 s of the batch means; null before the second batch.</param>
/// <param name="TwiceUncertainty">2 s of the batch uncertainties.</param>
/// <param name="TwiceLower">2 s of the lower ends.</param>
/// <param name="TwiceUpper">2 s of the upper ends.</param>
public sealed record AdaptiveDecision(
    bool Finished, double Uncertainty, double? Delta, double? TwiceMean, double? TwiceUncertainty, double? TwiceLower, double? TwiceUpper);

/// <summary>The stopping rule of the adaptive Monte Carlo procedure, as a pure function of the batch results.</summary>
/// <remarks>
/// M = max(J, 10⁴), J the smallest integer ≥ 100/(1 − p). After h ≥ 2 batches s² = Σ(x(r) − x̄)²/(h(h − 1)) for y, u, and both ends; stop when
/// every 2s ≤ δ. u(y) of all values follows exactly from the batch means and uncertainties.
/// Source: JCGM 101:2008, 7.9.4. Checked against: row GUM-7.9.4 and a run of the example 9.2.2.
/// </remarks>
public static class AdaptiveMonteCarlo
{
    /// <summary>Trials a batch, M.</summary>
    public static int TrialsPerBatch(double probability)
    {
        ConfidenceInterval.Guard(probability);
        double j = 100.0 / (1.0 - probability);

        // 100/(1 − 0.95) is 2000 but for rounding.
        double whole = Math.Round(j);
        return (int)Math.Max(Math.Abs(j - whole) < 1e-9 * j ? whole : Math.Ceiling(j), 1e4);
    }

    /// <summary>Decides on h batches of M trials each, for u(y) with the given number of significant digits.</summary>
    public static AdaptiveDecision Decide(IReadOnlyList<MonteCarloBatch> batches, int trialsPerBatch, int digits)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(batches.Count, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(trialsPerBatch, 2);
        double h = batches.Count;
        double m = trialsPerBatch;
        double mean = batches.Average(b => b.Mean);
        double between = batches.Sum(b => (b.Mean - mean) * (b.Mean - mean));
        double within = batches.Sum(b => b.StandardUncertainty * b.StandardUncertainty);
        double u = Math.Sqrt((((m - 1.0) * within) + (m * between)) / ((h * m) - 1.0));
        if (batches.Count < 2)
        {
            return new AdaptiveDecision(false, u, null, null, null, null, null);
        }

        double Twice(Func<MonteCarloBatch, double> pick)
        {
            double average = batches.Average(pick);
            return 2.0 * Math.Sqrt(batches.Sum(b => (pick(b) - average) * (pick(b) - average)) / (h * (h - 1.0)));
        }

        double[] twice = [Twice(b => b.Mean), Twice(b => b.StandardUncertainty), Twice(b => b.Lower), Twice(b => b.Upper)];
        double? delta = u > 0.0 ? NumericalTolerance.Of(u, digits).Delta : null;
        bool finished = delta is not double d || Array.TrueForAll(twice, t => t <= d);
        return new AdaptiveDecision(finished, u, delta, twice[0], twice[1], twice[2], twice[3]);
    }
}

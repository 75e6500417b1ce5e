namespace CureSim.Core.Statistics;

/// <summary>Variance between and within groups of a one-way layout with random groups.</summary>
/// <param name="Groups">Number of groups a.</param>
/// <param name="Count">Number of readings N.</param>
/// <param name="MeanSquareBetween">MS between, a − 1 degrees of freedom.</param>
/// <param name="MeanSquareWithin">MS within, N − a degrees of freedom.</param>
/// <param name="VarianceBetween">Component between groups; 0 when its estimate is negative.</param>
/// <param name="NegativeBetween">True when the estimate was negative and set to 0.</param>
/// <param name="VarianceWithin">Component within groups.</param>
/// <param name="F">MS between / MS within; null when there is no variation within.</param>
/// <param name="PValue">P(F at least as large | no variation between); null with it.</param>
/// <param name="GrandMean">Mean of all readings with the standard error √(MS between/N) and a t interval; withheld in a layout that is not balanced.</param>
/// <param name="RestrictedCriterion">−2 × restricted log-likelihood at these components; null when not balanced or set to 0.</param>
/// <param name="LikelihoodVarianceBetween">Maximum-likelihood component between groups; null when not balanced or negative.</param>
/// <param name="LikelihoodDeviance">−2 × log-likelihood at it; null with it.</param>
/// <param name="Withheld">Why there are no components; null when there are.</param>
/// <remarks>
/// σ²_between = (MSB − MSW)/n₀, n₀ = (N − Σn_i²/N)/(a − 1) (the group size when balanced, where this equals REML).
/// −2 l_R = (N−1) ln 2π + (N−a) ln σ² + (a−1) ln λ + ln N + SSW/σ² + SSB/λ, λ = σ² + nσ²_between; maximum likelihood has λ = SSB/a.
/// Source: S. R. Searle, G. Casella and C. E. McCulloch, Variance Components (1992), chapters 3 and 4. Checked against: row GRR-DYE
/// (O. L. Davies and P. L. Goldsmith, Statistical Methods in Research and Production, 1972, table 6.1).
/// </remarks>
public sealed record OneWayComponents(
    int Groups,
    long Count,
    double MeanSquareBetween,
    double MeanSquareWithin,
    double VarianceBetween,
    bool NegativeBetween,
    double VarianceWithin,
    double? F,
    double? PValue,
    Estimate GrandMean,
    double? RestrictedCriterion,
    double? LikelihoodVarianceBetween,
    double? LikelihoodDeviance,
    string? Withheld = null)
{
    /// <summary>Components of readings given group by group.</summary>
    public static OneWayComponents Of(IReadOnlyList<double[]> groups)
    {
        int a = groups.Count;
        double n = groups.Sum(g => (double)g.Length);
        if (a < 2 || groups.Any(g => g.Length == 0) || n - a < 1.0)
        {
            const string Reason = "at least two groups, none empty, and one of them with two readings are needed";
            return new OneWayComponents(a, (long)n, 0, 0, 0, false, 0, null, null, Estimate.Withhold(Reason), null, null, null, Reason);
        }

        double grand = groups.Sum(g => g.Sum()) / n;
        double between = 0.0;
        double within = 0.0;
        double squares = 0.0;
        foreach (double[] g in groups)
        {
            SampleMoments m = SampleMoments.Of(g);
            between += g.Length * (m.Mean - grand) * (m.Mean - grand);
            double s = m.StandardDeviation ?? 0.0;
            within += s * s * (g.Length - 1.0);
            squares += (double)g.Length * g.Length;
        }

        double msb = between / (a - 1.0);
        double msw = within / (n - a);
        double size = (n - (squares / n)) / (a - 1.0);
        double component = (msb - msw) / size;
        double? f = msw > 0.0 ? msb / msw : null;

        // P(F > f) with a−1 and N−a degrees is the beta law of d2/(d2 + d1 f).
        double? p = f is double v ? BetaLaw.Cdf((n - a) / (n - a + ((a - 1.0) * v)), 0.5 * (n - a), 0.5 * (a - 1.0)) : null;
        var found = new OneWayComponents(
            a, (long)n, msb, msw, Math.Max(0.0, component), component < 0.0, msw, f, p,
            Estimate.Withhold("the layout is not balanced", (long)n), null, null, null);
        bool balanced = groups.All(g => g.Length == groups[0].Length);
        return balanced ? found.WithBalanced(grand, between, within, size) : found;
    }

    private OneWayComponents WithBalanced(double grand, double between, double within, double size)
    {
        double n = Count;
        double error = Math.Sqrt(MeanSquareBetween / n);
        double half = StudentLaw.Quantile(0.975, Groups - 1) * error;
        Estimate mean = Estimate.Bounded(grand, error, grand - half, grand + half, Groups);
        if (NegativeBetween || MeanSquareWithin <= 0.0)
        {
            return this with { GrandMean = mean };
        }

        double log2Pi = Math.Log(2.0 * Math.PI);
        double common = (n - Groups) * Math.Log(MeanSquareWithin);
        double restricted = ((n - 1.0) * log2Pi) + common + ((Groups - 1.0) * Math.Log(MeanSquareBetween)) + Math.Log(n) + (n - 1.0);
        double lambda = between / Groups;
        double likely = (lambda - MeanSquareWithin) / size;
        double deviance = (n * log2Pi) + common + (Groups * Math.Log(lambda)) + (within / MeanSquareWithin) + Groups;
        return this with
        {
            GrandMean = mean,
            RestrictedCriterion = restricted,
            LikelihoodVarianceBetween = likely >= 0.0 ? likely : null,
            LikelihoodDeviance = likely >= 0.0 ? deviance : null,
        };
    }
}

namespace CureSim.Core.Statistics;

/// <summary>Variance components of a balanced two-stage nested layout: groups, subgroups in groups, readings in subgroups.</summary>
/// <param name="MeanSquareGroups">MS of groups, a − 1 degrees of freedom.</param>
/// <param name="MeanSquareSubgroups">MS of subgroups within groups, a(b − 1).</param>
/// <param name="MeanSquareReadings">MS of readings, ab(n − 1).</param>
/// <param name="VarianceGroups">Component of groups; 0 when negative.</param>
/// <param name="VarianceSubgroups">Component of subgroups; 0 when negative.</param>
/// <param name="VarianceReadings">Component of readings.</param>
/// <param name="SetToZero">True when a negative component was set to 0.</param>
/// <param name="Withheld">Why there are no components; null when there are.</param>
/// <remarks>
/// σ²_readings = MSE, σ²_subgroups = (MSB − MSE)/n, σ²_groups = (MSA − MSB)/(bn); equal to REML while none is negative.
/// Source: S. R. Searle, G. Casella and C. E. McCulloch, Variance Components (1992), section 4.4; NIST/SEMATECH e-Handbook 2.4.4.
/// Checked against: R lme4 (tests/data/reference/statistics-survival.csv).
/// </remarks>
public sealed record NestedComponents(
    double MeanSquareGroups,
    double MeanSquareSubgroups,
    double MeanSquareReadings,
    double VarianceGroups,
    double VarianceSubgroups,
    double VarianceReadings,
    bool SetToZero,
    string? Withheld = null)
{
    /// <summary>Components of readings[group][subgroup][reading].</summary>
    public static NestedComponents Of(IReadOnlyList<double[][]> readings)
    {
        int a = readings.Count;
        int b = a > 0 ? readings[0].Length : 0;
        int n = b > 0 ? readings[0][0].Length : 0;
        if (a < 2 || b < 2 || n < 2 || readings.Any(g => g.Length != b || g.Any(s => s.Length != n)))
        {
            return new NestedComponents(0, 0, 0, 0, 0, 0, false, "a balanced layout with at least two groups, subgroups and readings is needed");
        }

        double grand = readings.Sum(g => g.Sum(s => s.Sum())) / ((double)a * b * n);
        double ssA = 0.0;
        double ssB = 0.0;
        double ssE = 0.0;
        foreach (double[][] g in readings)
        {
            double group = g.Sum(s => s.Sum()) / ((double)b * n);
            ssA += b * n * (group - grand) * (group - grand);
            foreach (double[] s in g)
            {
                double sub = s.Sum() / n;
                ssB += n * (sub - group) * (sub - group);
                ssE += s.Sum(x => (x - sub) * (x - sub));
            }
        }

        double msA = ssA / (a - 1.0);
        double msB = ssB / (a * (b - 1.0));
        double msE = ssE / ((double)a * b * (n - 1));
        double groups = (msA - msB) / ((double)b * n);
        double subgroups = (msB - msE) / n;
        return new NestedComponents(
            msA, msB, msE, Math.Max(0.0, groups), Math.Max(0.0, subgroups), msE, groups < 0.0 || subgroups < 0.0);
    }
}

namespace CureSim.Core.Statistics;

/// <summary>From an index to the fraction nonconforming of a normal output, and back.</summary>
/// <remarks>
/// One side: Φ(−3Cpk). Both sides: Φ(−3Cpk) + Φ(−3(2Cp − Cpk)), because the farther limit is 2Cp − Cpk away. Back: index = Φ⁻¹(1 − p)/3.
/// Source: ISO 22514-2 (relation of an index and a proportion); NIST/SEMATECH e-Handbook 6.1.6. Checked against: rows CAP-PPM-*, CAP-OFF-*, CAP-Q.
/// </remarks>
public static class NonconformingFraction
{
    /// <summary>Fraction beyond the one limit whose index this is, 0 … 1.</summary>
    public static double OneSided(double index) => NormalLaw.Survival(3.0 * Finite(index));

    /// <summary>Fraction beyond the nearer limit, the farther limit and both, for Cp ≥ Cpk.</summary>
    public static (double Near, double Far, double Total) TwoSided(double cp, double cpk)
    {
        if (!(Finite(cp) >= Finite(cpk)))
        {
            throw new ArgumentOutOfRangeException(nameof(cpk), cpk, "Cpk is never above Cp.");
        }

        double near = OneSided(cpk);
        double far = OneSided((2.0 * cp) - cpk);
        return (near, far, near + far);
    }

    /// <summary>The one-sided index that a normal output with this fraction nonconforming would have; withheld for a fraction of 0 or 1.</summary>
    public static Estimate EquivalentIndex(double fraction)
    {
        if (!(fraction >= 0.0 && fraction <= 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(fraction), fraction, "A fraction is between 0 and 1.");
        }

        return fraction switch
        {
            0.0 => Estimate.Withhold("nothing nonconforming was seen: only a lower bound of the index exists (use the upper bound of the fraction)"),
            1.0 => Estimate.Withhold("everything was nonconforming"),
            _ => Estimate.Bounded(NormalLaw.UpperQuantile(fraction) / 3.0, null, null, null),
        };
    }

    /// <summary>The index with the limits that the fraction's limits give; the upper limit of the fraction is the lower limit of the index.</summary>
    public static Estimate EquivalentIndex(Estimate fraction)
    {
        double? Index(double? p) => p is > 0.0 and < 1.0 ? NormalLaw.UpperQuantile(p.Value) / 3.0 : null;
        double? lower = Index(fraction.Upper95);
        double? upper = Index(fraction.Lower95);
        return Index(fraction.Value) is double v
            ? Estimate.Bounded(v, null, lower, upper, fraction.Count)
            : Estimate.Withhold(fraction.Withheld ?? "no index belongs to a fraction of 0 or 1", fraction.Count, lower, upper);
    }

    private static double Finite(double index) =>
        double.IsFinite(index) ? index : throw new ArgumentOutOfRangeException(nameof(index), index, "An index is a finite number.");
}

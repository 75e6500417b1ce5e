namespace CureSim.Core.Statistics;

/// <summary>The numerical tolerance that belongs to a standard uncertainty written with one or two significant digits.</summary>
/// <param name="Mantissa">c, a whole number of that many digits.</param>
/// <param name="Exponent">l, with u ≈ c·10^l.</param>
/// <param name="Delta">δ = ½·10^l, in the unit of u.</param>
/// <remarks>
/// Rounded first (half away from zero), so that 0.0996 to two digits is 10·10⁻² and δ = 0.005.
/// Source: JCGM 101:2008, 7.9.2. Checked against: row GUM-7.9.2.
/// </remarks>
public sealed record NumericalTolerance(long Mantissa, int Exponent, double Delta)
{
    /// <summary>Tolerance of u with the given number of significant digits (1 or 2, as a rule).</summary>
    public static NumericalTolerance Of(double uncertainty, int digits)
    {
        if (!(uncertainty > 0.0) || double.IsInfinity(uncertainty))
        {
            throw new ArgumentOutOfRangeException(nameof(uncertainty), uncertainty, "A standard uncertainty above zero is needed.");
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(digits, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(digits, 15);
        int exponent = (int)Math.Floor(Math.Log10(uncertainty)) - digits + 1;

        // The slack keeps a decimal half a half: 0.00035 is stored slightly off, yet 3.5 must round to 4.
        double Scaled(int e) => Math.Floor((uncertainty * Math.Pow(10.0, -e) * (1.0 + 1e-13)) + 0.5);
        double limit = Math.Pow(10.0, digits);
        if (Scaled(exponent) >= limit)
        {
            exponent++;
        }
        else if (Scaled(exponent) < limit / 10.0)
        {
            exponent--;
        }

        return new NumericalTolerance((long)Scaled(exponent), exponent, 0.5 * Math.Pow(10.0, exponent));
    }
}

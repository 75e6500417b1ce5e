using System.Globalization;
using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Range that a value must lie in, SI.</summary>
/// <param name="Least">Lower end; −∞ when there is none.</param>
/// <param name="LeastIncluded">True when the lower end itself is allowed.</param>
/// <param name="Most">Upper end (included); +∞ when there is none.</param>
/// <param name="Words">For a message.</param>
internal sealed record Bounds(double Least, bool LeastIncluded, double Most, string Words)
{
    public static readonly Bounds Any = new(double.NegativeInfinity, true, double.PositiveInfinity, "any value");
    public static readonly Bounds NotNegative = new(0, true, double.PositiveInfinity, "0 or more");
    public static readonly Bounds Positive = new(0, false, double.PositiveInfinity, "more than 0");
    public static readonly Bounds Fraction = new(0, true, 1, "from 0 % to 100 %");
    public static readonly Bounds PositiveFraction = new(0, false, 1, "more than 0 %, at most 100 %");
    public static readonly Bounds BelowOne = new(0, true, Math.BitDecrement(1.0), "from 0 to below 1");
    public static readonly Bounds OverOne = new(1, false, double.PositiveInfinity, "more than 1");
    public static readonly Bounds RightAngle = new(-1.5, true, 1.5, "an angle well below 90 deg");
    public static readonly Bounds HalfAngle = new(0, false, 1.5, "more than 0 deg, well below 90 deg");

    /// <summary>True for a quantity that may have either sign.</summary>
    public bool Signed => Least < 0;

    public bool Allows(double value) => value <= Most && (LeastIncluded ? value >= Least : value > Least);

    /// <summary>Probability of a value outside; 0 for NaN parameters, about which another problem has been noted.</summary>
    public double ProbabilityOutside(IDistribution distribution)
    {
        if (double.IsNaN(distribution.Mean))
        {
            return 0;
        }

        double below = 0;
        if (distribution.Minimum < Least)
        {
            below = distribution.Cdf(Least);
        }
        else if (distribution.Minimum == Least && !LeastIncluded)
        {
            below = AtLeast(distribution);
        }

        double above = distribution.Maximum > Most ? distribution.Survival(Most) : 0;
        return Math.Min(1, below + above);
    }

    // Probability of the lowest value itself; an empirical distribution holds half a sample's weight at each end.
    private static double AtLeast(IDistribution distribution) => distribution switch
    {
        FixedValue => 1,
        DiscreteDistribution discrete => discrete.Density(discrete.Minimum),
        EmpiricalDistribution empirical => 0.5 / empirical.Sorted.Count,
        _ => 0,
    };

    /// <summary>A probability as it is printed.</summary>
    public static string Printed(double probability) =>
        probability is 0 or >= 1e-4 ? probability.ToString("G3", CultureInfo.InvariantCulture) : probability.ToString("0.##e+0", CultureInfo.InvariantCulture);
}

namespace CureSim.Core.Statistics;

/// <summary>What a flow of one unit of money at the prices of the start, paid in a given year, is worth at the start.</summary>
/// <remarks>
/// A price grows by g a year and money is discounted by r, both to the moment t at which the year's flow falls: ((1 + g)/(1 + r))^t, t = y at the end of year y, y − ½ in its
/// middle, y − 1 at its beginning; evenly over the year ∫((1 + g)/(1 + r))^t dt from y − 1 to y. The sum over years with g = 0 is the factor of <see cref="Annuity.PresentValueFactor"/>,
/// with g the modified uniform present value factor of NIST Handbook 135. Checked against: rows ECO-UPV-*, and against <see cref="Annuity"/>.
/// </remarks>
public static class YearFactors
{
    /// <summary>The factor of a year.</summary>
    /// <param name="rate">Discount rate a year, above −1.</param>
    /// <param name="growth">Growth of the price a year, above −1.</param>
    /// <param name="year">1 for the first.</param>
    /// <param name="timing">When in the year the flow falls.</param>
    public static double Of(double rate, double growth, int year, FlowTiming timing)
    {
        if (!(rate > -1.0) || !(growth > -1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(rate), rate, "Rates a year above −1 are needed (0.08 for 8 %).");
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(year, 1);
        double force = SmallArgument.Log1P(growth) - SmallArgument.Log1P(rate);
        return timing switch
        {
            FlowTiming.End => Math.Exp(force * year),
            FlowTiming.Middle => Math.Exp(force * (year - 0.5)),
            FlowTiming.Begin => Math.Exp(force * (year - 1)),
            FlowTiming.Continuous => force == 0.0 ? 1.0 : Math.Exp(force * (year - 1)) * SmallArgument.ExpM1(force) / force,
            _ => throw new ArgumentOutOfRangeException(nameof(timing), timing, "Not a known timing."),
        };
    }
}

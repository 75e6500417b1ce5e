namespace CureSim.Core.Statistics;

/// <summary>Whether the law of propagation of uncertainty gives the same coverage interval as Monte Carlo.</summary>
/// <param name="LowerDifference">d_low = |y − U_p − y_low|, in the unit of y.</param>
/// <param name="UpperDifference">d_high = |y + U_p − y_high|.</param>
/// <param name="Delta">Numerical tolerance δ.</param>
/// <param name="Validated">True when both are at most δ.</param>
/// <remarks>Source: JCGM 101:2008, 8.1 and 8.2. Checked against: row GUM-8.1 with the example 9.2.4, where the two differ.</remarks>
public sealed record FrameworkValidation(double LowerDifference, double UpperDifference, double Delta, bool Validated)
{
    /// <summary>Compares y ± U_p with the Monte Carlo interval.</summary>
    public static FrameworkValidation Compare(double y, double expandedUncertainty, double lower, double upper, double delta)
    {
        if (!(delta > 0.0))
        {
            throw new ArgumentOutOfRangeException(nameof(delta), delta, "A tolerance above zero is needed.");
        }

        double low = Math.Abs(y - expandedUncertainty - lower);
        double high = Math.Abs(y + expandedUncertainty - upper);
        return new FrameworkValidation(low, high, delta, low <= delta && high <= delta);
    }
}

namespace CureSim.Core.Statistics;

/// <summary>ln(1 + x) and exp(x) − 1 without the loss of digits near x = 0 (the framework's own LogP1 and ExpM1 are the plain formulas).</summary>
/// <remarks>
/// Source: W. Kahan, as given by N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd ed. (2002), section 1.14.1 and problem 1.5.
/// The rounding of 1 + x and of its logarithm cancel; a few units in the last place remain.
/// </remarks>
internal static class SmallArgument
{
    /// <summary>ln(1 + x), x &gt; −1.</summary>
    public static double Log1P(double x)
    {
        double u = 1.0 + x;
        return u == 1.0 ? x : double.IsInfinity(u) ? u : Math.Log(u) * x / (u - 1.0);
    }

    /// <summary>exp(x) − 1.</summary>
    public static double ExpM1(double x)
    {
        double u = Math.Exp(x);
        double d = u - 1.0;
        return u == 1.0 ? x : d == -1.0 || double.IsInfinity(u) ? d : d * x / Math.Log(u);
    }
}

namespace CureSim.Core.Numerics;

/// <summary>Root of an increasing function: Newton's method held inside a bracket that only shrinks.</summary>
internal static class MonotoneRoot
{
    private const int MostSteps = 400;
    private const double Tolerance = 1e-15;
    private const double LastStep = 1e-9;

    /// <summary>The y with h(y) = 0, to 10⁻¹⁵ absolute or relative, whichever is larger.</summary>
    /// <param name="h">Value and slope at y; the value may be ±∞ far away.</param>
    /// <param name="guess">Where to start, inside the bracket.</param>
    /// <param name="low">Below the root; may be −∞.</param>
    /// <param name="high">Above the root; may be +∞.</param>
    /// <exception cref="ArithmeticException">No convergence, or h is not a number.</exception>
    public static double Find(Func<double, (double Value, double Slope)> h, double guess, double low, double high)
    {
        double y = guess, reach = 1.0;
        for (int step = 0; step < MostSteps; step++)
        {
            var (value, slope) = h(y);
            if (double.IsNaN(value))
            {
                break;
            }

            if (value == 0.0)
            {
                return y;
            }

            (low, high) = value < 0.0 ? (y, high) : (low, y);
            double next = y - (value / slope), scale = Math.Max(1.0, Math.Abs(y));
            bool inside = next > low && next < high;
            if (inside && Math.Abs(next - y) <= LastStep * scale)
            {
                return next; // the error left is of the order of this step squared
            }

            if (!inside)
            {
                next = double.IsInfinity(low) ? high - reach : double.IsInfinity(high) ? low + reach : low + (0.5 * (high - low));
                reach *= 2.0;
            }

            if (Math.Abs(next - y) <= Tolerance * scale)
            {
                return next;
            }

            y = next;
        }

        throw new ArithmeticException($"no root found from {guess}");
    }
}

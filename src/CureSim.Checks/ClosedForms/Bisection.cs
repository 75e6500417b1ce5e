namespace CureSim.Checks.ClosedForms;

/// <summary>Root of a monotone function by halving, to the last bits: slow and plain, so that it can be believed at sight.</summary>
internal static class Bisection
{
    /// <summary>The x between two ends at which f changes sign; NaN from f counts as the sign at <paramref name="from"/>.</summary>
    public static double Root(Func<double, double> f, double from, double to)
    {
        bool positive = f(to) > 0.0;
        for (int i = 0; i < 200; i++)
        {
            double middle = 0.5 * (from + to);
            if ((f(middle) > 0.0) == positive)
            {
                to = middle;
            }
            else
            {
                from = middle;
            }
        }

        return 0.5 * (from + to);
    }
}

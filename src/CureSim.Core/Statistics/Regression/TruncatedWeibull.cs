namespace CureSim.Core.Statistics;

/// <summary>Maximum likelihood of a Weibull law from ages that enter late (left-truncated) and may leave before they fail (right-censored).</summary>
/// <param name="Shape">β.</param>
/// <param name="Scale">η, unit of the ages.</param>
/// <param name="ShapeErrorLog">Standard error of ln β.</param>
/// <param name="ScaleErrorLog">Standard error of ln η.</param>
/// <param name="Correlation">Correlation of the two.</param>
/// <param name="Withheld">Why there is no fit; null when there is one.</param>
/// <remarks>
/// An age that was watched from a to t adds −(t/η)^β + (a/η)^β, and ln β − β ln η + (β−1) ln t when it failed. For given β, η^β = Σ(t^β − a^β)/r with r failures;
/// β is the root of r/β + Σ_failed ln t − r·Σ(t^β ln t − a^β ln a)/Σ(t^β − a^β).
/// Source: J. F. Lawless, Statistical Models and Methods for Lifetime Data (2003), sections 2.4 and 5.2 (recalled from memory).
/// Checked against: row SUR-WEI-MLE (no truncation) and SciPy with truncation (tests/data/reference/fit_scipy.py).
/// </remarks>
public sealed record TruncatedWeibull(double Shape, double Scale, double ShapeErrorLog, double ScaleErrorLog, double Correlation, string? Withheld = null)
{
    private const double LeastShape = 0.05, MostShape = 100.0;

    /// <summary>One unit as it was watched.</summary>
    /// <param name="From">Age when watching began, ≥ 0.</param>
    /// <param name="To">Age when it failed or left, above <paramref name="From"/>.</param>
    /// <param name="Failed">True when it failed.</param>
    public readonly record struct Watched(double From, double To, bool Failed);

    /// <summary>Fits the law; two failures at different ages at least.</summary>
    public static TruncatedWeibull Fit(IReadOnlyList<Watched> units)
    {
        ArgumentNullException.ThrowIfNull(units);
        Watched[] failed = [.. units.Where(u => u.Failed)];
        if (failed.Length < 2 || failed.All(f => f.To == failed[0].To))
        {
            return Refuse(FormattableString.Invariant($"{failed.Length} failure{(failed.Length == 1 ? "" : "s")} at different ages; two are needed"));
        }

        double r = failed.Length, logs = failed.Sum(f => Math.Log(f.To)), largest = units.Max(u => u.To);

        // Ages over the largest, so that powers stay finite.
        (double Sum, double Logs) Powers(double b)
        {
            double sum = 0.0, weighted = 0.0;
            foreach (var u in units)
            {
                double t = Math.Pow(u.To / largest, b), a = u.From > 0.0 ? Math.Pow(u.From / largest, b) : 0.0;
                sum += t - a;
                weighted += (t * Math.Log(u.To)) - (a > 0.0 ? a * Math.Log(u.From) : 0.0);
            }

            return (sum, weighted);
        }

        double Slope(double b)
        {
            var (sum, weighted) = Powers(b);
            return (r / b) + logs - (r * weighted / sum);
        }

        double low = LeastShape, high = MostShape;
        if (!(Slope(low) > 0.0) || !(Slope(high) < 0.0))
        {
            return Refuse("the likelihood has no maximum at a shape between 0.05 and 100");
        }

        for (int i = 0; i < 200 && high - low > 1e-14 * high; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Slope(middle) > 0.0 ? (middle, high) : (low, middle);
        }

        double shape = 0.5 * (low + high), scale = largest * Math.Pow(Powers(shape).Sum / r, 1.0 / shape);

        // Observed information in p = ln β, q = ln η. With z = β(ln t − q): failures add p + z; every end of watching adds ∓e^z.
        double pp = 0.0, pq = 0.0, qq = 0.0, b1 = shape;
        void Add(double age, double sign)
        {
            double l = Math.Log(age / scale), e = Math.Exp(b1 * l);
            pp += sign * e * ((b1 * l) + (b1 * l * b1 * l));
            pq += sign * e * (-b1 - (b1 * b1 * l));
            qq += sign * e * b1 * b1;
        }

        foreach (var u in units)
        {
            Add(u.To, 1.0);
            if (u.From > 0.0)
            {
                Add(u.From, -1.0);
            }

            if (u.Failed)
            {
                pp -= b1 * Math.Log(u.To / scale);
                pq += b1;
            }
        }

        double determinant = (pp * qq) - (pq * pq);
        return !(determinant > 0.0) || !(pp > 0.0)
            ? Refuse("the information is not positive at the maximum")
            : new(shape, scale, Math.Sqrt(qq / determinant), Math.Sqrt(pp / determinant), -pq / Math.Sqrt(pp * qq));
    }

    private static TruncatedWeibull Refuse(string reason) => new(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, reason);
}

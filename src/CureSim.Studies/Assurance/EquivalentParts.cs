using CureSim.Core.Statistics;

namespace CureSim.Studies.Assurance;

/// <summary>How many parts, each from a moment of its own in its cell's life, prove as much as the parts taken.</summary>
/// <remarks>
/// Such parts are independent given the cell, so a cell with fraction p passes with I_{1−p}(n − c, c + 1). Sought is the n (not whole) at which the expected number of
/// cells that are not good and pass is the number that did. Derived; with all cells alike and c = 0 it is ln(chance to pass)/ln(1 − p).
/// </remarks>
internal static class EquivalentParts
{
    private const double Most = 1e6;
    private const int LeastSeen = 10;

    /// <summary>The number with the interval that the interval of the chance to pass gives.</summary>
    /// <param name="nonconforming">Fractions of the cells that are not good.</param>
    /// <param name="passIfNotGood">Chance that such a cell passed.</param>
    /// <param name="allowed">Nonconforming parts allowed.</param>
    public static Estimate Of(double[] nonconforming, Estimate passIfNotGood, int allowed)
    {
        if (passIfNotGood is not { Value: { } share, Lower95: { } low, Upper95: { } high } || share * nonconforming.Length < LeastSeen)
        {
            return Estimate.Withhold("fewer than ten cells that are not good passed", nonconforming.Length);
        }

        double Mean(double n)
        {
            double sum = 0.0;
            foreach (double p in nonconforming)
            {
                sum += OperatingCharacteristic.Attribute(n, allowed, p);
            }

            return sum / nonconforming.Length;
        }

        double? Solve(double chance)
        {
            double from = allowed + 1e-6, to = Most;
            if (Mean(to) >= chance)
            {
                return null;
            }

            if (Mean(from) <= chance)
            {
                return allowed;
            }

            for (int i = 0; i < 60; i++)
            {
                double middle = Math.Sqrt(from * to);
                (from, to) = Mean(middle) > chance ? (middle, to) : (from, middle);
            }

            return Math.Sqrt(from * to);
        }

        return Solve(share) is { } n
            ? Estimate.Bounded(n, null, Solve(high), Solve(low), nonconforming.Length)
            : Estimate.Withhold("no number of independent parts lets so many pass", nonconforming.Length);
    }
}

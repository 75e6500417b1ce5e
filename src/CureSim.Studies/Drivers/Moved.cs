using CureSim.Core.Distributions;

namespace CureSim.Studies.Drivers;

/// <summary>A distribution with half its spread, or with its mean moved; the same uniform gives the value that belongs to it in both.</summary>
public static class Moved
{
    /// <summary>mean + (X − mean)/2: inside the support of X, since that is an interval.</summary>
    public static IDistribution Halved(IDistribution x)
    {
        ArgumentNullException.ThrowIfNull(x);
        return x is NormalDistribution n ? new NormalDistribution(n.Mean, n.StandardDeviation / 2.0) : new ScaledDistribution(x, 0.5, x.Mean / 2.0);
    }

    /// <summary>
    /// The mean moved by a number of standard deviations. With an end of the support on the side to which it moves, X comes nearer to that end in proportion;
    /// with one on the other side only, X goes away from that in proportion (so what is positive stays so); without any, X is shifted.
    /// </summary>
    /// <returns>Null when the mean would pass the end.</returns>
    public static IDistribution? ByDeviations(IDistribution x, double deviations)
    {
        ArgumentNullException.ThrowIfNull(x);
        double by = deviations * x.StandardDeviation;
        if (x is NormalDistribution n)
        {
            return new NormalDistribution(n.Mean + by, n.StandardDeviation);
        }

        double toward = by > 0.0 ? x.Maximum : x.Minimum, away = by > 0.0 ? x.Minimum : x.Maximum;
        double end = double.IsFinite(toward) ? toward : away;
        if (!double.IsFinite(end))
        {
            return new ScaledDistribution(x, 1.0, by);
        }

        double factor = (x.Mean + by - end) / (x.Mean - end);
        return factor > 0.0 && double.IsFinite(factor) ? new ScaledDistribution(x, factor, end * (1.0 - factor)) : null;
    }
}

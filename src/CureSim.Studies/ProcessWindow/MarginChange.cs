using CureSim.Core.Random;
using CureSim.Core.Statistics;

namespace CureSim.Studies.ProcessWindow;

/// <summary>How much the smallest margin of one pair of settings changes from one case to another over the same draws.</summary>
/// <remarks>
/// With one world what each batch adds to the error of one margin is set against what it adds to that of the other, so that what both share goes out. With several worlds the margin is the
/// 5th percentile over them: worlds are drawn with replacement, the same for both (percentile bootstrap; B. Efron and R. J. Tibshirani, An Introduction to the Bootstrap, 1993, from memory).
/// </remarks>
internal static class MarginChange
{
    private const int Resamples = 1000;
    private static readonly StreamKey Picks = StreamKey.Of(DrawDomain.Reserved, "window_study.change-bootstrap");

    /// <summary>The change with its 95 % interval, in state index.</summary>
    /// <param name="before">Figures of the first case.</param>
    /// <param name="after">Figures of the second, of as many worlds and lifetimes.</param>
    /// <param name="seed">Key of the bootstrap's draws.</param>
    public static Estimate Of(NodeFigures before, NodeFigures after, ulong seed)
    {
        double change = WindowMap.Unfavourable(after) - WindowMap.Unfavourable(before);
        int worlds = before.Conforming.Value.Length;
        if (worlds == 1)
        {
            double[] a = before.FractionIsNearer ? before.ConformingBatch : before.StateBatch, b = after.FractionIsNearer ? after.ConformingBatch : after.StateBatch;
            return Estimate.Of(change, Math.Sqrt(a.Zip(b, (x, y) => (y - x) * (y - x)).Sum()));
        }

        double[] first = WindowMap.SmallestByWorld(before), second = WindowMap.SmallestByWorld(after);
        double[] x = new double[worlds], y = new double[worlds], found = new double[Resamples];
        for (int r = 0; r < Resamples; r++)
        {
            for (int w = 0; w < worlds; w++)
            {
                int picked = Math.Min(worlds - 1, (int)(worlds * Draw.Uniform(seed, 0, (uint)r, Picks, w)));
                (x[w], y[w]) = (first[picked], second[picked]);
            }

            found[r] = SampleQuantile.Of(y, 0.05) - SampleQuantile.Of(x, 0.05);
        }

        double[] sorted = [.. found.Order()];
        return Estimate.Bounded(
            change, SampleMoments.Of(sorted).StandardDeviation, Math.Min(change, SampleQuantile.OfSorted(sorted, 0.025)), Math.Max(change, SampleQuantile.OfSorted(sorted, 0.975)), worlds);
    }
}

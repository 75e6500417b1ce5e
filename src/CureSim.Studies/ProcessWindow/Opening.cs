using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.ProcessWindow;

/// <summary>What halving one spread does at the best settings.</summary>
/// <param name="Spread">The spread.</param>
/// <param name="Margin">Smallest margin with it halved, at the best exposure time of the same irradiance setting.</param>
/// <param name="Change">Change of the smallest margin over the same draws, with its interval.</param>
/// <param name="Error">Standard error of the margin.</param>
/// <param name="Y">Where that is.</param>
public sealed record SpreadEffect(SpreadHalved Spread, double Margin, Estimate Change, double Error, double Y);

/// <summary>The smallest changes that would open an empty window, or widen one: each spread halved, one at a time, with the draws of the map.</summary>
public static class Opening
{
    /// <summary>Effects at the column of the set-point, the largest first; two spreads that together open it when none alone does.</summary>
    public static (ImmutableArray<SpreadEffect> Alone, (SpreadEffect First, SpreadEffect Second, double Margin)? Two) Of(WindowMap map, MapSize size, int threads, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(map);
        var study = map.Case;
        var column = map.Nodes[map.SetPointColumn];

        // Halving may move the best time: look at every fourth time about it as well.
        double[] ys = [.. new[] { -2, -1, 0, 1, 2 }.Select(k => map.SetPointRow + k).Where(j => j >= 0 && j < column.Length).Select(j => column[j].Y)];
        var spreads = SpreadHalved.In(study.Cell);
        var effects = new SpreadEffect[spreads.Length];
        SpreadEffect Effect(SpreadHalved spread, Func<Scenario, Scenario> change)
        {
            var other = new WindowCase(change(study.Cell), study.X, study.Y, study.IsUsual ? null : (x, y) => change(study.At(x, y)));
            var best = WindowColumn.Only(other, map.X[map.SetPointColumn], ys, size, cancel).MaxBy(WindowMap.Unfavourable)!;
            double margin = WindowMap.Unfavourable(best);
            return new(spread, margin, MarginChange.Of(map.SetPoint, best, study.Cell.Run.Seed), best.Error, best.Y);
        }

        Parallel.For(0, spreads.Length, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i => effects[i] = Effect(spreads[i], spreads[i].Halved));
        SpreadEffect[] sorted = [.. effects.OrderByDescending(e => e.Change.Get())];
        if (sorted.Length < 2 || sorted[0].Margin >= 0.0)
        {
            return ([.. sorted], null);
        }

        var (a, b) = (sorted[0], sorted[1]);
        var both = Effect(a.Spread, s => b.Spread.Halved(a.Spread.Halved(s)));
        return ([.. sorted], (a, b, both.Margin));
    }
}

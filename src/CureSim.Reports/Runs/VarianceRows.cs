using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>One row of the decomposition of the variance of ln dose, in per cent.</summary>
/// <param name="Name">Where the variance comes from.</param>
/// <param name="Percent">Its share; negative when it offsets another.</param>
/// <param name="Lower">Lower end of its 95 % interval; null under 64 lifetimes.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="IsPart">True for the rows that sum to 100 %; false for time, which stands beside them.</param>
internal sealed record VarianceRow(string Name, double Percent, double? Lower, double? Upper, bool IsPart);

/// <summary>The decomposition of a run.</summary>
internal static class VarianceRows
{
    /// <summary>Rows in a fixed order, time last; empty when the dose does not vary. Sources that are not in the model are left out.</summary>
    public static ImmutableArray<VarianceRow> Of(RunAnalysis run)
    {
        var total = run.Result.Total;
        if (!(total.Shares.Variance > 0.0))
        {
            return [];
        }

        var rows = ImmutableArray.CreateBuilder<VarianceRow>();
        foreach (var source in Enum.GetValues<VarianceSource>())
        {
            if (total.Shares.Covariance(source) != 0.0)
            {
                rows.Add(Row(run, Words(source), s => s.Shares.Covariance(source) / s.Shares.Variance, true));
            }
        }

        rows.Add(Row(run, "time (means of time bins)", TimeShare, false));
        return rows.ToImmutable();
    }

    private static VarianceRow Row(RunAnalysis run, string name, Func<CellSummary, double> share, bool isPart)
    {
        var result = run.Result;
        double percent = 100.0 * share(result.Total);
        CellSummary[] units = [.. result.Units.Where(u => u.Lifetimes > 0 && u.Shares.Variance > 0.0)];
        if (units.Length < 2 || (!result.UnitsAreWorlds && result.Total.Lifetimes < MeasureEstimator.LeastLifetimes))
        {
            return new(name, percent, null, null, isPart);
        }

        var spread = BatchEstimate.Of([.. units.Select(u => 100.0 * share(u))], [.. units.Select(u => (double)u.Lifetimes)]);
        double half = (spread.Upper95!.Value - spread.Lower95!.Value) / 2.0;
        return new(name, percent, percent - half, percent + half, isPart);
    }

    /// <summary>Variance of dose between the means of the time bins over its whole variance.</summary>
    private static double TimeShare(CellSummary summary)
    {
        Moments all = default;
        double within = 0.0;
        for (int b = 0; b < summary.Layout.BinCount; b++)
        {
            all.Merge(summary.ByBin[0, b]);
            within += summary.ByBin[0, b].M2;
        }

        return all.M2 > 0.0 ? Math.Max(0.0, 1.0 - (within / all.M2)) : 0.0;
    }

    private static string Words(VarianceSource source) => source switch
    {
        VarianceSource.SourceAsHeld => "source as held",
        VarianceSource.Guide => "guide",
        VarianceSource.Setup => "set-up",
        VarianceSource.Fouling => "fouling",
        VarianceSource.Disturbances => "disturbances",
        VarianceSource.SubstrateLot => "substrate lot",
        _ => "part to part",
    };
}

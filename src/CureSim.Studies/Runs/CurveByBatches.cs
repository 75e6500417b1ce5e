using CureSim.Core.Statistics;

namespace CureSim.Studies.Runs;

/// <summary>Error of a figure of the survival curve when lifetimes share out strata, so that Greenwood's error, which is that of independent ones, is too large.</summary>
/// <remarks>
/// A quantile: the scatter of S at its time between batches takes the place of Greenwood's error there, and the log-log band is narrowed (or widened) by their
/// ratio; an error of S below one lifetime in all cannot show and is not claimed. A mean over the curve: scatter of the batches' own means.
/// </remarks>
internal static class CurveByBatches
{
    private const double Z = 1.9599639845400542;

    public static Estimate Of(Measure measure, RunPiece whole, IReadOnlyList<RunPiece> batches)
    {
        if (measure.CurveAt is not { } at)
        {
            return MeasureEstimator.ByUnits(measure, whole, batches, "batches");
        }

        var curve = FirstCycles.Survival(whole);
        return at(curve) is { } time ? measure.Curve!(curve.WithVariance(Ratio(curve, time, batches))) : measure.Curve!(curve);
    }

    /// <summary>Squared error of S by batches over Greenwood's, with Student's t in place of the normal multiple.</summary>
    private static double Ratio(SurvivalCurve curve, double time, IReadOnlyList<RunPiece> batches)
    {
        if (!(curve.At(time).StandardError is { } greenwood && greenwood > 0.0))
        {
            return 1.0;
        }

        var values = new List<double>();
        var weights = new List<double>();
        foreach (var batch in batches)
        {
            var own = FirstCycles.Survival(batch);
            if (own.Subjects > 0 && (time <= own.LastTime ? own.At(time).Value : own.Steps[^1].Survival) is { } s)
            {
                values.Add(s);
                weights.Add(own.Subjects);
            }
        }

        double error = BatchEstimate.Of(values.ToArray(), weights.ToArray()).StandardError ?? greenwood;
        double multiple = BatchEstimate.Multiple(values.Count) / Z;
        return Square(Math.Max(error, 1.0 / curve.Subjects) * multiple / greenwood);
    }

    private static double Square(double x) => x * x;
}

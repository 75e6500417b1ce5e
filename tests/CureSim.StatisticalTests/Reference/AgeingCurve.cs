using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>Relative output r(h) of one installed emitter: docs/model.md section 2.</summary>
public static class AgeingCurve
{
    /// <summary>The curve with this emitter's parameters; <paramref name="draw"/> gives a parameter's value.</summary>
    public static Func<double, double> Of(AgeingLaw law, Func<Quantity, double> draw)
    {
        switch (law)
        {
            case ExponentialAgeing exponential:
            {
                double tau = draw(exponential.TimeConstant);
                return h => BlockMath.Exp(-h / tau);
            }

            case TwoStageAgeing twoStage:
            {
                double f = draw(twoStage.EarlyPart);
                double early = draw(twoStage.EarlyTime);
                double late = draw(twoStage.LateTime);
                return h => (f * BlockMath.Exp(-h / early)) + ((1 - f) * BlockMath.Exp(-h / late));
            }

            case StretchedAgeing stretched:
            {
                double tau = draw(stretched.TimeConstant);
                double beta = draw(stretched.Shape);
                return h => BlockMath.Exp(-(h <= 0 ? 0 : BlockMath.Pow(h / tau, beta)));
            }

            case TableAgeing table:
            {
                double scale = draw(table.HoursScale);
                return h => MonotoneTable.At(table.BurnSeconds, table.Output, h / scale);
            }

            default:
                throw new NotSupportedException($"No ageing law {law.GetType().Name}.");
        }
    }
}

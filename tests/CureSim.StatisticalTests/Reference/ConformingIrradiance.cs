using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>The logarithms of the irradiances (W/m²) between which a bond conforms, for a given exposure time and cure rate.</summary>
/// <param name="LogLower">ln of the least.</param>
/// <param name="LogUpper">ln of the largest.</param>
/// <param name="Regime">Which responses bind; the ends are smooth functions of time and cure rate while it stays the same.</param>
internal readonly record struct ConformingIrradiance(double LogLower, double LogUpper, int Regime)
{
    /// <summary>By all limits; those on the degree of cure only when asked for.</summary>
    public static ConformingIrradiance Of(ReferenceState state, double seconds, bool cure, double ratePart)
    {
        var (lower, lowerBy) = (double.NegativeInfinity, 0);
        var (upper, upperBy) = (double.PositiveInfinity, 0);
        foreach (var limits in state.Limits.Where(l => cure || l.Response != Response.DegreeOfCure))
        {
            var (from, to) = limits.Response switch
            {
                Response.Irradiance => (LogOr(limits.Lower, double.NegativeInfinity), LogOr(limits.Upper, double.PositiveInfinity)),
                Response.Dose => (
                    LogOr(limits.Lower / seconds, double.NegativeInfinity), LogOr(limits.Upper / seconds, double.PositiveInfinity)),
                _ => ByCure(state, limits, seconds, ratePart),
            };
            int by = 1 + (int)limits.Response;
            (lower, lowerBy) = from > lower ? (from, by) : (lower, lowerBy);
            (upper, upperBy) = to < upper ? (to, by) : (upper, upperBy);
        }

        return new(lower, upper, lower < upper ? (10 * lowerBy) + upperBy : -1);
    }

    private static double LogOr(double? limit, double none) => limit is > 0 ? Math.Log(limit.Value) : none;

    // The degree of cure never falls with irradiance.
    private static (double Lower, double Upper) ByCure(ReferenceState state, SpecificationLimits limits, double seconds, double ratePart)
    {
        return (
            limits.Lower is { } lower ? Least(x => x >= lower) : double.NegativeInfinity,
            limits.Upper is { } upper ? Least(x => x > upper) : double.PositiveInfinity);

        // ln of the least irradiance whose cure passes; +∞ when none does. e^±46 W/m² is beyond anything that is lit.
        double Least(Func<double, bool> passes)
        {
            bool At(double logE) => passes(state.DegreeOfCure(BlockMath.Exp(logE), seconds, ratePart));
            double low = -46, high = 46;
            if (!At(high))
            {
                return double.PositiveInfinity;
            }

            if (At(low))
            {
                return double.NegativeInfinity;
            }

            for (double middle = 0; middle > low && middle < high; middle = 0.5 * (low + high))
            {
                (low, high) = At(middle) ? (low, middle) : (middle, high);
            }

            return high;
        }
    }
}

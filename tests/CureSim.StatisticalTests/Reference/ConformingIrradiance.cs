using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>The logarithms of the irradiances between which a bond conforms, for a given exposure time and cure rate.</summary>
internal readonly record struct ConformingIrradiance(double LogLower, double LogUpper)
{
    /// <summary>All irradiances conform.</summary>
    public static ConformingIrradiance All { get; } = new(double.NegativeInfinity, double.PositiveInfinity);

    /// <summary>Common to two sets of limits.</summary>
    public ConformingIrradiance And(ConformingIrradiance other) =>
        new(Math.Max(LogLower, other.LogLower), Math.Min(LogUpper, other.LogUpper));

    /// <summary>By the limits on irradiance and dose.</summary>
    public static ConformingIrradiance ByDose(ReferenceState state, double seconds)
    {
        var range = All;
        foreach (var limits in state.Limits.Where(l => l.Response != Response.DegreeOfCure))
        {
            double shift = limits.Response == Response.Dose ? Math.Log(seconds) : 0;
            range = range.And(new(
                limits.Lower is > 0 ? Math.Log(limits.Lower.Value) - shift : double.NegativeInfinity,
                limits.Upper is { } upper ? Math.Log(upper) - shift : double.PositiveInfinity));
        }

        return range;
    }

    /// <summary>By the limits on the degree of cure, which never falls with irradiance.</summary>
    public static ConformingIrradiance ByCure(ReferenceState state, double seconds, double ratePart)
    {
        var range = All;
        foreach (var limits in state.Limits.Where(l => l.Response == Response.DegreeOfCure))
        {
            range = range.And(new(
                limits.Lower is { } lower ? Least(x => x >= lower) : double.NegativeInfinity,
                limits.Upper is { } upper ? Least(x => x > upper) : double.PositiveInfinity));
        }

        return range;

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

            while (high - low > 1e-14 * Math.Max(1, Math.Abs(high)) && 0.5 * (low + high) is var middle && middle > low && middle < high)
            {
                (low, high) = At(middle) ? (low, middle) : (middle, high);
            }

            return high;
        }
    }
}

using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Model.Loop;

/// <summary>The drive of an emitter: a ratio of full drive on a grid, between its lowest value and 1.</summary>
/// <remarks>u = nearest multiple of the step (halves to the even multiple), held in [u_min, 1]; full drive is always a grid point, whether or not the step divides it; step 0 is continuous. Source: common practice, no source.</remarks>
public sealed class DriveModel(double step, double minimum)
{
    /// <summary>A loop is saturated when the drive it needs is above 1 by more than this (rounding of a set-point made at full drive).</summary>
    public const double SaturationMargin = 1e-12;

    /// <summary>Grid step, ratio.</summary>
    public double Step => step;

    /// <summary>Drive for a wanted value.</summary>
    public double Grid(double wanted)
    {
        double u = step > 0.0 ? Math.Round(wanted / step, MidpointRounding.ToEven) * step : wanted;
        return wanted >= 1.0 ? 1.0 : Math.Min(1.0, Math.Max(minimum, u));
    }

    /// <summary>Vector form, bit-equal.</summary>
    public Vector512<double> Grid(Vector512<double> wanted)
    {
        var u = step > 0.0 ? Vector512.Round(wanted / Vector512.Create(step), MidpointRounding.ToEven) * Vector512.Create(step) : wanted;
        var held = Vector512.Min(Vector512<double>.One, Vector512.Max(Vector512.Create(minimum), u));
        return Vector512.ConditionalSelect(Vector512.GreaterThanOrEqual(wanted, Vector512<double>.One), Vector512<double>.One, held);
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>Part-level quantities that the bonds of one part have in common, as weighted nodes: exposure time and ripple of a shared emitter.</summary>
/// <param name="Weight">Weight; all sum to one.</param>
/// <param name="Time">Exposure time, s, by node.</param>
/// <param name="LogTime">Its logarithm.</param>
/// <param name="Shift">ln of what multiplies the irradiance of every bond, relative to nominal.</param>
public sealed record SharedNodes(double[] Weight, double[] Time, double[] LogTime, double[] Shift)
{
    /// <summary>Nodes for a scenario; what is folded into the bonds' own factors stays at its mean here.</summary>
    public static SharedNodes For(Scenario scenario, WorldValues world, double ownSpread, bool ownRipple, bool ownTime)
    {
        var exposure = scenario.Exposure;
        double set = exposure.SettingSeconds + world.Fixed(exposure.Offset), factor = world.Factor(exposure.Error);
        double mean = set + (exposure.Error.Varies.Mean * factor);
        double timeEffect = exposure.Error.Varies.StandardDeviation * factor / mean;
        var ripple = scenario.Loop.Ripple;
        double rippleFactor = world.Factor(ripple), rippleMean = ripple.Varies.Mean * rippleFactor;
        double rippleEffect = ripple.Varies.StandardDeviation * rippleFactor;

        var times = ownTime
            ? Quadrature.Point(mean)
            : Shifted(Quadrature.Of(exposure.Error.Varies, factor, timeEffect, Math.Max(ownSpread, ownRipple ? 0.0 : rippleEffect)), set);
        var ripples = ownRipple
            ? Quadrature.Point(0.0)
            : Shifted(Quadrature.Of(ripple.Varies, rippleFactor, rippleEffect, ownSpread), -rippleMean);

        int n = times.Values.Length * ripples.Values.Length;
        var nodes = new SharedNodes(new double[n], new double[n], new double[n], new double[n]);
        int at = 0;
        for (int i = 0; i < times.Values.Length; i++)
        {
            double t = Math.Max(1e-6, times.Values[i]), log = BlockMath.Log(t);
            for (int j = 0; j < ripples.Values.Length; j++)
            {
                nodes.Weight[at] = times.Weights[i] * ripples.Weights[j];
                nodes.Time[at] = t;
                nodes.LogTime[at] = log;
                nodes.Shift[at++] = ripples.Values[j];
            }
        }

        return nodes;
    }

    private static Quadrature Shifted(Quadrature nodes, double by) => new([.. nodes.Values.Select(v => v + by)], nodes.Weights);
}

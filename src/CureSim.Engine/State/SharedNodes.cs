using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>Part-level quantities that the bonds of one part have in common, as weighted nodes: exposure time and ripple of a shared emitter.</summary>
/// <param name="Weight">Weight; all sum to one.</param>
/// <param name="LogTime">ln exposure time (ln s) by node.</param>
/// <param name="Shift">ln of what multiplies the irradiance of every bond, relative to nominal.</param>
public sealed record SharedNodes(double[] Weight, double[] LogTime, double[] Shift)
{
    /// <summary>Nodes for a scenario; what is folded into the bonds' own factors stays at its mean here.</summary>
    /// <param name="scenario">The cell.</param>
    /// <param name="world">Its world.</param>
    /// <param name="ownSpread">Standard deviation of a bond's own log factors.</param>
    /// <param name="ownRipple">Ripple is a bond's own.</param>
    /// <param name="ownTime">Exposure time is a bond's own.</param>
    /// <param name="doseOnly">Only the dose is limited, so that time and ripple act through their product alone.</param>
    public static SharedNodes For(Scenario scenario, WorldValues world, double ownSpread, bool ownRipple, bool ownTime, bool doseOnly)
    {
        var exposure = scenario.Exposure;
        double set = exposure.SettingSeconds + world.Fixed(exposure.Offset), factor = world.Factor(exposure.Error);
        double mean = Math.Max(1e-6, set + (exposure.Error.Varies.Mean * factor)), logMean = BlockMath.Log(mean);
        double timeEffect = ownTime ? 0.0 : exposure.Error.Varies.StandardDeviation * factor / mean;
        var ripple = scenario.Loop.Ripple;
        double rippleFactor = world.Factor(ripple), rippleMean = ripple.Varies.Mean * rippleFactor;
        double rippleEffect = ownRipple ? 0.0 : ripple.Varies.StandardDeviation * rippleFactor;
        if (doseOnly && timeEffect > 0.0 && rippleEffect > 0.0)
        {
            double effect = Math.Sqrt((timeEffect * timeEffect) + (rippleEffect * rippleEffect)), step = effect / 60.0;
            var sum = GridMasses.Image(step, exposure.Error.Varies, factor, x => BlockMath.Log(Math.Max(1e-6, set + x)) - logMean)
                .Plus(GridMasses.Image(step, ripple.Varies, rippleFactor, x => x - rippleMean));
            var both = Quadrature.Of(sum, effect, ownSpread);
            int count = both.Values.Length;
            return new(both.Weights, [.. Enumerable.Repeat(logMean, count)], both.Values);
        }

        var times = timeEffect > 0.0
            ? Quadrature.Of(exposure.Error.Varies, factor, timeEffect, Math.Max(ownSpread, rippleEffect))
            : Quadrature.Point(mean - set);
        var ripples = rippleEffect > 0.0 ? Quadrature.Of(ripple.Varies, rippleFactor, rippleEffect, ownSpread) : Quadrature.Point(rippleMean);
        int n = times.Values.Length * ripples.Values.Length;
        var nodes = new SharedNodes(new double[n], new double[n], new double[n]);
        int at = 0;
        for (int i = 0; i < times.Values.Length; i++)
        {
            double log = BlockMath.Log(Math.Max(1e-6, set + times.Values[i]));
            for (int j = 0; j < ripples.Values.Length; j++)
            {
                nodes.Weight[at] = times.Weights[i] * ripples.Weights[j];
                nodes.LogTime[at] = log;
                nodes.Shift[at++] = ripples.Values[j] - rippleMean;
            }
        }

        return nodes;
    }
}

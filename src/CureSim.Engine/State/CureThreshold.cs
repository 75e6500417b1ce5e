using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>ln of the irradiance (W/m²) at which the degree of cure reaches a limit, as a function of ln rate and exposure time.</summary>
/// <remarks>
/// Closed form without induction dose. With it k·E^p·(t − H/E) = k·t^(1 − p)·D^p·(1 − H/D) in the dose D = E·t, so ln D is one function of ln k + (1 − p)·ln t: a monotone cubic through
/// 65 exact roots, which serves every exposure time.
/// </remarks>
public sealed class CureThreshold
{
    private const int Points = 65;
    private const double Step = 0.1;
    private readonly double offset;
    private readonly double perLog;
    private readonly double timePower;
    private readonly EvenMonotoneCubic? logDose;
    private readonly double always;

    /// <summary>Threshold for <paramref name="degree"/> in one world.</summary>
    /// <param name="degree">Limit on the degree of cure.</param>
    /// <param name="cure">Model of the cure.</param>
    /// <param name="world">World.</param>
    /// <param name="logTime">ln of the nominal exposure time (ln s), about which the roots are placed.</param>
    public CureThreshold(double degree, Cure cure, WorldValues world, double logTime)
    {
        double exponent = world.Fixed(cure.Exponent), induction = world.Fixed(cure.InductionDose);
        perLog = 1.0 / exponent;
        timePower = 1.0 - exponent;
        always = degree <= 0.0 ? double.NegativeInfinity : degree >= cure.Maximum ? double.PositiveInfinity : double.NaN;
        if (!double.IsNaN(always))
        {
            return;
        }

        double need = -BlockMath.Log(1.0 - (degree / cure.Maximum));
        offset = BlockMath.Log(CureModel.ReferenceIrradiance) + (BlockMath.Log(need) * perLog);
        if (induction > 0.0)
        {
            double middle = BlockMath.Log(cure.RateLot.Varies.Quantile(0.5) * world.Factor(cure.RateLot)) + (timePower * logTime);
            double first = middle - (0.5 * Step * (Points - 1));
            logDose = new(first, Step, [.. Enumerable.Range(0, Points).Select(i =>
                CureModel.LogIrradianceFor(degree, cure.Maximum, BlockMath.Exp(first + (Step * i)), exponent, induction, 1.0))]);
        }
    }

    /// <summary>True for a degree that irradiance decides: above 0 and within reach.</summary>
    public bool IsOpen => double.IsNaN(always);

    /// <summary>True when ln irradiance is a straight line in ln rate and ln time: no induction dose.</summary>
    public bool IsLine => IsOpen && logDose is null;

    /// <summary>ln irradiance for a bond's rate (ln of 1/s) at the logarithm of an exposure time (ln s).</summary>
    public double At(double logRate, double logTime) =>
        !IsOpen ? always
        : logDose is null ? offset - ((logRate + logTime) * perLog)
        : logDose.At(logRate + (timePower * logTime)) - logTime;

    /// <summary>The same for eight rates, of an open threshold.</summary>
    public Vector512<double> At(Vector512<double> logRate, double logTime) => logDose is null
        ? Vector512.Create(offset) - ((logRate + Vector512.Create(logTime)) * Vector512.Create(perLog))
        : logDose.At(logRate + Vector512.Create(timePower * logTime)) - Vector512.Create(logTime);
}

using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;
using CureSim.Engine.Plan;

namespace CureSim.Engine.State;

/// <summary>ln of the irradiance (W/m²) at which the degree of cure reaches a limit, as a function of ln rate and exposure time.</summary>
/// <remarks>Closed form without induction dose; with it, a monotone cubic through 65 exact roots over ln rate, for each exposure time.</remarks>
public sealed class CureThreshold
{
    private readonly double offset;
    private readonly double perLog;
    private readonly Dictionary<double, MonotoneCubic>? tables;
    private readonly double always;

    /// <summary>Threshold for <paramref name="degree"/> in one world, at the given exposure times.</summary>
    public CureThreshold(double degree, Cure cure, WorldValues world, IEnumerable<double> times)
    {
        double exponent = world.Fixed(cure.Exponent), induction = world.Fixed(cure.InductionDose);
        perLog = 1.0 / exponent;
        always = degree <= 0.0 ? double.NegativeInfinity : degree >= cure.Maximum ? double.PositiveInfinity : double.NaN;
        if (!double.IsNaN(always))
        {
            return;
        }

        double need = -BlockMath.Log(1.0 - (degree / cure.Maximum));
        offset = BlockMath.Log(CureModel.ReferenceIrradiance) + (BlockMath.Log(need) * perLog);
        if (induction > 0.0)
        {
            double middle = BlockMath.Log(cure.RateLot.Varies.Quantile(0.5) * world.Factor(cure.RateLot));
            tables = [];
            foreach (double time in times.Distinct())
            {
                var x = new double[65];
                var y = new double[65];
                for (int i = 0; i < x.Length; i++)
                {
                    x[i] = middle - 3.2 + (0.1 * i);
                    y[i] = CureModel.LogIrradianceFor(degree, cure.Maximum, BlockMath.Exp(x[i]), exponent, induction, time);
                }

                tables[time] = new MonotoneCubic(x, y);
            }
        }
    }

    /// <summary>True when ln irradiance is a straight line in ln rate and ln time: without induction dose, for a degree that can be reached.</summary>
    public bool IsLine => double.IsNaN(always) && tables is null;

    /// <summary>The same for eight rates; only of a straight line.</summary>
    public Vector512<double> At(Vector512<double> logRate, double logTime) =>
        Vector512.Create(offset) - ((logRate + Vector512.Create(logTime)) * Vector512.Create(perLog));

    /// <summary>ln irradiance for a bond's rate (ln of 1/s) at an exposure time (s, and its logarithm).</summary>
    public double At(double logRate, double time, double logTime) =>
        !double.IsNaN(always) ? always
        : tables is null ? offset - ((logRate + logTime) * perLog)
        : tables[time].At(logRate);
}

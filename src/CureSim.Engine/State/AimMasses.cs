using CureSim.Core.Distributions;
using CureSim.Core.Model.Geometry;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>Masses of the log factor of a part's aim, relative to the beam at the state's own offset.</summary>
public static class AimMasses
{
    private const int Intervals = 4096;

    /// <summary>
    /// Aim deviations normal about 0 with standard deviation <paramref name="sigma"/> per axis, about an offset: the distance from the axis is Rice distributed.
    /// </summary>
    /// <remarks>Density ρ/σ²·exp(−(ρ − o)²/2σ²)·I₀e(ρo/σ²), integrated by Simpson's rule over 4,096 intervals. Source: Rice, Bell Syst. Tech. J. 24 (1945) 46, eq. 3.10-11.</remarks>
    public static GridMasses Isotropic(double step, BeamModel beam, double offset, double sigma)
    {
        double nominal = beam.Log(offset);
        double low = Math.Max(0.0, offset - (8.8 * sigma)), high = offset + (8.8 * sigma);
        double width = (high - low) / Intervals;
        double Density(double rho)
        {
            double z = (rho - offset) / sigma;
            return rho / (sigma * sigma) * BlockMath.Exp(-0.5 * z * z) * ScaledBesselI0(rho * offset / (sigma * sigma));
        }

        var pieces = new List<(double, double, double)>(Intervals);
        double total = 0.0, before = Density(low), beforeLog = beam.Log(low) - nominal;
        for (int i = 1; i <= Intervals; i++)
        {
            double rho = low + (i * width), at = Density(rho), log = beam.Log(rho) - nominal;
            double mass = width / 6.0 * (before + (4.0 * Density(rho - (0.5 * width))) + at);
            pieces.Add((log, beforeLog, mass));
            total += mass;
            (before, beforeLog) = (at, log);
        }

        for (int i = 0; i < pieces.Count; i++)
        {
            pieces[i] = (pieces[i].Item1, pieces[i].Item2, pieces[i].Item3 / total);
        }

        return GridMasses.Collect(step, pieces);
    }

    /// <summary>Aim deviations of any shape, x and y alike and independent, without a varying offset.</summary>
    public static GridMasses ByAxis(double step, BeamModel beam, IDistribution axis, double factor)
    {
        const int Cells = 700;
        const double Reach = 8.5;
        double nominal = beam.Log(0.0);
        var square = new double[Cells];
        var mass = new double[Cells];
        for (int i = 0; i < Cells; i++)
        {
            double from = -Reach + (i * (2.0 * Reach / Cells)), to = from + (2.0 * Reach / Cells);
            mass[i] = from >= 0.0 ? BlockMath.NormalCdf(-from) - BlockMath.NormalCdf(-to) : BlockMath.NormalCdf(to) - BlockMath.NormalCdf(from);
            double x = factor * axis.QuantileOfScore(0.5 * (from + to));
            square[i] = x * x;
        }

        var pieces = new List<(double, double, double)>(Cells * Cells);
        for (int i = 0; i < Cells; i++)
        {
            for (int j = 0; j < Cells; j++)
            {
                double log = beam.LogOfSquare(square[i] + square[j]) - nominal;
                pieces.Add((log, log, mass[i] * mass[j]));
            }
        }

        return GridMasses.Collect(step, pieces);
    }

    /// <summary>e^(−x)·I₀(x), x ≥ 0, within 2×10⁻⁷ of itself (Abramowitz and Stegun 9.8.1 and 9.8.2), which is far inside what a mass needs.</summary>
    internal static double ScaledBesselI0(double x)
    {
        if (x < 3.75)
        {
            double t = x / 3.75 * (x / 3.75);
            return BlockMath.Exp(-x) * (1.0 + (t * (3.5156229 + (t * (3.0899424 + (t * (1.2067492 + (t * (0.2659732 + (t * (0.0360768 + (t * 0.0045813))))))))))));
        }

        double q = 3.75 / x;
        return (0.39894228 + (q * (0.01328592 + (q * (0.00225319 + (q * (-0.00157565 + (q * (0.00916281
            + (q * (-0.02057706 + (q * (0.02635537 + (q * (-0.01647633 + (q * 0.00392377)))))))))))))))) / Math.Sqrt(x);
    }
}

using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Model.Bond;

/// <summary>Degree of cure X = Xmax·(1 − exp(−k·(E/E₁)^p·max(0, t − H_ind/E))), E₁ = 1 W/cm².</summary>
/// <remarks>
/// k rate (1/s at E₁), E irradiance at the bond (W/m²), p exponent (0.5 bimolecular termination, 1 reciprocity), t exposure time (s),
/// H_ind dose spent on oxygen (J/m²). Valid inside the irradiance range in which the user fitted k and p; no dark cure, no heat.
/// Source: Odian, Principles of Polymerization, rate ∝ √(absorbed light) (recalled from memory); I^p·t as Schwarzschild's law, Martin, Chin and
/// Nguyen, Prog. Org. Coat. 47 (2003) 292. Checked against (k 0.8, p 0.5): 1 W/cm² for 3 s gives 0.909282 (recomputed).
/// </remarks>
public static class CureModel
{
    /// <summary>E₁ in W/m².</summary>
    public const double ReferenceIrradiance = 1e4;

    /// <summary>Degree of cure, 0 … Xmax.</summary>
    public static double Degree(double maximum, double rate, double exponent, double inductionDose, double irradiance, double time)
    {
        double power = BlockMath.Exp(exponent * BlockMath.Log(irradiance * (1.0 / ReferenceIrradiance)));
        double effective = Math.Max(0.0, time - (inductionDose / irradiance));
        return maximum * (1.0 - BlockMath.Exp(-(rate * power * effective)));
    }

    /// <summary>Block form, bit-equal. Writes the degree of cure into <paramref name="degree"/>, which holds the rate (1/s) on entry.</summary>
    [MethodImpl(Kernel.Options)]
    public static void Degree(double maximum, double exponent, double inductionDose, ReadOnlySpan<double> irradiance, ReadOnlySpan<double> time, Span<double> degree)
    {
        var e = Lanes.AsVectors(irradiance);
        var t = Lanes.AsVectors(time);
        var x = Lanes.AsVectors(degree);
        var (p, h, top, scale) = (Vector512.Create(exponent), Vector512.Create(inductionDose), Vector512.Create(maximum), Vector512.Create(1.0 / ReferenceIrradiance));
        for (int i = 0; i < x.Length; i++)
        {
            var power = BlockMath.Exp(p * BlockMath.Log(e[i] * scale));
            var effective = Vector512.Max(Vector512<double>.Zero, t[i] - (h / e[i]));
            x[i] = x[i] * power * effective;
        }

        for (int i = 0; i < x.Length; i++)
        {
            x[i] = top * (Vector512<double>.One - BlockMath.Exp(-x[i]));
        }
    }

    /// <summary>
    /// ln of the lowest irradiance (W/m²) at which the degree of cure reaches <paramref name="degree"/>; +∞ when none does.
    /// </summary>
    public static double LogIrradianceFor(double degree, double maximum, double rate, double exponent, double inductionDose, double time)
    {
        if (degree <= 0.0)
        {
            return double.NegativeInfinity;
        }

        if (degree >= maximum)
        {
            return double.PositiveInfinity;
        }

        // −ln(1 − X/Xmax) = k·(E/E₁)^p·(t − H/E), rising in E.
        double need = -BlockMath.Log(1.0 - (degree / maximum));
        double start = BlockMath.Log(ReferenceIrradiance) + (BlockMath.Log(need / (rate * time)) / exponent);
        if (inductionDose <= 0.0)
        {
            return start;
        }

        // With induction the root lies above `start`: ln need = ln k + p·y + ln(t − H·e^(−y)) has one root, found by bisection.
        double pole = BlockMath.Log(inductionDose / time);
        double low = Math.Max(start, pole), high = Math.Max(start, pole) + 1.0;
        double Excess(double y) => (rate * BlockMath.Exp(exponent * (y - BlockMath.Log(ReferenceIrradiance))) * Math.Max(0.0, time - (inductionDose * BlockMath.Exp(-y)))) - need;
        while (Excess(high) < 0.0)
        {
            high += 1.0;
        }

        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            if (Excess(middle) < 0.0)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return 0.5 * (low + high);
    }
}

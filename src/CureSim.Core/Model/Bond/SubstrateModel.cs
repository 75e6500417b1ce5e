using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Core.Model.Bond;

/// <summary>Transmission of the part between tip and bond: S = (1−R)²·e^(−αx)/(1 − R²·e^(−2αx)).</summary>
/// <remarks>
/// R reflectance of one face (ratio), α absorption (1/m), x thickness (m); multiple reflections between the two faces included, incoherent.
/// Valid: plane slab, normal incidence, one absorption for the whole band. Source: sum of the geometric series of internal reflections,
/// e.g. Born and Wolf, Principles of Optics, 7th ed., ch. 14 (recalled from memory). Checked against the worked value 0.618211 (R 0.04, α 0.2/mm, x 2 mm; recomputed).
/// </remarks>
public static class SubstrateModel
{
    /// <summary>Transmission, ratio.</summary>
    public static double Transmission(double reflectance, double absorption, double thickness)
    {
        double passed = BlockMath.Exp(-(absorption * thickness));
        double square = (1.0 - reflectance) * (1.0 - reflectance);
        return square * passed / (1.0 - (reflectance * reflectance * (passed * passed)));
    }

    /// <summary>Block form, bit-equal: thickness (m) is replaced by the transmission.</summary>
    [MethodImpl(Kernel.Options)]
    public static void Transmission(double reflectance, ReadOnlySpan<double> absorption, Span<double> thickness)
    {
        var x = Lanes.AsVectors(thickness);
        var alpha = Lanes.AsVectors(absorption);
        var square = Vector512.Create((1.0 - reflectance) * (1.0 - reflectance));
        var r2 = Vector512.Create(reflectance * reflectance);
        for (int i = 0; i < x.Length; i++)
        {
            var passed = BlockMath.Exp(-(alpha[i] * x[i]));
            x[i] = square * passed / (Vector512<double>.One - (r2 * (passed * passed)));
        }
    }
}

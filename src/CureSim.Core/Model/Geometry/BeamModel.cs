using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.Core.Model.Geometry;

/// <summary>ln of the irradiance off the beam's axis relative to the axis: −2·((ρ + b)/w)^m, or 0 for a flat beam.</summary>
/// <remarks>
/// ρ distance of the bond's centre from the axis, b the bond's radius when it is judged at its worst point (else 0), w the 1/e² radius, m the order
/// (2 Gaussian, more is flatter). Lengths in m. Valid: symmetric beam, bond small against its structure.
/// Source: definition of the 1/e² radius, ISO 11146-1; super-Gaussian form common practice, no source.
/// </remarks>
public sealed class BeamModel
{
    /// <summary>Darker than e^−60 of the axis is dark: the logarithm is held there, so that a bond far outside the beam is a small number and not zero.</summary>
    public const double Darkest = -60.0;

    private readonly double edge;
    private readonly double radius;
    private readonly double order;

    /// <summary>Prepares a profile for bonds of radius <paramref name="bondRadius"/> (m) judged at the worst point or at the centre.</summary>
    public BeamModel(BeamProfile profile, double bondRadius, bool judgeAtWorstPoint)
    {
        edge = judgeAtWorstPoint ? bondRadius : 0.0;
        switch (profile)
        {
            case FlatBeam:
                IsFlat = true;
                break;
            case GaussianBeam beam:
                (radius, order) = (beam.RadiusMetres, beam.Order);
                break;
            default:
                throw new ArgumentException($"beam profile {profile.GetType().Name} is not known", nameof(profile));
        }
    }

    /// <summary>True when aim does not matter.</summary>
    public bool IsFlat { get; }

    /// <summary>True when ln of the profile is −2(ρ/w)² with no edge: the squared distance is all that is needed.</summary>
    public bool IsGaussianAtCentre => !IsFlat && order == 2.0 && edge == 0.0;

    /// <summary>ln relative irradiance at distance ρ (m).</summary>
    public double Log(double rho) => LogOfSquare(rho * rho);

    /// <summary>ln relative irradiance for ρ² (m²).</summary>
    public double LogOfSquare(double rhoSquared)
    {
        if (IsFlat)
        {
            return 0.0;
        }

        if (IsGaussianAtCentre)
        {
            return Math.Max(Darkest, rhoSquared * (-2.0 / (radius * radius)));
        }

        double x = (Math.Sqrt(rhoSquared) + edge) / radius;
        return Math.Max(Darkest, order == 2.0 ? -2.0 * (x * x) : x > 0.0 ? -2.0 * BlockMath.Pow(x, order) : 0.0);
    }

    /// <summary>Block form, bit-equal: ρ² (m²) is replaced by the logarithm.</summary>
    [MethodImpl(Kernel.Options)]
    public void LogOfSquare(Span<double> rhoSquared)
    {
        var v = Lanes.AsVectors(rhoSquared);
        var darkest = Vector512.Create(Darkest);
        if (IsGaussianAtCentre)
        {
            var scale = Vector512.Create(-2.0 / (radius * radius));
            for (int i = 0; i < v.Length; i++)
            {
                v[i] = Vector512.Max(darkest, v[i] * scale);
            }
        }
        else if (!IsFlat && order == 2.0)
        {
            var (e, w, minusTwo) = (Vector512.Create(edge), Vector512.Create(radius), Vector512.Create(-2.0));
            for (int i = 0; i < v.Length; i++)
            {
                var x = (Vector512.Sqrt(v[i]) + e) / w;
                v[i] = Vector512.Max(darkest, minusTwo * (x * x));
            }
        }
        else
        {
            for (int i = 0; i < rhoSquared.Length; i++)
            {
                rhoSquared[i] = LogOfSquare(rhoSquared[i]);
            }
        }
    }
}

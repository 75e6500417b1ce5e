using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>From the tip to the bond: docs/model.md section 2, factors G and S and the responses. Pure functions, SI.</summary>
public static class BondEquations
{
    /// <summary>Least working distance, m.</summary>
    public const double LeastDistanceMetres = 1e-6;

    /// <summary>Least exposure time, s.</summary>
    public const double LeastExposureSeconds = 1e-6;

    /// <summary>spread(d)/spread(d_ref).</summary>
    public static double Spread(Fixture fixture, double distance) =>
        SpreadAt(fixture.Spread, distance) / SpreadAt(fixture.Spread, fixture.ReferenceDistanceMetres);

    /// <summary>Profile of the beam at the place where a bond is judged whose centre lies <paramref name="offset"/> m off the axis.</summary>
    public static double Beam(Fixture fixture, double offset)
    {
        if (fixture.Beam is not GaussianBeam beam)
        {
            return 1.0;
        }

        double rho = offset + (fixture.JudgeAtWorstPoint ? fixture.BondRadiusMetres : 0.0);
        return rho <= 0 ? 1.0 : BlockMath.Exp(-2 * BlockMath.Pow(rho / beam.RadiusMetres, beam.Order));
    }

    /// <summary>cos(tilt).</summary>
    public static double Tilt(double radians) => BlockMath.SinCos2Pi(radians / (2 * Math.PI)).Cos;

    /// <summary>S = (1−R)²·e^(−αx)/(1 − R²·e^(−2αx)); 1 for an open bond.</summary>
    public static double Substrate(Substrate? substrate, double absorption, double thickness)
    {
        if (substrate is null)
        {
            return 1.0;
        }

        double r = substrate.Reflectance;
        double through = BlockMath.Exp(-absorption * thickness);
        return (1 - r) * (1 - r) * through / (1 - (r * r * through * through));
    }

    /// <summary>X = Xmax·(1 − exp(−k·(E/1 W cm⁻²)^p·max(0, t − H_ind/E))).</summary>
    public static double DegreeOfCure(double maximum, double rate, double exponent, double induction, double irradiance, double seconds)
    {
        double effective = seconds - (induction / irradiance);
        return effective <= 0
            ? 0
            : maximum * (1 - BlockMath.Exp(-rate * BlockMath.Pow(irradiance / 1e4, exponent) * effective));
    }

    /// <summary>True when the value lies inside the limits; on a limit is inside.</summary>
    public static bool Inside(SpecificationLimits limits, double value) =>
        !(value < limits.Lower) && !(value > limits.Upper) && !double.IsNaN(value);

    private static double SpreadAt(SpreadLaw law, double d)
    {
        switch (law)
        {
            case NoSpread:
                return 1.0;

            case ConeMeanSpread cone:
            {
                double spot = cone.FaceRadiusMetres + (d * Math.Tan(cone.HalfAngleRadians));
                return cone.FaceRadiusMetres / spot * (cone.FaceRadiusMetres / spot);
            }

            case ConeAxisSpread axis:
            {
                double a = axis.FaceRadiusMetres;
                double sine = Math.Sin(axis.HalfAngleRadians);
                return d <= a / Math.Tan(axis.HalfAngleRadians) ? 1.0 : a * a / ((a * a) + (d * d)) / (sine * sine);
            }

            case InverseSquareSpread inverse:
                return 1 / ((d + inverse.VirtualDistanceMetres) * (d + inverse.VirtualDistanceMetres));

            case FocusedSpread focused:
            {
                double z = (d - focused.FocusMetres) / focused.RangeMetres;
                return 1 / (1 + (z * z));
            }

            case TableSpread table:
                return MonotoneTable.At(table.DistanceMetres, table.Relative, d);

            default:
                throw new NotSupportedException($"No spread {law.GetType().Name}.");
        }
    }
}

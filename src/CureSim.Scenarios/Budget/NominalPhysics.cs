using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>The scalar equations of the light budget, at mean values.</summary>
internal static class NominalPhysics
{
    /// <summary>Fall-off with distance, relative to the reference distance (both m).</summary>
    public static double Spread(SpreadLaw law, double reference, double distance) => law switch
    {
        ConeMeanSpread cone => Square((cone.FaceRadiusMetres + (reference * Math.Tan(cone.HalfAngleRadians)))
            / (cone.FaceRadiusMetres + (distance * Math.Tan(cone.HalfAngleRadians)))),
        ConeAxisSpread axis => OnAxis(axis, distance) / OnAxis(axis, reference),
        InverseSquareSpread inverse => Square((reference + inverse.VirtualDistanceMetres) / (distance + inverse.VirtualDistanceMetres)),
        FocusedSpread focused => (1 + Square((reference - focused.FocusMetres) / focused.RangeMetres))
            / (1 + Square((distance - focused.FocusMetres) / focused.RangeMetres)),
        TableSpread table when table.DistanceMetres.Length > 1 =>
            MonotoneCubic.At(table.DistanceMetres, table.Relative, distance) / MonotoneCubic.At(table.DistanceMetres, table.Relative, reference),
        _ => 1,
    };

    private static double OnAxis(ConeAxisSpread cone, double distance)
    {
        double a = cone.FaceRadiusMetres;
        return distance <= a / Math.Tan(cone.HalfAngleRadians) ? 1 : a * a / ((a * a) + (distance * distance)) / Square(Math.Sin(cone.HalfAngleRadians));
    }

    /// <summary>Profile across the beam at distance rho from its axis (m).</summary>
    public static double Beam(BeamProfile beam, double rho) =>
        beam is GaussianBeam g ? Math.Exp(-2 * Math.Pow(rho / g.RadiusMetres, g.Order)) : 1;

    /// <summary>Slab with incoherent multiple reflections: (1−R)²·e^(−αx)/(1−R²·e^(−2αx)).</summary>
    public static double Transmission(double reflectance, double absorption, double thickness)
    {
        double once = Math.Exp(-absorption * thickness);
        return Square(1 - reflectance) * once / (1 - Square(reflectance * once));
    }

    /// <summary>Degree of cure of an exposure of <paramref name="seconds"/> at <paramref name="irradiance"/> W/m².</summary>
    public static double Degree(Cure cure, double irradiance, double seconds)
    {
        double effective = Math.Max(0, seconds - (cure.InductionDose.Mean / irradiance));
        double rate = cure.RateLot.Mean * Math.Exp(cure.RatePart.Mean) * Math.Pow(irradiance / 10_000, cure.Exponent.Mean);
        return cure.Maximum * -MathExpMinusOne(-rate * effective);
    }

    /// <summary>Relative output at burn time <paramref name="seconds"/>, with the parameters at their means.</summary>
    public static double Output(AgeingLaw law, double seconds) => law switch
    {
        ExponentialAgeing e => Math.Exp(-seconds / e.TimeConstant.Mean),
        TwoStageAgeing t => (t.EarlyPart.Mean * Math.Exp(-seconds / t.EarlyTime.Mean)) + ((1 - t.EarlyPart.Mean) * Math.Exp(-seconds / t.LateTime.Mean)),
        StretchedAgeing s => Math.Exp(-Math.Pow(seconds / s.TimeConstant.Mean, s.Shape.Mean)),
        TableAgeing table => MonotoneCubic.At(table.BurnSeconds, table.Output, seconds / table.HoursScale.Mean),
        _ => 1,
    };

    /// <summary>The same, averaged over candidate laws by weight.</summary>
    public static double Output(Source source, double seconds) =>
        source.Ageing.Sum(a => a.Weight * Output(a.Law, seconds)) / source.Ageing.Sum(a => a.Weight);

    private static double Square(double x) => x * x;

    // exp(x) − 1 without cancellation near 0, by the identity of Kahan.
    private static double MathExpMinusOne(double x)
    {
        double u = Math.Exp(x);
        return u == 1 ? x : u - 1 == -1 ? -1 : (u - 1) * x / Math.Log(u);
    }
}

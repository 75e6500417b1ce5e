using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>One quantity of level part as this world has it: value = Scale × a draw of Varies.</summary>
public readonly record struct PartQuantity(IDistribution Varies, double Scale)
{
    /// <summary>Mean in this world.</summary>
    public double Mean => Scale * Varies.Mean;

    /// <summary>Value at a standard normal score.</summary>
    public double AtScore(double z) => Scale * Varies.QuantileOfScore(z);

    /// <summary>True when it is the same for every part.</summary>
    public bool IsFixed => Varies is FixedValue || Scale == 0;
}

/// <summary>The quantities of level part; ripple and cure rate are logarithms of factors.</summary>
public sealed record PartQuantities(
    PartQuantity Distance, PartQuantity Aim, PartQuantity Tilt, PartQuantity Thickness, PartQuantity CureRate, PartQuantity Ripple, PartQuantity TimeError);

/// <summary>What one site gives to its bonds, parts aside.</summary>
/// <param name="Emitter">Number of its emitter.</param>
/// <param name="LightWattsPerSquareMetre">E0·r·w·u·A·B.</param>
/// <param name="DistanceMetres">Nominal + set-up + disturbances, before the part's deviation and before it is held above 0.</param>
/// <param name="AimXMetres">Set-up + disturbances, x.</param>
/// <param name="AimYMetres">Set-up + disturbances, y.</param>
public readonly record struct SiteState(int Emitter, double LightWattsPerSquareMetre, double DistanceMetres, double AimXMetres, double AimYMetres);

/// <summary>A frozen state of the cell: all that decides what becomes of a part made in it.</summary>
/// <param name="Scenario">The cell.</param>
/// <param name="Sites">By site.</param>
/// <param name="Parts">Quantities of level part.</param>
/// <param name="Limits">In true units.</param>
/// <param name="OffsetSeconds">Constant offset of the exposure time.</param>
/// <param name="AbsorptionPerMetre">α of the substrate lot.</param>
/// <param name="CureRatePerSecond">k of the adhesive lot at 1 W/cm².</param>
/// <param name="CureExponent">p.</param>
/// <param name="InductionDose">H_ind, J/m².</param>
public sealed record ReferenceState(
    Scenario Scenario,
    ImmutableArray<SiteState> Sites,
    PartQuantities Parts,
    ImmutableArray<SpecificationLimits> Limits,
    double OffsetSeconds,
    double AbsorptionPerMetre,
    double CureRatePerSecond,
    double CureExponent,
    double InductionDose)
{
    /// <summary>E of a bond at a site, W/m².</summary>
    public double Irradiance(int site, double distanceDeviation, double aimX, double aimY, double tilt, double thickness, double ripple)
    {
        var s = Sites[site];
        double x = s.AimXMetres + aimX;
        double y = s.AimYMetres + aimY;
        return s.LightWattsPerSquareMetre
            * BondEquations.Spread(Scenario.Fixture, Math.Max(s.DistanceMetres + distanceDeviation, BondEquations.LeastDistanceMetres))
            * BondEquations.Beam(Scenario.Fixture, Math.Sqrt((x * x) + (y * y)))
            * BondEquations.Tilt(tilt)
            * BondEquations.Substrate(Scenario.Substrate, AbsorptionPerMetre, thickness)
            * BlockMath.Exp(ripple);
    }

    /// <summary>E with part quantities at their means and no deviation of aim, W/m².</summary>
    public double NominalIrradiance(int site) =>
        Irradiance(site, Parts.Distance.Mean, 0, 0, Parts.Tilt.Mean, Parts.Thickness.Mean, Parts.Ripple.Mean);

    /// <summary>Exposure time with an error, s.</summary>
    public double ExposureSeconds(double error) =>
        Math.Max(Scenario.Exposure.SettingSeconds + OffsetSeconds + error, BondEquations.LeastExposureSeconds);

    /// <summary>Degree of cure of a bond; NaN when the scenario has no cure.</summary>
    public double DegreeOfCure(double irradiance, double seconds, double ratePart) => Scenario.Cure is null
        ? double.NaN
        : BondEquations.DegreeOfCure(
            Scenario.Cure.Maximum, CureRatePerSecond * BlockMath.Exp(ratePart), CureExponent, InductionDose, irradiance, seconds);

    /// <summary>True when every limited response of a bond is inside.</summary>
    public bool Conforms(double irradiance, double seconds, double degreeOfCure) => Limits.All(limits => BondEquations.Inside(
        limits,
        limits.Response switch
        {
            Response.Irradiance => irradiance,
            Response.Dose => irradiance * seconds,
            _ => degreeOfCure,
        }));

    /// <summary>True when every nominal bond is inside every limit.</summary>
    public bool NominalInside() => Enumerable.Range(0, Sites.Length).All(site =>
    {
        double e = NominalIrradiance(site);
        double t = ExposureSeconds(Parts.TimeError.Mean);
        return Conforms(e, t, DegreeOfCure(e, t, Parts.CureRate.Mean));
    });
}

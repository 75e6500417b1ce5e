using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>Where the bond is relative to the light: distance, aim, tilt, and how the light spreads.</summary>
/// <param name="NominalDistanceMetres">Nominal working distance.</param>
/// <param name="ReferenceDistanceMetres">Distance for which the irradiance is stated.</param>
/// <param name="DistanceSetup">Offset of working distance, m; level setup, one a site.</param>
/// <param name="DistancePart">Deviation of working distance, m; level part, one a site.</param>
/// <param name="AimSetup">Offset of aim along one axis, m; level setup; drawn for x and y (paths + ".x", ".y"), one pair a site.</param>
/// <param name="AimPart">Deviation of aim along one axis, m; level part; drawn as radius and direction when normal about 0.</param>
/// <param name="Tilt">Tilt of the bond, rad; level part, one a site; enters as its cosine.</param>
/// <param name="Spread">Fall-off with distance.</param>
/// <param name="Beam">Profile across the beam.</param>
/// <param name="BondRadiusMetres">Radius of the bond.</param>
/// <param name="JudgeAtWorstPoint">True: judged at ρ + bond radius; false: at the centre.</param>
public sealed record Fixture(
    double NominalDistanceMetres,
    double ReferenceDistanceMetres,
    Quantity DistanceSetup,
    Quantity DistancePart,
    Quantity AimSetup,
    Quantity AimPart,
    Quantity Tilt,
    SpreadLaw Spread,
    BeamProfile Beam,
    double BondRadiusMetres,
    bool JudgeAtWorstPoint);

/// <summary>Fall-off of irradiance with distance, relative to the reference distance.</summary>
public abstract record SpreadLaw;

/// <summary>No dependence on distance (collimated or not modelled).</summary>
public sealed record NoSpread : SpreadLaw;

/// <summary>Mean over the geometric spot of a guide face: ((a + d_ref·tanθ)/(a + d·tanθ))².</summary>
public sealed record ConeMeanSpread(double FaceRadiusMetres, double HalfAngleRadians) : SpreadLaw;

/// <summary>Centre of the spot of a uniform-radiance guide face: 1 to d_c = a/tanθ, then [a²/(a² + d²)]/sin²θ; relative to the same at d_ref.</summary>
public sealed record ConeAxisSpread(double FaceRadiusMetres, double HalfAngleRadians) : SpreadLaw;

/// <summary>((d_ref + d_v)/(d + d_v))².</summary>
public sealed record InverseSquareSpread(double VirtualDistanceMetres) : SpreadLaw;

/// <summary>(1 + ((d_ref − f)/z)²)/(1 + ((d − f)/z)²).</summary>
public sealed record FocusedSpread(double FocusMetres, double RangeMetres) : SpreadLaw;

/// <summary>Monotone cubic interpolation of a table; value relative to that at d_ref; held flat outside.</summary>
public sealed record TableSpread(ImmutableArray<double> DistanceMetres, ImmutableArray<double> Relative) : SpreadLaw;

/// <summary>Relative irradiance at distance ρ from the beam's axis.</summary>
public abstract record BeamProfile;

/// <summary>1 everywhere: aim does not matter.</summary>
public sealed record FlatBeam : BeamProfile;

/// <summary>exp(−2·(ρ/w)^m); m = 2 is the Gaussian beam of 1/e² radius w.</summary>
public sealed record GaussianBeam(double RadiusMetres, double Order) : BeamProfile;

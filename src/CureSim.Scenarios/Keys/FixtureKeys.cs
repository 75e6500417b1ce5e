using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Where the bond is relative to the light, and how the light spreads.</summary>
internal static class FixtureKeys
{
    private static readonly BlockTable Distance = new("distance", "Working distance: nominal + offset of the set-up + deviation of the part.",
    [
        Key.Value("nominal", Dimension.Length, Bounds.Positive, "Nominal working distance.").Such("10 mm"),
        Key.Value("reference", Dimension.Length, Bounds.Positive, "Distance for which source.irradiance is stated.").LeftOut("nominal"),
        Key.Deviation("setup", Dimension.Length, Level.Setup, "Offset of each set-up of the fixture.").Typically("{ normal: { sd: 0.2 mm } }"),
        Key.Deviation("part", Dimension.Length, Level.Part, "Deviation of each part.").Typically("{ normal: { sd: 0.2 mm } }"),
    ]);

    private static readonly BlockTable Aim = new("aim", "Offset of the bond from the beam's axis, along each of two axes.",
    [
        Key.Deviation("setup", Dimension.Length, Level.Setup, "Offset of each set-up of the fixture, along one axis.").Typically("{ normal: { sd: 0.2 mm } }"),
        Key.Deviation("part", Dimension.Length, Level.Part, "Deviation of each part, along one axis.").Typically("{ normal: { sd: 0.3 mm } }"),
    ]);

    private static readonly BlockTable Point = new("points", "One point of the curve.",
    [
        Key.Value("at", Dimension.Length, Bounds.NotNegative, "Distance.").Such("5 mm"),
        Key.Value("relative", Dimension.Ratio, Bounds.Positive, "Irradiance there, relative to any one distance.").Such("160 %"),
    ]);

    private static readonly Key FaceRadius = Key.Value("radius", Dimension.Length, Bounds.Positive, "Radius of the guide's face.").Such("2.5 mm");

    private static readonly Key HalfAngle = Key.Value("half_angle", Dimension.Angle, Bounds.HalfAngle, "Half angle of the cone; its sine is the numerical aperture.")
        .Such("17 deg");

    public static readonly BlockTable[] SpreadLaws =
    [
        new("cone", "Mean over the geometric spot of a guide's face; source.irradiance is then such a mean.", [FaceRadius, HalfAngle]),
        new("cone_axis", "Centre of the spot of a guide's face with uniform radiance; source.irradiance is then that of the centre.", [FaceRadius, HalfAngle]),
        new("inverse_square", "Inverse square of the distance from a virtual point behind the face.",
        [
            Key.Value("virtual_distance", Dimension.Length, Bounds.NotNegative, "How far the virtual point lies behind distance 0.").Such("8 mm"),
        ]),
        new("focused", "A lensed head: highest at the focus, half as much one range away from it.",
        [
            Key.Value("focus", Dimension.Length, Bounds.Positive, "Distance of the focus.").Such("12 mm"),
            Key.Value("range", Dimension.Length, Bounds.Positive, "Distance from the focus at which the irradiance has halved.").Such("8 mm"),
        ]),
        new("table", "A monotone curve through measured points; flat outside.",
        [
            Key.Text("csv", "Data file in the scenario's folder.").LeftOut("from points").Such("fall-off.csv"),
            Key.Text("distance_column", "Its column of distance; the unit is in the header, e.g. distance_mm.").LeftOut("from points").Such("distance_mm"),
            Key.Text("relative_column", "Its column of relative irradiance, e.g. relative_percent.").LeftOut("from points").Such("relative_percent"),
            Key.List("points", new BlockShape(Point), "The points themselves, in place of a file.").LeftOut("from csv")
                .Such("[ { at: 5 mm, relative: 160 % }, { at: 10 mm, relative: 100 % }, { at: 20 mm, relative: 45 % } ]"),
        ]),
    ];

    private static readonly Key BeamRadius = Key.Value("radius", Dimension.Length, Bounds.Positive, "Radius at which the irradiance is exp(-2) of the centre's.")
        .Such("4 mm");

    public static readonly BlockTable[] BeamProfiles =
    [
        new("gaussian", "exp(-2*(rho/radius)^2).", [BeamRadius]),
        new("super_gaussian", "exp(-2*(rho/radius)^order): flat in the middle.",
        [
            BeamRadius,
            Key.Value("order", Dimension.Number, Bounds.OverOne, "2 is the Gaussian beam; larger is flatter.").Such("6"),
        ]),
    ];

    public static readonly BlockTable Table = new("fixture", "Where the bond is relative to the light.",
    [
        Key.Block(Distance),
        Key.Block(Aim).LeftOut("no aim errors"),
        Key.Quantity("tilt", Dimension.Angle, Level.Part, Bounds.RightAngle, "Tilt of each part; enters as its cosine.").Else("0 deg"),
        Key.Law("spread", "How irradiance falls off with distance.", SpreadLaws, "none").Such("{ cone: { radius: 2.5 mm, half_angle: 17 deg } }"),
        Key.Law("beam", "Profile across the beam; \"flat\": aim does not matter.", BeamProfiles, "flat").Else("flat").Such("{ gaussian: { radius: 4 mm } }"),
        Key.Value("bond_radius", Dimension.Length, Bounds.NotNegative, "Radius of the bond.").Else("0 mm"),
        Key.Choice("judge_at", ["worst point", "centre"], "Where on the bond the irradiance is taken.").Else("worst point"),
    ]);
}

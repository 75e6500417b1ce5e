using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Distances, aims and times that must stay above 0, and directions that must not matter.</summary>
internal static class GeometryRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        Fixture f = cell.Fixture;
        AboveZero(context, "fixture.distance", "a working distance", f.NominalDistanceMetres, f.DistanceSetup, f.DistancePart);
        AboveZero(context, "exposure", "an exposure time", cell.Exposure.SettingSeconds, cell.Exposure.Offset, cell.Exposure.Error);

        // The radius of a sum of two vectors is known from their radii only when one of them has no preferred direction.
        bool round = f.AimPart.Varies is NormalDistribution { Mean: 0 } || (f.AimPart.IsFixed && !(f.AimPart.Mean != 0));
        bool shifted = !f.AimSetup.IsFixed || f.AimSetup.Mean > 0 || f.AimSetup.Mean < 0 || cell.Disturbances.Any(d => d.AimShift is not null);
        if (!round && shifted && !double.IsNaN(f.AimPart.Mean))
        {
            context.Problem(
                "fixture.aim.part", "a distribution that is not normal about 0 beside offsets of aim (set-up or disturbance), whose direction would then matter",
                "{ normal: { sd: ... } } or no other offset of aim");
        }

        if (f.Beam is FlatBeam && context.Inputs.Any(i => i.Path == "fixture.aim.part"))
        {
            context.Warning("fixture.aim", "aim errors with a flat beam, where they do nothing", "a beam, such as { gaussian: { radius: 4 mm } }");
        }
    }

    private static void AboveZero(ReadContext context, string path, string what, double nominal, Quantity a, Quantity b)
    {
        if (double.IsNaN(nominal + a.Mean + b.Mean))
        {
            return;
        }

        double outside = SumOfTwo.AtMost(-nominal, Extreme(a), Extreme(b));
        if (outside > QuantityReader.NegligibleProbability)
        {
            context.Problem(path, $"{what} that is 0 or less with probability {Bounds.Printed(outside)}", "more than 0", "write smaller spreads, or add at_least");
        }
    }

    // What is unknown scales: its mean stands in for it.
    private static IDistribution Extreme(Quantity q) => q.Unknown is null ? q.Varies
        : !q.IsVarying ? q.Unknown
        : q.Unknown.Mean > 0 ? new ScaledDistribution(q.Varies, q.Unknown.Mean) : q.Varies;
}

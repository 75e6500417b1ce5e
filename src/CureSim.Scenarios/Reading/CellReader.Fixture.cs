using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Fixture and disturbances.</content>
internal sealed partial class CellReader
{
    private Fixture ReadFixture(BlockReader? block)
    {
        if (block is null)
        {
            // Nothing depends on distance, aim or tilt: any distance will do.
            return new Fixture(
                0.01, 0.01, BlockReader.Absent("fixture.distance.setup", Level.Setup), BlockReader.Absent("fixture.distance.part", Level.Part),
                BlockReader.Absent("fixture.aim.setup", Level.Setup), BlockReader.Absent("fixture.aim.part", Level.Part),
                BlockReader.Absent("fixture.tilt", Level.Part), new NoSpread(), new FlatBeam(), 0, false);
        }

        double nominal = double.NaN;
        double reference = double.NaN;
        Quantity distanceSetup = BlockReader.Absent("fixture.distance.setup", Level.Setup);
        Quantity distancePart = BlockReader.Absent("fixture.distance.part", Level.Part);
        if (block.Block("distance") is { } distance)
        {
            nominal = distance.Value("nominal");
            reference = distance.Value("reference", distance.TextOf("nominal"), Origin.Default);
            distanceSetup = distance.Quantity("setup");
            distancePart = distance.Quantity("part");
        }

        BlockReader? aim = block.Block("aim");
        Quantity aimSetup = aim?.Quantity("setup") ?? BlockReader.Absent("fixture.aim.setup", Level.Setup);
        Quantity aimPart = aim?.Quantity("part") ?? BlockReader.Absent("fixture.aim.part", Level.Part);
        Quantity tilt = block.Quantity("tilt");
        (string? spreadName, BlockReader? spread, _) = block.Law("spread");
        (_, BlockReader? beam, _) = block.Law("beam");
        return new Fixture(
            nominal, reference, distanceSetup, distancePart, aimSetup, aimPart, tilt,
            spread is null ? new NoSpread() : ReadSpread(spreadName!, spread),
            beam is null ? new FlatBeam() : new GaussianBeam(beam.Value("radius"), beam.Table.Name == "gaussian" ? 2 : beam.Value("order")),
            block.Value("bond_radius"),
            block.Choice("judge_at") != "centre");
    }

    private SpreadLaw ReadSpread(string name, BlockReader law)
    {
        switch (name)
        {
            case "cone":
                return new ConeMeanSpread(law.Value("radius"), law.Value("half_angle"));
            case "cone_axis":
                return new ConeAxisSpread(law.Value("radius"), law.Value("half_angle"));
            case "inverse_square":
                return new InverseSquareSpread(law.Value("virtual_distance"));
            case "focused":
                return new FocusedSpread(law.Value("focus"), law.Value("range"));
            default:
                List<(double Distance, double Relative)> points =
                    ReadPointsOrCsv(law, ("distance_column", "at", Dimension.Length), ("relative_column", "relative", Dimension.Ratio));
                if (points.Count == 1 || Fault(points, mustFall: false) is not null)
                {
                    law.Problem("points", Fault(points, mustFall: false) ?? "one point", "at least two points, distances that rise");
                }

                return new TableSpread([.. points.Select(p => p.Distance)], [.. points.Select(p => p.Relative)]);
        }
    }
}

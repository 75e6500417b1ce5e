using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Exposure, cure and window.</content>
internal sealed partial class CellReader
{
    private static Exposure ReadExposure(BlockReader? block) => block is null
        ? new Exposure(double.NaN, BlockReader.Absent("exposure.offset", Level.Cell), BlockReader.Absent("exposure.error", Level.Part))
        : new Exposure(block.Value("time"), block.Quantity("offset"), block.Quantity("error"));

    private static Cure? ReadCure(BlockReader? block)
    {
        if (block is null)
        {
            return null;
        }

        double maximum = block.Value("maximum");
        Quantity lot = BlockReader.Absent("cure.rate.lot", Level.AdhesiveLot, double.NaN);
        Quantity part = BlockReader.Absent("cure.rate.part", Level.Part, double.NaN);
        if (block.Block("rate") is { } rate)
        {
            lot = rate.Quantity("lot");
            part = rate.Quantity("part");
        }

        return new Cure(maximum, lot, part, block.Quantity("exponent"), block.Quantity("induction_dose"), block.Steps("lot_every") ?? 0);
    }

    private static Window ReadWindow(BlockReader? block)
    {
        if (block is null)
        {
            return new Window([], false);
        }

        bool studyMeter = block.Choice("referred_to") == "study meter";
        var limits = ImmutableArray.CreateBuilder<SpecificationLimits>();
        foreach ((string key, Response response) in new[]
            { ("irradiance", Response.Irradiance), ("dose", Response.Dose), ("degree_of_cure", Response.DegreeOfCure) })
        {
            if (block.Block(key) is { } one)
            {
                limits.Add(new SpecificationLimits(
                    response, one.ValueOrWord("lower").Value, one.ValueOrWord("target").Value, one.ValueOrWord("upper").Value));
            }
        }

        return new Window(limits.ToImmutable(), studyMeter);
    }
}

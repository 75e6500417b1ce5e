using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Source and loop.</content>
internal sealed partial class CellReader
{
    private Source ReadSource(BlockReader? block, Production production, bool checks)
    {
        if (block is null)
        {
            Quantity nothing = BlockReader.Absent("source", Level.Emitter, double.NaN);
            return new Source("", EmitterArrangement.Shared, LitDuring.WholeShift, 0, 0, nothing, 1, [], null, null, null, 0, 0, 1, nothing);
        }

        // After a problem any kind will do: the keys that it has defaults for need no problems of their own.
        string kind = block.Choice("kind") ?? SourceKeys.ArcLamp;
        block.Variant = kind;
        EmitterArrangement arrangement = Words.Arrangement(block.Choice("emitters"));
        LitDuring lit = Words.Lit(block.Choice("lit"));
        double ignitionAdds = block.Value("ignition_adds");
        double ignitions = block.Value("ignitions_a_shift");
        Quantity irradiance = block.Quantity("irradiance");
        int legs = ReadStatedLegs(block, arrangement, production);
        ImmutableArray<AgeingAlternative> ageing = ReadAgeing(block);
        Wander? wander = block.Block("wander") is { } w
            ? new Wander(w.Quantity("sd"), w.Quantity("correlation_time"), w.YesNo("seen_by_sensor"))
            : null;
        Quantity? failure = block.QuantityOrNone("failure");
        double? replaceAt = block.ValueOrWord("replace_at").Value;
        double driveStep = block.Value("drive_step");
        double driveMinimum = block.Value("drive_minimum");
        double drive = 1;
        if (checks)
        {
            block.Refuse("drive", "no drive where there are checks, which set it");
        }
        else
        {
            drive = block.Value("drive");
        }

        Quantity band = block.Quantity("band_ageing");
        return new Source(
            kind, arrangement, lit, ignitionAdds, ignitions, irradiance, legs, ageing, wander, failure, replaceAt, driveStep, driveMinimum, drive, band);
    }

    private static int ReadStatedLegs(BlockReader block, EmitterArrangement arrangement, Production production)
    {
        if (arrangement == EmitterArrangement.OnePerSite)
        {
            block.Refuse("stated_legs", "no stated_legs where every site has an emitter of its own");
            return 1;
        }

        return (int)(block.Count("stated_legs", production.SiteCount.ToString(CultureInfo.InvariantCulture)) ?? 1);
    }

    private Loop ReadLoop(BlockReader? block)
    {
        if (block is null)
        {
            return new Loop(LoopKind.None, BlockReader.Absent("loop.sensor_drift", Level.Cell), BlockReader.Absent("loop.ripple", Level.Part), false);
        }

        string kind = block.Choice("kind") ?? "output sensor";
        block.Variant = kind;
        if (kind == "none")
        {
            block.Refuse("sensor_drift", "no sensor_drift where there is no sensor");
            block.Refuse("alarm", "no alarm where there is no loop");
            return new Loop(LoopKind.None, BlockReader.Absent("loop.sensor_drift", Level.Cell), block.Quantity("ripple"), false);
        }

        return new Loop(LoopKind.OutputSensor, block.Quantity("sensor_drift"), block.Quantity("ripple"), block.YesNo("alarm"));
    }
}

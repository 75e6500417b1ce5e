using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Guide, tip, substrate.</content>
internal sealed partial class CellReader
{
    private Guide? ReadGuide(BlockReader? block, Source source, Production production)
    {
        if (block is null)
        {
            return null;
        }

        Quantity transmission = block.Quantity("transmission");
        Quantity imbalance;
        if (source.Arrangement == EmitterArrangement.Shared && production.SiteCount > 1)
        {
            imbalance = block.Quantity("imbalance");
        }
        else
        {
            block.Refuse("imbalance", "no imbalance where a guide has one leg only");
            imbalance = block.Absent("imbalance");
        }

        return new Guide(
            transmission,
            imbalance,
            block.Quantity("reseat"),
            block.Quantity("loss"),
            block.Choice("lit") == "as the emitter" ? LitDuring.WholeShift : LitDuring.Exposures,
            block.ValueOrWord("replace_at").Value);
    }

    private static Tip ReadTip(BlockReader? block) => block is null
        ? new Tip(BlockReader.Absent("tip.fouling", Level.Cleaning), BlockReader.Absent("tip.cleaning_effect", Level.Cleaning, 1))
        : new Tip(block.Quantity("fouling"), block.Quantity("cleaning_effect"));

    private static Substrate? ReadSubstrate(BlockReader? block)
    {
        if (block is null)
        {
            return null;
        }

        Quantity thickness = block.Quantity("thickness");
        Quantity absorption = block.Quantity("absorption");
        double reflectance;
        if (block.Written("reflectance"))
        {
            block.Refuse("index", "index or reflectance, not both");
            reflectance = block.Value("reflectance");
        }
        else
        {
            block.Skip("reflectance");
            double index = block.Value("index", "1.5", Origin.Typical);
            double step = (index - 1) / (index + 1);
            reflectance = step * step;
        }

        return new Substrate(reflectance, thickness, absorption, block.Steps("lot_every") ?? 0);
    }
}

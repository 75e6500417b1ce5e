using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>The process-window study.</content>
internal sealed partial class CellReader
{
    private static WindowStudy? ReadWindowStudy(BlockReader? block)
    {
        if (block is null)
        {
            return null;
        }

        StudyRange Range(string axis)
        {
            double? from = block.ValueOrWord(axis + "_from").Value, to = block.ValueOrWord(axis + "_to").Value;
            if (from >= to)
            {
                block.Problem(axis + "_to", "a range that ends where it begins or before", $"more than {axis}_from");
            }

            return new(from, to);
        }

        var irradiance = Range("irradiance");
        var time = Range("time");
        int nodes = (int)(block.Count("nodes") ?? WindowStudy.UsualNodes);
        double limit = block.Value("nonconforming_limit"), confidence = block.Value("confidence");
        int risk = Array.IndexOf(WindowStudyKeys.Risks, block.Choice("risk"));
        return new(irradiance, time, nodes, limit, confidence, risk < 0 ? BondRisk.Medium : (BondRisk)risk, block.Value("challenge"));
    }
}

using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Reads all blocks, in the order of the format, into a cell. One file a group of blocks.</summary>
internal sealed partial class CellReader(ReadContext context, string fileName)
{
    private Findings Findings => context.Findings;

    /// <summary>The cell (with NaN where there was a problem) and the root block, from which the resolved text is made.</summary>
    public (Scenario Cell, BlockReader Root) Read(MapNode root)
    {
        var blocks = new BlockReader(context, ScenarioKeys.Root, root, "");
        blocks.Count("curesim");
        string name = blocks.Text("name", System.IO.Path.GetFileNameWithoutExtension(fileName)) ?? "";
        Production production = ReadProduction(blocks.Block("production"));
        Source source = ReadSource(blocks.Block("source"), production, blocks.Written("checks"));
        Loop loop = ReadLoop(blocks.Block("loop"));
        Guide? guide = ReadGuide(blocks.Block("guide"), source, production);
        Tip tip = ReadTip(blocks.Block("tip"));
        Fixture fixture = ReadFixture(blocks.Block("fixture"));
        var disturbances = ReadDisturbances(blocks);
        Substrate? substrate = ReadSubstrate(blocks.Block("substrate"));
        Exposure exposure = ReadExposure(blocks.Block("exposure"));
        Cure? cure = ReadCure(blocks.Block("cure"));
        Checks? checks = ReadChecks(blocks.Block("checks"));
        Radiometer radiometer = ReadRadiometer(blocks, checks is not null);
        Downtimes downtimes = ReadDowntimes(blocks.Block("downtime"));
        Window window = ReadWindow(blocks.Block("window"));
        Requalification requalification = ReadRequalification(blocks.BlockOrDefaults("requalification"));
        PresentState? now = ReadNow(blocks.Block("now"), source, production);
        var cell = new Scenario(
            name, production, source, loop, guide, tip, fixture, disturbances, substrate, exposure, cure, checks, radiometer, downtimes, window,
            requalification, now, new RunSettings(1, 1, 1, 0));
        cell = cell with { Qualification = ReadQualification(blocks), IntervalStudy = ReadIntervalStudy(blocks.Block("interval_study")), WindowStudy = ReadWindowStudy(blocks.Block("window_study")),
            Costs = ReadCosts(blocks.Block("costs")), Ownership = ReadOwnership(blocks.Block("ownership"), source), Run = ReadRun(blocks.BlockOrDefaults("run"), cell) };
        cell = cell with { UnknownCorrelations = Correlations.Of(cell, context) };
        ReadOrigin(blocks);
        return (cell, blocks);
    }

    private void ReadOrigin(BlockReader blocks)
    {
        BlockReader? origin = blocks.Written("origin") ? blocks.Block("origin") : null;
        if (origin is null)
        {
            blocks.Skip("origin");
            return;
        }

        foreach (string list in new[] { "typical", "default" })
        {
            foreach (ScenarioNode item in origin.Items(list, optional: true))
            {
                if (item is not ScalarNode { IsEmpty: false })
                {
                    Findings.Problem(item.Place, origin.PathOf(list), item.Found, "paths such as source.failure");
                }
                else if (!context.Inputs.Any(i => i.Path == ((ScalarNode)item).Text || i.Path.StartsWith(((ScalarNode)item).Text + ".", StringComparison.Ordinal)))
                {
                    Findings.Problem(
                        item.Place, origin.PathOf(list), $"{item.Found}, which is no input of this scenario", "paths such as source.failure",
                        NearestWord.Question(((ScalarNode)item).Text, context.Inputs.Select(i => i.Path)));
                }
            }
        }
    }
}

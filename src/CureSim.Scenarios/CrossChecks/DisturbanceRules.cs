using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Disturbances that do nothing, or that nothing puts right.</summary>
internal static class DisturbanceRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        foreach (Disturbance d in cell.Disturbances)
        {
            if (d.Factor is { } factor && Largest(factor.Varies) * (factor.Unknown is { } u ? Largest(u) : 1) is var most && factor.Mean > 1)
            {
                context.Warning(d.Path + ".factor", FormattableString.Invariant($"a factor of {factor.Mean * 100:0.##} % on average (up to {most * 100:0.##} %), which brightens"), "at most 100 % for a loss");
            }

            if (d.DistanceShift is not null && cell.Fixture.Spread is NoSpread)
            {
                context.Warning(d.Path + ".distance", "a shift of distance, on which nothing depends", "a fixture with spread");
            }

            if (d.AimShift is not null && cell.Fixture.Beam is FlatBeam)
            {
                context.Warning(d.Path + ".aim", "a shift of aim with a flat beam, where it does nothing", "a fixture with beam");
            }

            switch (d.ClearedBy)
            {
                case ClearedBy.GuideReplacement when cell.Guide is null:
                    context.Problem(d.Path + ".cleared_by", "\"guide replacement\" in a cell without a guide", "\"fixture check\", \"bad indication\" or \"nothing\"");
                    break;
                case ClearedBy.FixtureCheck when cell.Checks is not { FixtureCheck: true }:
                    context.Warning(d.Path + ".cleared_by", "\"fixture check\" in a cell whose checks do not look at the fixture", "\"fixture_check: true\" in checks");
                    break;
                case ClearedBy.BadIndication when cell.Checks is null:
                    context.Warning(d.Path + ".cleared_by", "\"bad indication\" in a cell without checks", "checks");
                    break;
            }
        }
    }

    private static double Largest(IDistribution d) => double.IsFinite(d.Maximum) ? d.Maximum : d.Quantile(0.999);
}

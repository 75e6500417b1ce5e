using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>What the blocks of a cell must be to each other. Comparisons with NaN (a value with a problem of its own) say nothing.</summary>
internal static class CrossChecks
{
    public static void Run(Scenario cell, ReadContext context)
    {
        ProductionRules.Run(cell, context);
        GeometryRules.Run(cell, context);
        DisturbanceRules.Run(cell, context);
        WindowRules.Run(cell, context);
        CheckRules.Run(cell, context);
        PresentStateRules.Run(cell, context);
        QualificationRules.Run(cell, context);
        IntervalRules.Run(cell, context);
        WindowStudyRules.Run(cell, context);
    }

    public static void Problem(this ReadContext context, string path, string found, string accepted, string? suggestion = null) =>
        context.Findings.Problem(context.PlaceOf(path), path, found, accepted, suggestion);

    public static void Warning(this ReadContext context, string path, string found, string accepted, string? suggestion = null) =>
        context.Findings.Warning(context.PlaceOf(path), path, found, accepted, suggestion);
}

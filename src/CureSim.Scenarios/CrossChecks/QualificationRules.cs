using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>What a qualification plan may ask of its cell.</summary>
internal static class QualificationRules
{
    public static void Run(Scenario cell, ReadContext context)
    {
        foreach ((int i, QualificationPlan plan) in cell.Qualification.Index())
        {
            string path = FormattableString.Invariant($"qualification.{i + 1}");
            Lots(cell, context, plan, path);
            if (plan.Gate == QualificationGate.AsLeftWithinAdjust && cell.Checks is null)
            {
                context.Problem(path + ".gate", "a gate on the setting of a cell without checks", "none, or a block \"checks\"");
            }
        }
    }

    private static void Lots(Scenario cell, ReadContext context, QualificationPlan plan, string path)
    {
        int[] lengths = [.. new[] { cell.Substrate?.LotSteps ?? 0, cell.Cure?.LotSteps ?? 0 }.Where(l => l > 0)];
        if (plan.Lots > 1 && lengths.Length == 0)
        {
            context.Problem(path + ".lots", FormattableString.Invariant($"{plan.Lots} lots in a scenario in which no lot ever changes"), "1 lot, or lot_every in substrate or cure");
            return;
        }

        foreach (int length in lengths)
        {
            int held = (cell.Production.StepCount + length - 1) / length;
            if (plan.Lots > held)
            {
                context.Problem(
                    path + ".lots", FormattableString.Invariant($"{plan.Lots} lots, although the horizon holds {held}"), "no more lots than the horizon holds",
                    "write a longer production.horizon or a shorter lot_every");
                return;
            }
        }
    }
}

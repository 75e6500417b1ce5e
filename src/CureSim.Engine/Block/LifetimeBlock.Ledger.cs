using CureSim.Engine.Runs;

namespace CureSim.Engine.Block;

/// <content>Running totals at the ends of years, when somebody wants them. They are read off the records and change nothing.</content>
public sealed partial class LifetimeBlock
{
    private void CloseYear()
    {
        if (Beside.Ledger is not { } ledger || ledger.YearAt(step) is not (>= 0 and var year))
        {
            return;
        }

        for (int lane = 0; lane < count; lane++)
        {
            ref readonly var record = ref records[lane];
            ledger.At(model.Values.World, Lifetime(lane), year) = new()
            {
                PartsMade = partsMade[lane],
                ConditionalParts = record.ConditionalParts,
                ConditionalStates = record.ConditionalStates,
                SuspectParts = record.SuspectParts,
                DowntimeSeconds = record.DowntimeSeconds,
                Checks = record.Checks,
                EmittersFailed = record.EmittersFailed,
                EmittersReplaced = record.EmittersPlanned + record.EmittersShort,
                Guides = record.GuidesPlanned + record.GuidesShort,
                Requalifications = record.Requalifications,
                FoundOutOfTolerance = record.FoundOutOfTolerance,
            };
        }
    }
}

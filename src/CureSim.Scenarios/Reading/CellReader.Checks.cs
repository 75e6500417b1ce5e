using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Check routine, radiometer, downtime, requalification.</content>
internal sealed partial class CellReader
{
    private static Checks? ReadChecks(BlockReader? block)
    {
        if (block is null)
        {
            return null;
        }

        int interval = block.Steps("interval") ?? 0;
        double target = block.Value("target");

        // Read out of order: both limits beside it default to something of action.
        double action = block.Value("action");
        double adjust = block.Value("adjust", Percent(action / 2), Origin.Default);
        (double? tolerance, _) = block.ValueOrWord("tolerance", block.TextOf("action"), Origin.Default);
        double guard = block.Value("tolerance_guard");
        MeasuredAt measuredAt = Words.MeasuredAt(block.Choice("measured_at"));
        LegIndication setBy = Words.SetBy(block.Choice("set_by"));
        bool clean = block.YesNo("clean");
        bool fixtureCheck = block.YesNo("fixture_check");
        WhenShort whenShort = Words.WhenShort(block.Choice("when_short"));
        int tries = (int)(block.Count("tries") ?? 1);
        double? legLimit = block.ValueOrWord("leg_limit").Value;
        double missed = block.Value("missed");
        BlockReader? late = block.Block("late");
        return new Checks(
            interval, target, adjust, action, tolerance, guard, measuredAt, setBy, clean, fixtureCheck, whenShort, tries, legLimit, missed,
            late?.Value("probability") ?? 0, late?.Steps("by") ?? 0)
        {
            AfterReplacement = ReadAfterReplacement(block.Block("after_replacement")),
            WhenDriveAbove = block.ValueOrWord("when_drive_above").Value,
            WhenAlarm = block.YesNo("when_alarm"),
        };
    }

    private static string Percent(double ratio) => double.IsNaN(ratio) ? "1 %" : (ratio * 100).ToString("0.############", CultureInfo.InvariantCulture) + " %";

    private static Radiometer ReadRadiometer(BlockReader blocks, bool checks)
    {
        if (!checks && !blocks.Written("radiometer"))
        {
            blocks.Skip("radiometer");
            return new Radiometer(
                BlockReader.Absent("radiometer.meter", Level.Meter), BlockReader.Absent("radiometer.calibration", Level.Calibration), 0, 0,
                BlockReader.Absent("radiometer.drift", Level.Calibration), BlockReader.Absent("radiometer.session", Level.Shift),
                BlockReader.Absent("radiometer.repeatability", Level.Reading), 0, 0);
        }

        BlockReader block = blocks.BlockOrDefaults("radiometer");
        return new Radiometer(
            block.Quantity("meter"), block.Quantity("calibration"), block.Value("persistence"), block.Steps("calibrated_every") ?? 0,
            block.Quantity("drift"), block.Quantity("session"), block.Quantity("repeatability"),
            block.ValueOrWord("resolution").Value ?? 0, block.Steps("new_meter_every") ?? 0);
    }

    private static Downtimes ReadDowntimes(BlockReader? block) => block is null
        ? new Downtimes(0, 0, 0, 0, 0)
        : new Downtimes(
            block.Value("check"), block.Value("emitter_replacement"), block.Value("guide_replacement"), block.Value("failure"), block.Value("requalification"));

    private Requalification ReadRequalification(BlockReader block)
    {
        var events = new SortedSet<RequalifyEvent>();
        IReadOnlyList<ScenarioNode> items = block.Items("after");
        foreach (ScenarioNode item in items)
        {
            if (item is ScalarNode word && Words.Event(word.Text) is { } known)
            {
                events.Add(known);
            }
            else
            {
                Findings.Problem(
                    item.Place, block.PathOf("after"), item.Found, KeyWords.Accepted(new ChoiceShape(CheckKeys.Events)),
                    item is ScalarNode text ? NearestWord.Question(text.Text, CheckKeys.Events) : null);
            }
        }

        var list = new ListNode([.. items], default, Origin.Yours);
        block.NoteInput("after", YamlText.Flow(list), items.Count > 0 && items[0].Place == ReadContext.DefaultPlace ? items[0].Origin : context.Origins.Of(block.PathOf("after")));
        block.ResolveLater("after", () => list);
        return new Requalification([.. events], block.YesNo("record_only"), block.ValueOrWord("capability").Value);
    }
}

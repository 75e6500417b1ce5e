using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>The production clock, which everything else that is counted in calendar words needs.</content>
internal sealed partial class CellReader
{
    private Production ReadProduction(BlockReader? block)
    {
        if (block is null)
        {
            return new Production(double.NaN, double.NaN, 0, double.NaN, double.NaN, double.NaN, double.NaN, 1, 1);
        }

        bool before = Findings.Any;
        double rate = block.Value("rate");
        int sites = (int)(block.Count("sites") ?? 1);
        int sitesPerPart = (int)(block.Count("sites_per_part", sites.ToString(System.Globalization.CultureInfo.InvariantCulture)) ?? 1);
        double shift = block.Value("shift");

        // "1 shift" must mean something while the step itself is read.
        context.Clock = WorkCalendar.Unknown with { ShiftSeconds = shift };
        double step = block.Value("step");
        double day = block.Value("hours_a_day") * 3600;
        double week = block.Value("days_a_week") * day;
        double year = block.Value("weeks_a_year") * week;
        Whole(block, "step", shift, step);
        Within(block, "hours_a_day", day / 3600, 24);
        Within(block, "days_a_week", week / day, 7);
        Within(block, "weeks_a_year", year / week, 53);
        context.Clock = new WorkCalendar(step, shift, day, week, year, Trusted: Findings.Any == before && !double.IsNaN(step + year));
        int steps = block.Steps("horizon") ?? 0;
        return new Production(rate, step, steps, shift, day, week, year, sites, sitesPerPart);
    }

    // A shift is whole steps, or a step whole shifts; else shifts would start in the middle of steps.
    private static void Whole(BlockReader block, string key, double shift, double step)
    {
        double ratio = shift > step ? shift / step : step / shift;
        if (Math.Abs(ratio - Math.Round(ratio)) > 1e-9 * ratio)
        {
            block.Problem(key, FormattableString.Invariant($"a step of {step / 3600:0.####} h with shifts of {shift / 3600:0.####} h"), "a shift of whole steps, or a step of whole shifts");
        }
    }

    private static void Within(BlockReader block, string key, double value, double most)
    {
        if (value > most)
        {
            block.Problem(key, FormattableString.Invariant($"\"{value}\""), FormattableString.Invariant($"at most {most}"));
        }
    }
}

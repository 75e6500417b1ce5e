using CureSim.Core.Cell;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Drivers;

/// <summary>A time at which the bond is made whose dose is taken apart.</summary>
/// <param name="Id">Name in tables.</param>
/// <param name="Name">In words.</param>
/// <param name="MovesWithTime">True when the time of the bond is an input.</param>
/// <param name="At">The time for a uniform number.</param>
public sealed record DoseMoment(string Id, string Name, bool MovesWithTime, Func<double, ProbeTime> At)
{
    /// <summary>Any time of the horizon: the spread that the overall indices (Ppk, percentiles, ppm) see.</summary>
    public const string AnyTime = "any_time";

    /// <summary>Moments of a scenario.</summary>
    public static IReadOnlyList<DoseMoment> Of(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        int steps = scenario.Production.StepCount;
        var all = new List<DoseMoment> { new(AnyTime, "any time of the horizon", true, u => Split(u * steps, steps)) };
        if (scenario.Checks is { } checks && steps > checks.IntervalSteps)
        {
            int every = checks.IntervalSteps, count = (steps - 1) / every;
            ProbeTime Check(double u, int offset) => new((Math.Min(count, 1 + (int)(u * count)) * every) + offset, 0.5);
            all.Add(new("before_check", "in the last step before a check", true, u => Check(u, -1)));
            all.Add(new("after_check", "in the first step after a check", true, u => Check(u, 0)));
        }

        all.Add(new("commissioning", "in the first step after commissioning", false, _ => new(0, 0.5)));
        return all;
    }

    private static ProbeTime Split(double x, int steps)
    {
        int step = Math.Min(steps - 1, (int)x);
        return new(step, Math.Min(1.0, x - step));
    }
}

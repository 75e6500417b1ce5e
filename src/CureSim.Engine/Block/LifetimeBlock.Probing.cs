using CureSim.Core.Cell;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Engine.Block;

/// <content>The dose of one bond at stated times, by the scalar twins of the block functions.</content>
public sealed partial class LifetimeBlock
{
    private bool judgesBetweenChecks = true;
    private bool judgesNow = true;
    private readonly Dictionary<int, List<(int Lane, int Time, double Inside, int Part)>> probeSteps = [];

    /// <summary>True when nothing but the doses looked at is asked for: no part is made or summarised, and states are judged only where the cell acts on the verdict. The doses stay the same.</summary>
    public bool DosesOnly { get; init; }

    // A requalification is the only thing in a cell that follows from a verdict: for a state that is left at any time, for one that is lost after a check.
    private bool ActsOn(RequalifyEvent what) => !DosesOnly || (!scenario.Requalification.RecordOnly && requalifyOn[(int)what]);

    private void PrepareProbes()
    {
        if (Beside.Probes is not { } probes)
        {
            return;
        }

        for (int lane = 0; lane < count; lane++)
        {
            var times = probes.TimesOf(model.Values.World, Lifetime(lane));
            for (int t = 0; t < times.Length; t++)
            {
                if (!probeSteps.TryGetValue(times[t].Step, out var here))
                {
                    probeSteps[times[t].Step] = here = [];
                }

                here.Add((lane, t, times[t].Inside, Redraw.ProbePart - (2 * times[t].Bond)));
            }
        }
    }

    private void LookAtDoses()
    {
        if (Beside.Probes is not { } probes || !probeSteps.TryGetValue(step, out var here))
        {
            return;
        }

        int site = probes.Site, group = site / scenario.Production.SitesPerPart;
        foreach (var (lane, time, inside, part) in here)
        {
            var seen = walks[lane] ? SegmentAt(lane, (step + inside) * stepSeconds) : null;
            uint lifetime = Lifetime(lane);
            double dose = TakenIrradiance(site, lane, lifetime, part, seen) * TakenTime(lane, lifetime, group, part);
            if (!double.IsFinite(dose))
            {
                throw new NotANumberException("the dose of a bond", model.Values.World, lifetime, step, site);
            }

            probes.Put(model.Values.World, lifetime, time, dose);
        }
    }
}

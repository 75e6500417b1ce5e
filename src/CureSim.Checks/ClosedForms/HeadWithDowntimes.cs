using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;

namespace CureSim.Checks.ClosedForms;

/// <summary>Hand-worked plant: a head lit during exposures, guide with loss and fouling tip, no loop, downtime after checks and replacements.</summary>
internal static class HeadWithDowntimes
{
    // 6 h steps; 0.1 exposures a second of 1.5 s: 3240 s of light and 2160 exposures in a step without downtime.
    private const double Step = 21600;
    private const double Lit = 0.1 * 1.5 * Step;
    private const double Exposures = 0.1 * Step;
    private const double E0 = 6e4;
    private const double Target = 31000;
    private const double Tau = 4e4;
    private const double Loss = 5e-6;
    private const double Fouling = 8e-6;

    // Downtime takes the start of the next step. After the check at the end of step 2: 1800 s, up 11/12. After the new guide (planned at 3.5 full steps
    // of light, reached in step 3 at 3 + 11/12): 2400 s, up 8/9. After the new emitter (planned at 4.5, reached in step 4 at 3 + 11/12 + 8/9): 3600 s, up 5/6.
    private static readonly double[] Up = [1, 1, 1, 11.0 / 12, 8.0 / 9, 5.0 / 6];

    // At the middles of steps 0 … 5, in full steps of light since: the emitter was new, the guide was new, the tip was clean.
    private static readonly double[] Burned = [0.5, 1.5, 2.5, 3 + (11.0 / 24), 3 + (11.0 / 12) + (4.0 / 9), 5.0 / 12];
    private static readonly double[] GuideLit = [0.5, 1.5, 2.5, 3 + (11.0 / 24), 4.0 / 9, (8.0 / 9) + (5.0 / 12)];
    private static readonly double[] Dirty = [0.5, 1.5, 2.5, 11.0 / 24, 4.0 / 9, (8.0 / 9) + (5.0 / 12)];

    // Mean over the spot of a guide face of 2.5 mm and a half angle of 0.3 rad, stated at 10 mm, used at 12 mm.
    private static readonly double Geometry = Math.Pow((2.5 + (10 * Math.Tan(0.3))) / (2.5 + (12 * Math.Tan(0.3))), 2);

    private static double Output(double steps) => Math.Exp(-steps * Lit / Tau);

    private static double Path(double litSteps, double dirtySteps) => Math.Exp((-litSteps * Lit * Loss) - (dirtySteps * Exposures * Fouling));

    public static CheckOutcome Compare()
    {
        var cell = new ScenarioBuilder().Clock(Step, 6).Rate(0.1).Exposure(1.5).Irradiance(E0).ExponentialAgeing(Tau).Lit(LitDuring.Exposures)
            .ReplaceEmitterAt(4.5 * Lit).Guide(loss: Loss, replaceAtLitSeconds: 3.5 * Lit).Tip(Fouling)
            .Distance(0.012, new ConeMeanSpread(0.0025, 0.3), reference: 0.010)
            .Checks(3, Target, adjust: 0.01, action: 0.2, tolerance: 0.5, clean: true)
            .Downtime(check: 1800, guide: 2400, emitter: 3600).Limit(Response.Dose, 1e3, 1e6).Run(partsAStep: 4).Build();
        var trace = Simulated.Trace(cell);
        var found = HandWorkedTimeline.Start();

        // Settings, u·target/indication: at commissioning E0 is read; at the check the clean tip, three steps old; with the new guide nothing is lost in it;
        // with the new emitter its guide is 8/9 of a step old.
        double clean = E0 * Output(3) * Path(3, 0), newGuide = E0 * Output(3 + (11.0 / 12)), newHead = E0 * Path(8.0 / 9, 8.0 / 9);
        double[] set = [Target / E0, Target / clean, Target / newGuide, Target / newHead];
        double[] drive = [set[0], set[0], set[0], set[1], set[2], set[3]];

        // The second check finds the head 5/6 of a step old, guide and tip 8/9 + 5/6.
        const double Age = (8.0 / 9) + (5.0 / 6);
        double first = E0 * set[0] * Output(3) * Path(3, 3), second = E0 * set[3] * Output(5.0 / 6) * Path(Age, Age);
        double cleanAgain = E0 * set[3] * Output(5.0 / 6) * Path(Age, 0), last = set[3] * Target / cleanAgain;

        for (int k = 0; k < 6; k++)
        {
            var site = trace.Steps[k].Sites[0];
            double e = E0 * Output(Burned[k]) * drive[k] * Path(GuideLit[k], Dirty[k]) * Geometry;
            found.Add($"t of step {k}", (k + 0.5) * Step, trace.Steps[k].Seconds);
            found.Add($"h of step {k}", Burned[k] * Lit, site.BurnSeconds);
            found.Add($"lit time of the guide in step {k}", GuideLit[k] * Lit, site.LitSeconds);
            found.Add($"N of step {k}", Dirty[k] * Exposures, site.Exposures);
            found.Add($"u of step {k}", drive[k], site.Drive);
            found.Add($"E of step {k}", e, site.NominalIrradiance);
            foreach (var bond in trace.Bonds.Where(b => b.Step == k))
            {
                found.Add($"dose of part {bond.Part} in step {k}", 1.5 * e, bond.Dose);
            }
        }

        HandWorkedTimeline.Rows(found, trace, Step, "as found", (3, first), (6, second));
        HandWorkedTimeline.Rows(found, trace, Step, "read", (0, E0), (3, E0 * set[0] * Output(3) * Path(3, 0)), (4, newGuide), (5, newHead), (6, cleanAgain));
        HandWorkedTimeline.Rows(found, trace, Step, "as left", (0, Target), (3, Target), (4, Target), (5, Target), (6, Target));
        HandWorkedTimeline.Rows(found, trace, Step, "set", (0, set[0]), (3, set[1]), (4, set[2]), (5, set[3]), (6, last));
        HandWorkedTimeline.Rows(found, trace, Step, "guide replaced", (4, (3 + (11.0 / 12)) * Lit));
        HandWorkedTimeline.Rows(found, trace, Step, "emitter replaced", (5, (3 + (11.0 / 12) + (8.0 / 9)) * Lit));
        found.Add("verdicts", string.Join(", ", trace.Events.Where(e => e.What == "as found").Select(e => e.Detail)) == "adjust and record, adjust");
        found.Add("some part of every step was made", trace.Bonds.Select(b => b.Step).Distinct().Count() == 6);

        var record = Simulated.Run(cell).Records[0];
        found.Add("parts made", Exposures * Up.Sum(), record.PartsMade);
        found.Add("downtime", 1800 + 2400 + 3600 + 1800, record.DowntimeSeconds);
        found.Plant("downtime leaves the head lit", E0 * Output(3.5) * drive[3] * Path(GuideLit[3], Dirty[3]) * Geometry, trace.Steps[3].Sites[0].NominalIrradiance);
        return found.Outcome();
    }
}

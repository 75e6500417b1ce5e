using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;

namespace CureSim.Checks.ClosedForms;

/// <summary>Hand-worked plant: a two-stage lamp lit all shift with ignitions, a guide with two legs lit with it, a drifting output sensor, drive in whole per cents.</summary>
internal static class LampUnderALoop
{
    // 8 h steps with two ignitions of 720 s: 1.05 burn seconds a second, 30 240 s a step, for the lamp and for the guide that is lit with it.
    private const double Step = 28800;
    private const double Burn = 1.05 * Step;
    private const double E0 = 5e4;
    private const double Target = 30000;
    private const double Loss = 1e-6;
    private const double Drift = 1e-6;

    private static double Output(double steps) => (0.1 * Math.Exp(-steps * Burn / 5e4)) + (0.9 * Math.Exp(-steps * Burn / 8e5));

    private static double Path(double steps) => Math.Exp(-steps * Burn * Loss);

    public static CheckOutcome Compare()
    {
        var cell = new ScenarioBuilder().Clock(Step, 4).Sites(2).Irradiance(E0).TwoStageAgeing(0.1, 5e4, 8e5)
            .Lit(LitDuring.WholeShift, ignitionSeconds: 720, ignitionsPerShift: 2).ReplaceEmitterAt(3.5 * Burn)
            .Guide(loss: Loss, lit: LitDuring.WholeShift, replaceAtLitSeconds: 2.5 * Burn).OutputSensor(Drift).Drive(step: 0.01)
            .Checks(2, Target, adjust: 0.01, action: 0.05, tolerance: 0.2).Limit(Response.Dose, 1e3, 1e6).Build();
        var trace = Simulated.Trace(cell);
        var found = HandWorkedTimeline.Start();

        // Commissioning: E0 is read at u = 1, so the set-point is the target, u = 0.60.
        //   step 0  r(½) = 0.95705, g = e^0.0144: 0.6/(0.95705·1.01450) = 0.6180 → 0.62
        //   step 1  r(1½) = 0.89076, g = e^0.0432: 0.6451 → 0.65
        //   end of step 1, check: r(2) = 0.86429, g = e^0.0576: 0.6554 → 0.66, found 0.66·E0·r(2)·e^−0.06048, 10.5 % low: adjusted to the set-point
        //   target/e^−0.06048 = 31 871 W/m², u = 0.7375 → 0.74, and g starts again from 1.
        //   step 2  r(2½) = 0.84089, g = e^0.0144: 0.7472 → 0.75
        //   end of step 2, new guide (planned at 2.5, reached at 3): nothing lost in it, set-point = target, u = 0.6/r(3) = 0.7319 → 0.73
        //   step 3  r(3½) = 0.80051, g = e^0.0144: 0.7388 → 0.74
        //   end of step 3, new lamp (planned at 3.5, reached at 4): the guide is one step old, set-point target/e^−0.03024 = 30 921, u = 0.6184 → 0.62;
        //   then the check: the legs' references are their as-left values of a moment ago, so they are left alone.
        double[] drive = [0.62, 0.65, 0.75, 0.74], burned = [0.5, 1.5, 2.5, 3.5], guideLit = [0.5, 1.5, 2.5, 0.5];
        for (int k = 0; k < 4; k++)
        {
            found.Add($"t of step {k}", (k + 0.5) * Step, trace.Steps[k].Seconds);
            foreach (var site in trace.Steps[k].Sites)
            {
                found.Add($"h of step {k}", burned[k] * Burn, site.BurnSeconds);
                found.Add($"lit time of the guide in step {k}", guideLit[k] * Burn, site.LitSeconds);
                found.Add($"u of step {k}", drive[k], site.Drive);
                found.Add($"sensed at full drive in step {k}", E0 * Output(burned[k]), site.SensedFull);
                found.Add($"E of step {k}", E0 * Output(burned[k]) * drive[k] * Path(guideLit[k]), site.NominalIrradiance);
            }

            foreach (var bond in trace.Bonds.Where(b => b.Step == k))
            {
                found.Add($"dose of site {bond.Site} in step {k}", E0 * Output(burned[k]) * drive[k] * Path(guideLit[k]), bond.Dose);
            }
        }

        double foundFirst = E0 * Output(2) * 0.66 * Path(2), newLamp = E0 * Path(1);
        HandWorkedTimeline.Rows(found, trace, Step, "as found", (2, foundFirst), (2, foundFirst), (4, 0.62 * newLamp), (4, 0.62 * newLamp));
        HandWorkedTimeline.Rows(
            found, trace, Step, "read",
            (0, E0), (0, E0), (2, foundFirst), (2, foundFirst), (3, E0 * Output(3)), (3, E0 * Output(3)), (4, newLamp), (4, newLamp));
        double second = E0 * Output(2) * 0.74 * Path(2), third = E0 * Output(3) * 0.73;
        HandWorkedTimeline.Rows(
            found, trace, Step, "as left",
            (0, 0.60 * E0), (0, 0.60 * E0), (2, second), (2, second), (3, third), (3, third), (4, 0.62 * newLamp), (4, 0.62 * newLamp));
        HandWorkedTimeline.Rows(found, trace, Step, "set", (0, 0.60), (2, 0.74), (3, 0.73), (4, 0.62));
        HandWorkedTimeline.Rows(found, trace, Step, "guide replaced", (3, 3 * Burn));
        HandWorkedTimeline.Rows(found, trace, Step, "emitter replaced", (4, 4 * Burn));
        found.Add("verdicts", string.Join(", ", trace.Events.Where(e => e.What == "as found").Select(e => e.Detail)) == "adjust and record, adjust and record, leave, leave");
        found.Plant("the sensor's age does not restart at a setting", 0.77, trace.Steps[2].Sites[0].Drive);
        return found.Outcome();
    }
}

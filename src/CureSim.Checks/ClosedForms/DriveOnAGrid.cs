using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;

namespace CureSim.Checks.ClosedForms;

/// <summary>Drive on a grid q held by a loop: output within half a step of the grid; the residual is uniform with sd q/(u√12).</summary>
internal static class DriveOnAGrid
{
    private const double Step = 28800;
    private const int Steps = 1500;

    public static IEnumerable<Check> All()
    {
        yield return Case("CF-GRID-1", grid: 0.01, drive: 0.6);
        yield return Case("CF-GRID-2", grid: 0.02, drive: 0.4);
        yield return Case("CF-GRID-3", grid: 0.005, drive: 0.8);
    }

    private static Check Case(string id, double grid, double drive) => new(
        id, Topics.ClosedForm, FormattableString.Invariant($"Drive on a grid of {grid} about {drive}: output within half a step, residual uniform"),
        "rounding: |residual| ≤ q/2, sd q/(u√12)", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () =>
        {
            // The wanted drive moves evenly through five steps of the grid, so that every residual comes equally often.
            double tau = Steps * Step / Math.Log((drive + (5 * grid)) / drive);
            var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, Steps).ExponentialAgeing(tau).OutputSensor().Drive(drive, grid).Build());
            var found = new ExactComparison(0.02, "u moves by ±2.5 steps of the grid about its middle and the average runs over 1500 steps; 2 % covers both");
            double squares = 0, worst = 0, offGrid = 0;
            foreach (var step in trace.Steps)
            {
                double wanted = drive * Math.Exp(step.Seconds / tau), u = step.Sites[0].Drive;
                worst = Math.Max(worst, Math.Abs(u - wanted) / (grid / 2));
                offGrid = Math.Max(offGrid, Math.Abs((u / grid) - Math.Round(u / grid)));
                double residual = (step.Sites[0].NominalIrradiance / (1e4 * drive)) - 1;
                squares += residual * residual;
            }

            double middle = drive + (2.5 * grid), sd = Math.Sqrt(squares / Steps);
            found.Add("sd of the residual", grid / (middle * Math.Sqrt(12)), sd);
            found.Add("largest residual in half steps of the grid", 1, worst);
            found.Add("never more than half a step", worst <= 1 + 1e-9);
            found.Add("always on the grid", offGrid < 1e-9);
            found.Plant("half a step of the grid taken for the sd", grid / (2 * middle), sd);
            return found.Outcome();
        });
}

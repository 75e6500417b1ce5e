using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.Checks.ClosedForms;

/// <summary>
/// An exact process set by a noisy meter only: ln dose = ln(target dose) − (b_meter + b_cal + ε). All variance lies between settings, none among the parts
/// of one; checking more often cannot lower the floor of the fraction outside; the meter's own error never averages out.
/// </summary>
internal static class NoisyMeter
{
    private const double Step = 28800;
    private const double Target = 5e3;

    public static IEnumerable<SampledCheck> All()
    {
        yield return Fraction("CF-METER-1", 421, meter: 0.03, calibration: 0.02, reading: 0.01, limit: 0.07, interval: 4);
        yield return Fraction("CF-METER-2", 422, meter: 0.01, calibration: 0.03, reading: 0.02, limit: 0.07, interval: 4);
        yield return Fraction("CF-METER-3", 423, meter: 0.01, calibration: 0.03, reading: 0.02, limit: 0.07, interval: 1);
        yield return BetweenCells("CF-METER-4", 424, meter: 0.03, calibration: 0.0, reading: 0.0);
        yield return BetweenCells("CF-METER-5", 425, meter: 0.0, calibration: 0.03, reading: 0.02);
        yield return BetweenCells("CF-METER-6", 426, meter: 0.02, calibration: 0.02, reading: 0.02);
    }

    public static IEnumerable<Check> WithinSettings()
    {
        yield return Within("CF-METER-WITHIN-1", 3);
        yield return Within("CF-METER-WITHIN-2", 7);
    }

    private static Uncertain Log(double sd) => sd > 0 ? Varying(new NormalDistribution(0, sd)) : 0.0;

    private static ScenarioBuilder Cell(double meter, double calibration, double reading, int interval) => new ScenarioBuilder()
        .Irradiance(4 * Target).Checks(interval, Target, action: 1e-6, tolerance: 1e-6)
        .Radiometer(Log(meter), Log(calibration), calibrationSteps: interval, repeatability: Log(reading));

    private static SampledCheck Fraction(string id, ulong seed, double meter, double calibration, double reading, double limit, int interval)
    {
        double sd = Math.Sqrt((meter * meter) + (calibration * calibration) + (reading * reading));
        double expected = 2e6 * BlockMath.NormalCdf(-limit / sd);
        return new(
            id, Topics.ClosedForm, FormattableString.Invariant($"Exact process set by a noisy meter every {interval} steps: percentiles and fraction outside"),
            "ln H = ln(target dose) − (b_meter + b_cal + ε)", seed, "the reading's error averaged over the settings of a lifetime",
            s =>
            {
                const int Settings = 8;
                double wrongSd = Math.Sqrt((meter * meter) + ((calibration * calibration) / Settings) + ((reading * reading) / Settings));
                var run = Simulated.Analysis(Cell(meter, calibration, reading, interval).Clock(Step, Settings * interval)
                    .Limit(Response.Dose, Target * Math.Exp(-limit), Target * Math.Exp(limit)).Run(lifetimes: 8192, seed: s).Build());
                return
                [
                    Sample.Of("X50 J/cm²", 1e-4 * Target, run.Figure("dose_x50_j_per_cm2")),
                    Sample.Of("counted outside ppm", expected, run.Figure("bonds_nonconforming_counted_ppm"), 2e6 * BlockMath.NormalCdf(-limit / wrongSd)),
                    Sample.Of("time outside the window %", 1e-4 * expected, run.Figure("time_outside_window_percent")),
                    run.Result.BatchMean(
                        "sd of dose J/cm²", 1e-4 * Target * Math.Exp(sd * sd / 2) * Math.Sqrt(BlockMath.ExpMinusOne(sd * sd)), u => 1e-4 * u.BySite[0, 0].StandardDeviation),
                ];
            });
    }

    private static SampledCheck BetweenCells(string id, ulong seed, double meter, double calibration, double reading)
    {
        const int Settings = 10;
        double redrawn = (calibration * calibration) + (reading * reading);
        double expected = (meter * meter) + (redrawn / Settings);
        double wrong = ((meter * meter) + redrawn) / (redrawn > 0 ? 1 : Settings);
        return new(
            id, Topics.ClosedForm,
            FormattableString.Invariant($"Exact process set by a noisy meter ({meter}, {calibration}, {reading}): variance between cells of the mean log dose over {Settings} settings"),
            "u_meter² + (u_cal² + u_rep²)/settings", seed, redrawn > 0 ? "nothing averages" : "the meter's own error averages",
            s =>
            {
                const int Lifetimes = 5000;
                var scenario = Cell(meter, calibration, reading, 1).Clock(Step, Settings).Limit(Response.Dose, 1, 1e6).Run(lifetimes: Lifetimes, seed: s).Build();
                double[] squares =
                [
                    .. Simulated.Traces(scenario, Lifetimes).Select(t => t.Bonds.Average(b => Math.Log(b.Dose / Target))).Select(mean => mean * mean),
                ];
                return [Sample.Mean("variance between cells", expected, squares, wrong)];
            });
    }

    private static Check Within(string id, ulong seed) => new(
        id, Topics.ClosedForm, "Exact process set by a noisy meter: no variance among the parts of one setting, and another dose after the next",
        "ln H = ln(target dose) − (b_meter + b_cal + ε), the same until the next setting", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () =>
        {
            var trace = Simulated.Trace(Cell(0.03, 0.02, 0.01, 4).Clock(Step, 24).Limit(Response.Dose, 1, 1e6).Run(partsAStep: 3, seed: seed).Build());
            var found = new ExactComparison(1e-15, "the same product of the same numbers");
            double[] first = [.. trace.Bonds.GroupBy(b => b.Step / 4).Select(g => g.First().Dose)];
            foreach (var bond in trace.Bonds)
            {
                found.Add($"dose of part {bond.Part} in step {bond.Step}", first[bond.Step / 4], bond.Dose);
            }

            found.Add("six settings give six doses", first.Distinct().Count() == 6);
            found.Plant("one setting for the whole horizon", first[0], first[^1]);
            return found.Outcome();
        });
}

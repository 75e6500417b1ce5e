using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;

namespace CureSim.Checks.ClosedForms;

/// <summary>All spreads zero and one factor at work, so that every step of a traced lifetime equals its formula.</summary>
internal static class SingleFactors
{
    private const double Step = 28800;
    private const double E0 = 2e4;

    public static IEnumerable<Check> All()
    {
        foreach (var (n, radius, angle, reference, distance) in new[] { (1, 0.0025, 0.35, 0.010, 0.013), (2, 0.004, 0.25, 0.020, 0.012) })
        {
            yield return Spread(
                $"CF-FACTOR-AXIS-{n}", "axis of a cone of uniform radiance", "a²/(a² + d²)/sin²θ beyond a/tan θ, 1 up to there", new ConeAxisSpread(radius, angle), reference, distance,
                d => Math.Min(1, radius * radius / ((radius * radius) + (d * d)) / (Math.Sin(angle) * Math.Sin(angle))), d => radius / (radius + d));
        }

        foreach (var (n, focus, range, reference, distance) in new[] { (1, 0.012, 0.004, 0.012, 0.015), (2, 0.010, 0.006, 0.014, 0.007) })
        {
            yield return Spread(
                $"CF-FACTOR-FOCUS-{n}", "spot with a focus", "1/(1 + ((d − focus)/range)²)", new FocusedSpread(focus, range), reference, distance,
                d => 1 / (1 + Math.Pow((d - focus) / range, 2)), d => 1 / (1 + Math.Abs((d - focus) / range)));
        }

        yield return Slab("CF-FACTOR-SLAB-1", 0.05, 250, 1.2e-3);
        yield return Slab("CF-FACTOR-SLAB-2", 0.12, 30, 2e-3);
        yield return Band("CF-FACTOR-BAND-1", 0.004);
        yield return Band("CF-FACTOR-BAND-2", 0.02);
        yield return BandLost("CF-FACTOR-LOST-1", 0.01, ratio: 1.25, interval: 5);
        yield return BandLost("CF-FACTOR-LOST-2", 0.03, ratio: 1.6, interval: 4);
        yield return Meter("CF-FACTOR-METER-1", 0.001, calibration: 20, interval: 5);
        yield return Meter("CF-FACTOR-METER-2", -0.003, calibration: 12, interval: 4);
        yield return Cure("CF-FACTOR-CURE-1", 0.95, 0.9, 0.6, induction: 0, seconds: 2);
        yield return Cure("CF-FACTOR-CURE-2", 0.9, 0.5, 0.8, induction: 4e3, seconds: 3);
    }

    private static Check Of(string id, string what, string source, Action<ExactComparison> compare) => new(
        id, Topics.ClosedForm, "All spreads zero, " + what, source, Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () =>
        {
            var found = HandWorkedTimeline.Start();
            compare(found);
            return found.Outcome();
        });

    private static Check Spread(
        string id, string what, string source, SpreadLaw law, double reference, double distance, Func<double, double> factor, Func<double, double> wrong) => Of(
        id, FormattableString.Invariant($"{what}: irradiance stated at {1e3 * reference:0} mm and used at {1e3 * distance:0} mm"), source,
        found =>
        {
            var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, 2).Irradiance(E0).Distance(distance, law, reference: reference).Build());
            double e = trace.Steps[1].Sites[0].NominalIrradiance;
            found.Add("E, W/m²", E0 * factor(distance) / factor(reference), e);
            foreach (var bond in trace.Bonds)
            {
                found.Add($"dose of part {bond.Part} in step {bond.Step}, J/m²", E0 * factor(distance) / factor(reference), bond.Dose);
            }

            found.Plant("another power of the distance", E0 * wrong(distance) / wrong(reference), e);
        });

    private static Check Slab(string id, double reflectance, double absorption, double thickness) => Of(
        id, FormattableString.Invariant($"substrate that reflects {100 * reflectance:0} % at each face: irradiance behind it"), "(1 − R)²e^(−αx)/(1 − R²e^(−2αx)), sum of the internal reflections",
        found =>
        {
            var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, 2).Irradiance(E0).Substrate(reflectance, thickness, absorption).Build());
            double passed = Math.Exp(-absorption * thickness), first = (1 - reflectance) * (1 - reflectance) * passed, sum = 0;

            // Each further passage there and back multiplies by R²e^(−2αx).
            for (int k = 0; k < 40; k++)
            {
                sum += first * Math.Pow(reflectance * passed, 2 * k);
            }

            found.Add("E, W/m²", E0 * sum, trace.Steps[1].Sites[0].NominalIrradiance);
            foreach (var bond in trace.Bonds)
            {
                found.Add($"dose of part {bond.Part} in step {bond.Step}, J/m²", E0 * sum, bond.Dose);
            }

            found.Plant("one face", E0 * sum / (1 - reflectance), trace.Steps[1].Sites[0].NominalIrradiance);
        });

    private static Check Band(string id, double perStep) => Of(
        id, FormattableString.Invariant($"the useful band ages by {perStep} a step beyond what sensor and radiometer see: irradiance at every step"), "e^(−γh) since the emitter was new",
        found =>
        {
            var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, 30).Irradiance(4 * E0).BandAgeing(perStep / Step).OutputSensor().Checks(10, E0, action: 1e-6, tolerance: 1e-6)
                .ReplaceEmitterAt(20 * Step).Build());
            for (int k = 0; k < 30; k++)
            {
                found.Add($"E of step {k}", E0 * Math.Exp(-perStep * ((k % 20) + 0.5)), trace.Steps[k].Sites[0].NominalIrradiance);
            }

            found.Plant("the sign turned round", E0 * Math.Exp(perStep * 9.5), trace.Steps[9].Sites[0].NominalIrradiance);
        });

    // At a check the state is computed for one lifetime by itself, elsewhere for many in lock-step: both must age the band.
    private static Check BandLost(string id, double perStep, double ratio, int interval) => Of(
        id, FormattableString.Invariant($"the useful band ages by {perStep} a step unseen, limit a factor {ratio} below: state lost is found at the first check beyond ln {ratio}/{perStep} steps"),
        "first multiple of the interval at or beyond ln(ratio)/γ",
        found =>
        {
            var cell = new ScenarioBuilder().Clock(Step, 40).Irradiance(E0).BandAgeing(perStep / Step).Checks(interval, E0, adjust: 0.1, action: 0.2, tolerance: 0.3)
                .Limit(Response.Dose, E0 / ratio).Capability(null).RequalifyOn(true, RequalifyEvent.StateLost).Build();
            double lost = Math.Log(ratio) / perStep, at = Simulated.Run(cell).Records[0].RequalifySeconds / Step;
            found.Add("check that finds the state lost, steps", Math.Ceiling(lost / interval) * interval, at);
            found.Plant("the check before", (Math.Ceiling(lost / interval) - 1) * interval, at);
        });

    private static Check Meter(string id, double perStep, int calibration, int interval) => Of(
        id, FormattableString.Invariant($"radiometer that drifts by {perStep} a step, calibrated every {calibration} and used every {interval} steps: irradiance after each setting"),
        "e^(−drift·t) since the last calibration, t of the setting",
        found =>
        {
            const int Steps = 40;
            var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, Steps).Irradiance(2 * E0).Checks(interval, E0, action: 1e-6, tolerance: 1e-6)
                .Radiometer(drift: perStep / Step, calibrationSteps: calibration).Build());
            for (int k = 0; k < Steps; k++)
            {
                // A calibration that is due at the same time as a check comes first.
                int set = k / interval * interval;
                found.Add($"E of step {k}", E0 * Math.Exp(-perStep * (set % calibration)), trace.Steps[k].Sites[0].NominalIrradiance);
            }

            found.Plant("the sign turned round", E0 * Math.Exp(perStep * interval), trace.Steps[interval].Sites[0].NominalIrradiance);
        });

    private static Check Cure(string id, double maximum, double rate, double exponent, double induction, double seconds) => Of(
        id, FormattableString.Invariant($"degree of cure, exponent {exponent}, induction dose {1e-4 * induction} J/cm²: as the lamp fades"), "Xmax(1 − exp(−k·E^p·(t − H/E))), E in W/cm²",
        found =>
        {
            var trace = Simulated.Trace(new ScenarioBuilder().Clock(Step, 12).Irradiance(E0).ExponentialAgeing(10 * Step).Exposure(seconds)
                .Cure(maximum, rate, exponent, induction: induction).Limit(Response.DegreeOfCure, 0.2).Run(partsAStep: 2).Build());
            double Degree(double e, double p) => maximum * (1 - Math.Exp(-rate * Math.Pow(e * 1e-4, p) * (seconds - (induction / e))));
            foreach (var bond in trace.Bonds)
            {
                found.Add($"X of part {bond.Part} in step {bond.Step}", Degree(E0 * Math.Exp(-(bond.Step + 0.5) / 10), exponent), bond.DegreeOfCure);
            }

            found.Plant("exponent 1", Degree(E0 * Math.Exp(-1.15), 1), trace.Bonds.First(b => b.Step == 11).DegreeOfCure);
        });
}

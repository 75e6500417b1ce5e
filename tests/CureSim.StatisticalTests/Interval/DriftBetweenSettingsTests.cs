using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Studies.Interval;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Interval;

/// <summary>ln dose drifts by κ between settings, parts scatter by σ: nonconforming fraction by interval, with an exact meter and with a lognormal one.</summary>
/// <remarks>
/// P̄(T) = (σ/κT)[G(z_T) − G(z_0)], z = (κt − m)/σ, G(z) = zΦ(z) + φ(z), m = ln 1.15, κ = 10⁻⁴/h, σ = 0.05; with a meter of log error u σ becomes √(σ² + u²).
/// The values were recomputed by quadrature outside this project (provenance: recomputed). Adjust limit 0, continuous drive, no repeatability.
/// </remarks>
public class DriftBetweenSettingsTests
{
    private const double Hour = 3600;
    private const double Step = 5;
    private const double Drift = 1e-4;
    private const double Sigma = 0.05;
    private const double Meter = 0.0469; // as the values were worked out: 4.69 %, a meter of √22 %
    private const double Target = 5e3;

    private static readonly double Margin = Math.Log(1.15);

    private static double Mean(double t, double sd)
    {
        double G(double z) => (z * BlockMath.NormalCdf(z)) + BlockMath.NormalDensity(z);
        return sd / (Drift * t) * (G(((Drift * t) - Margin) / sd) - G(-Margin / sd));
    }

    private static IntervalResult Study(bool meter, int lifetimes, params int[] hours) => IntervalResult.Run(
        new ScenarioBuilder().Clock(Step * Hour, 200).Irradiance(4 * Target).ExponentialAgeing(Hour / Drift).Ripple(Varying(new NormalDistribution(0, Sigma)))
            .Checks(2, Target, adjust: 0, action: 1e-6, tolerance: 0.5).Radiometer(meter: meter ? Varying(new NormalDistribution(0, Meter)) : 0.0)
            .Limit(Response.Dose, Target * Math.Exp(-Margin)).Run(lifetimes: lifetimes, seed: 20263)
            .With(s => s with { IntervalStudy = IntervalStudy.Usual with { Candidates = [.. hours.Select(t => new CheckTiming($"{t} h", (int)(t / Step), null, null, false))] } }).Build(),
        2, beside: false);

    [Fact]
    public void Formula_GivesTheValuesWrittenDown()
    {
        double both = Math.Sqrt((Sigma * Sigma) + (Meter * Meter));
        Assert.Equal(0.00356443, Mean(100, Sigma), 5e-9);
        Assert.Equal(0.00587925, Mean(250, Sigma), 5e-9);
        Assert.Equal(0.0136742, Mean(500, Sigma), 5e-8);
        Assert.Equal(0.0602229, Mean(1000, Sigma), 5e-8);
        Assert.Equal(0.0324326, Mean(250, both), 5e-7);
        Assert.Equal(0.0207389, BlockMath.NormalCdf(-Margin / both), 5e-7);
    }

    [Fact]
    public void ExactMeter_GivesTheFractionOfTheIntegral()
    {
        foreach (var c in Study(false, 512, 100, 250, 500, 1000).Candidates)
        {
            double t = c.Run.IntervalHours, expected = 1e6 * Mean(t, Sigma);
            int steps = (int)(t / Step);
            double midpoints = Enumerable.Range(0, steps).Average(k => 1e6 * BlockMath.NormalCdf((((k + 0.5) * Step * Drift) - Margin) / Sigma));
            var found = c.Run.Find(IntervalMeasures.Ppm)!.Estimate;

            // Three standard errors (the choice of one state in 16), and the midpoint rule's difference from the integral.
            double allowed = (3 * found.StandardError!.Value) + Math.Abs(midpoints - expected);
            Assert.True(Math.Abs(found.Get() - expected) <= allowed, $"{t} h: {found}, expected {expected}");
            double planted = 1e6 * 0.5 * (BlockMath.NormalCdf(-Margin / Sigma) + BlockMath.NormalCdf(((Drift * t) - Margin) / Sigma));
            if (t >= 500)
            {
                Assert.True(Math.Abs(found.Get() - planted) > allowed, $"planted error (mean of both ends) at {t} h");
            }
        }
    }

    [Fact]
    public void LognormalMeter_LeavesAFloorThatNoIntervalBeats()
    {
        double both = Math.Sqrt((Sigma * Sigma) + (Meter * Meter)), floor = 1e6 * BlockMath.NormalCdf(-Margin / both);
        var study = Study(true, 4096, 5, 100, 250, 1000);
        foreach (var c in study.Candidates)
        {
            double expected = 1e6 * Mean(c.Run.IntervalHours, both);
            var found = c.Run.Find(IntervalMeasures.Ppm)!.Estimate;
            Assert.True(Math.Abs(found.Get() - expected) <= 3 * found.StandardError!.Value, $"{c.Run.IntervalHours} h: {found}, expected {expected}");
            Assert.True(Math.Abs(found.Get() - (1e6 * Mean(c.Run.IntervalHours, Sigma))) > 3 * found.StandardError!.Value, "planted error: the meter left out");
        }

        // A check in every step: three standard errors above nothing, at the floor, far above the 2593 ppm of an exact meter.
        var shortest = study.Candidates[0].Run.Find(IntervalMeasures.Ppm)!.Estimate;
        Assert.InRange(floor, shortest.Get() - (3 * shortest.StandardError!.Value), shortest.Get() + (3 * shortest.StandardError!.Value));
    }

    [Fact]
    public void Binding_OfAMissThatTheMeterMakes_NamesTheRadiometer()
    {
        var cell = Study(true, 64, 5).Scenario;
        var study = IntervalResult.Run(cell with { Run = cell.Run with { LifetimesPerWorld = 512 }, IntervalStudy = cell.IntervalStudy! with { NonconformingLimit = 5e-3 } }, 2);
        Assert.Null(study.Longest);
        Assert.Equal("radiometer", study.Binding!.Effects.Where(e => e.Contributor.Id != "parts").MinBy(e => e.Verdict.Shortfall)!.Contributor.Id);
        Assert.True(study.Binding.Effects.Single(e => e.Contributor.Id == "radiometer").Verdict.Meets);
    }
}

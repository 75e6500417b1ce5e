using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Checks.Fixtures;
using static CureSim.Checks.Fixtures.Uncertain;

namespace CureSim.StatisticalTests.Reference;

/// <summary>The brute-force p(state) against closed forms, against integrals made with R, and against counting parts.</summary>
public class BruteForceVerdictTests
{
    private const double E0 = 1e4; // with 1 s exposures the nominal dose is 10⁴ J/m²

    private static Uncertain Log(double sd) => Varying(new NormalDistribution(0, sd));

    private static ScenarioBuilder Dose(double? lowerRatio, double? upperRatio = null) => new ScenarioBuilder().Irradiance(E0)
        .Limit(Response.Dose, lowerRatio * E0, upperRatio * E0);

    // p of the commissioned state.
    private static double P(ScenarioBuilder scenario) =>
        new ReferenceEngine(scenario.Clock(28800, 1).Build(), new CommissionedOnly()).Run(0, 0).Commissioned.Nonconforming;

    private static void Close(double expected, double actual, double relative = 1e-6) => // 10⁻⁶ is what the verdict promises
        Assert.True(Math.Abs(actual - expected) <= relative * expected, $"{actual:R} is not {expected:R}");

    [Theory]
    [InlineData(0.9)]
    [InlineData(0.8)]
    [InlineData(0.74)]
    [InlineData(0.999)]
    public void RippleOnly_IsANormalTailOfTheLog(double limit)
    {
        double z = Math.Log(limit) / 0.05;
        Close(BlockMath.NormalCdf(z), P(Dose(limit).Ripple(Log(0.05))));
        Close(BlockMath.NormalCdf(z), P(Dose(limit).Ripple(Log(0.05)).OneEmitterASite()));
        Close(BlockMath.NormalCdf(z), P(Dose(null, 1 / limit).Ripple(Log(0.05))));
        Close(2 * BlockMath.NormalCdf(z), P(Dose(limit, 1 / limit).Ripple(Log(0.05))));
    }

    [Fact]
    public void TimeOnly_IsANormalTailOfTheTime()
    {
        Close(
            BlockMath.NormalCdf(-4) + BlockMath.NormalCdf(-5),
            P(Dose(0.6, 1.5).Sites(3).Exposure(1, error: Varying(new NormalDistribution(0, 0.1)))));
    }

    [Theory]
    [InlineData(1, 0.97)]
    [InlineData(2, 0.9)]
    [InlineData(4, 0.82)]
    public void LognormalFactors_OwnAndShared_MultiplyAndCombine(int sites, double limit)
    {
        // No reflection: S = e^(−αx) with αx ~ N(0.4, 0.03²). Own ripple adds its variance; the bonds of a part are independent.
        double sd = Math.Sqrt((0.03 * 0.03) + (0.02 * 0.02));
        double q = BlockMath.NormalCdf(Math.Log(limit) / sd);
        var open = Dose(limit * Math.Exp(-0.4)).Sites(sites).Substrate(0, Varying(new NormalDistribution(0.002, 0.00015)), 200);
        Close(1 - Math.Pow(1 - q, sites), P(open.OneEmitterASite().Ripple(Log(0.02))), 1e-6 + (1e-15 / q)); // the expectation itself cancels
    }

    [Theory]
    [InlineData(0.9)]
    [InlineData(0.3)]
    public void CentredAim_IsAPowerOfAUniform(double limit)
    {
        // ln of the factor is −(4σ²/w²)·exponential: P(f < a) = a^(w²/4σ²).
        double power = 0.004 * 0.004 / (4 * 0.0005 * 0.0005);
        var aim = Dose(limit).Aim(new GaussianBeam(0.004, 2), part: Log(0.0005));
        Close(Math.Pow(limit, power), P(aim));
        Close(1 - Math.Pow(limit, power), P(Dose(null, limit).Aim(new GaussianBeam(0.004, 2), part: Log(0.0005))));
    }

    // R 4.2.2: pchisq((R/s)^2, 2, ncp = (m/s)^2, lower.tail = FALSE) with R = w·√(−ln(f)/2), m = 0.8 mm, s = 0.3 mm, w = 4 mm (recomputed).
    [Theory]
    [InlineData(0.8, 0.0503454040943018)]
    [InlineData(0.7, 0.00227961541693958)]
    public void AimOffCentre_IsNoncentralChiSquare(double limit, double expected) =>
        Close(expected, P(Dose(limit).Aim(new GaussianBeam(0.004, 2), setup: 0.0008 / Math.Sqrt(2), part: Log(0.0003))));

    // R 4.2.2, Gauss–Hermite rules of 20 … 56 points in time, ripple, distance and tilt, the aim by its power law (recomputed). The rules agree to
    // 5·10⁻⁹ on the lower limit; on both to 2·10⁻⁶, because the upper one puts an edge into what they integrate.
    [Theory]
    [InlineData(0.8, null, 0.000392863001589868, 1e-6)]
    [InlineData(0.85, 1.3, 0.00579853065976573, 5e-6)]
    public void FiveQuantitiesOfTwoBonds_AgreeWithAnotherRule(double lower, double? upper, double expected, double relative)
    {
        var five = Dose(2 * lower, 2 * upper).Sites(2).Exposure(2, error: Varying(new NormalDistribution(0, 0.02))).Ripple(Log(0.01))
            .Distance(0.01, new InverseSquareSpread(0.005), part: Log(0.00025))
            .Tilt(Log(4 * Math.PI / 180)).Aim(new GaussianBeam(0.004, 2), part: Log(0.0003));
        Close(expected, P(five), relative);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(1.0)]
    public void DegreeOfCure_WithoutInduction_IsANormalTailOfTheLogOfTheExponent(double exponent)
    {
        // X ≥ L ⟺ k·E^p·t ≥ −ln(1 − L/Xmax); at E = 1 W/cm² and t = 1 s the logs of k and E^p are normal.
        double needed = -Math.Log(1 - (0.8 / 0.95));
        double k = needed * Math.Exp(3.5 * 0.05);
        double sd = Math.Sqrt((0.03 * 0.03) + (exponent * exponent * 0.04 * 0.04));
        var cure = new ScenarioBuilder().Irradiance(E0).OneEmitterASite().Ripple(Log(0.04)).NoLimit(Response.Dose)
            .Cure(0.95, k, exponent, ratePart: Log(0.03)).Limit(Response.DegreeOfCure, 0.8);
        Close(BlockMath.NormalCdf(-3.5 * 0.05 / sd), P(cure));
    }

    [Fact]
    public void PartsOfAFrozenState_AreCountedOutsideAsOftenAsIntegrated()
    {
        // Everything that may vary between parts does, and every response is limited. 10⁵ parts of two bonds.
        var scenario = Dose(0.85, 1.2).Sites(2).Clock(28800, 100).Run(partsAStep: 1000, seed: 77)
            .Exposure(1, error: Varying(new NormalDistribution(0, 0.02)))
            .Distance(0.01, new ConeMeanSpread(0.0025, 0.3), part: Log(0.0003)).Aim(new GaussianBeam(0.005, 3), part: Log(0.0004))
            .BondRadius(0.0005).Irradiance(1.02 * E0)
            .Cure(1, 2, 0.6, ratePart: Log(0.03), induction: 1000).Limit(Response.DegreeOfCure, 0.8).Limit(Response.Irradiance, 8600);
        var history = new ReferenceEngine(scenario.Build(), new CommissionedOnly()).Run(0, 0);

        double p = history.Commissioned.Nonconforming;
        double counted = (double)history.NonconformingParts / history.SampledParts;
        Assert.Equal(100_000, history.SampledParts);
        Assert.InRange(p, 0.01, 0.5);

        // One binomial, fixed seed: 4.5 standard errors is a chance of 7·10⁻⁶. It would show a p wrong by 5 %.
        Assert.True(Math.Abs(counted - p) < 4.5 * Math.Sqrt(p * (1 - p) / history.SampledParts), $"counted {counted}, integrated {p}");
    }

    [Theory]
    [InlineData(1.33)]
    [InlineData(1.0)]
    public void RequiredCapability_IsLeftWhenTheIndexFallsBelowIt(double required)
    {
        // The log of the dose falls by 0.002 a step from 0.2 above the limit; ripple 0.03: index (0.2 − 0.002·n)/0.09.
        double crosses = (0.2 - (0.09 * required)) / 0.002;
        var history = new ReferenceEngine(
            Dose(Math.Exp(-0.2)).Clock(1000, 100).ExponentialAgeing(1000 / 0.002).Ripple(Log(0.03)).Capability(required).Build(),
            new BruteForceVerdict()).Run(0, 0);

        Assert.Equal((Math.Ceiling(crosses - 0.5) + 0.5) * 1000, Assert.Single(history.Of(HistoryKind.ExcursionStart)).TimeSeconds);
        Assert.Equal((0.2 - 0.001) / 0.09, history.Steps[0].Verdict.Index, 1e-6); // as good as p itself
        Assert.All(history.Steps, step => Assert.True(step.Verdict.NominalInside));
    }

    // The state never changes, so it is integrated once.
    private sealed class CommissionedOnly : IStateVerdict
    {
        private StateVerdict? _first;

        public StateVerdict Judge(ReferenceState state) => _first ??= new BruteForceVerdict().Judge(state);
    }
}

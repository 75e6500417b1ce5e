using CureSim.Core.Cell;
using CureSim.Checks.Fixtures;

namespace CureSim.StatisticalTests.Reference;

/// <summary>
/// All spreads zero: eight steps worked by hand. Checks at the ends of the fourth and the eighth step, a new guide at the end of the fifth, a new
/// emitter at the end of the sixth. Every expectation is written out from the quantities below, not taken from the engine.
/// </summary>
public class HandWorkedTimelineTests
{
    // Both sides are a few dozen roundings of 1.1·10⁻¹⁶ and exponentials good to 1 ulp.
    private const double Tolerance = 1e-12;

    // The plant: 8 h steps, ten ignitions of 144 s, so 1.05 burn seconds a second; 0.05 parts a second, 2 s + 0.05 s exposures, so 1440
    // exposures and 2952 s of lit guide a step.
    private const double Step = 28800;
    private const double Burn = 1.05 * Step;
    private const double Lit = 0.05 * 2.05 * Step;
    private const double Exposures = 0.05 * Step;
    private const double E0 = 5e4;
    private const double Target = 30200;
    private const double Tau = 2e6;
    private const double Loss = 2e-6;
    private const double Fouling = 4e-6;
    private const double Band = 3e-8;

    // After the tip: from 15 mm to 17 mm of virtual distance, and a slab with R = 0.04 and αx = 0.4.
    private static readonly double Geometry = 15.0 * 15.0 / (17.0 * 17.0);
    private static readonly double Slab = 0.96 * 0.96 * Math.Exp(-0.4) / (1 - (0.0016 * Math.Exp(-0.8)));

    // At the middles of the steps, in steps since: emitter new, guide new, and exposures (the first check leaves a tenth of 4 steps).
    private static readonly double[] BurnSteps = [0.5, 1.5, 2.5, 3.5, 4.5, 5.5, 0.5, 1.5];
    private static readonly double[] LitSteps = [0.5, 1.5, 2.5, 3.5, 4.5, 0.5, 1.5, 2.5];
    private static readonly double[] DirtySteps = [0.5, 1.5, 2.5, 3.5, 0.4 + 0.5, 0.5, 1.5, 2.5];

    private static ScenarioBuilder Plant() => new ScenarioBuilder()
        .Clock(Step, 8).Rate(0.05).Exposure(2, offset: 0.05)
        .Irradiance(E0).ExponentialAgeing(Tau).Lit(LitDuring.WholeShift, ignitionSeconds: 144, ignitionsPerShift: 10)
        .BandAgeing(Band).ReplaceEmitterAt(6 * Burn)
        .Guide(loss: Loss, replaceAtLitSeconds: 4.5 * Lit).Tip(Fouling, cleaningEffect: 0.9)
        .Distance(0.012, new InverseSquareSpread(0.005), reference: 0.010)
        .Substrate(0.04, thickness: 0.002, absorption: 200)
        .Checks(4, Target, adjust: 0.025, action: 0.06, tolerance: 0.15, clean: true)
        .Limit(Response.Dose, 2e4, 6e4);

    private static double Output(double burnSteps) => Math.Exp(-burnSteps * Burn / Tau);

    private static double Path(double litSteps, double dirtySteps) => Math.Exp((-litSteps * Lit * Loss) - (dirtySteps * Exposures * Fouling));

    [Fact]
    public void NoLoop_EveryStep_EqualsTheHandWorkedTimeline()
    {
        // Settings, each u·target/indication to the nearest per cent, from a reading at u = 1 after an installation:
        //   commissioning  0.604                                  = 0.604  → 0.60
        //   first check    0.604·exp(4·0.01512 + 4.4·…)           = 0.658  → 0.66
        //   new guide      0.604·exp(5·0.01512)                   = 0.651  → 0.65   (nothing on the tip)
        //   new emitter    0.604·exp(0.00590 + 0.00576)           = 0.611  → 0.61
        //   second check   0.604·exp(2·0.01512 + 3·0.00590 + 0.3·0.00576) = 0.6348 → 0.63
        double[] drive = [0.60, 0.60, 0.60, 0.60, 0.66, 0.65, 0.61, 0.61];
        var history = new ReferenceEngine(Plant().Drive(step: 0.01).Build(), new NominalVerdict()).Run(0, 0);

        for (int k = 0; k < 8; k++)
        {
            AssertStep(history, k, drive[k], E0 * Output(BurnSteps[k]) * drive[k]);
        }

        double first = E0 * 0.60 * Output(4) * Path(4, 4);
        double second = E0 * 0.61 * Output(2) * Path(3, 3);
        AssertRows(history, HistoryKind.AsFound, (4, first), (8, second));
        AssertRows(history, HistoryKind.Verdict, (4, (double)CheckVerdict.AdjustAndRecord), (8, (double)CheckVerdict.Adjust));
        AssertRows(history, HistoryKind.Setting, (0, 0.60), (4, 0.66), (5, 0.65), (6, 0.61), (8, 0.63));
        AssertRows(
            history,
            HistoryKind.Reading,
            (0, E0),
            (4, E0 * 0.60 * Output(4) * Path(4, 0.4)),
            (5, E0 * Output(5)),
            (6, E0 * Path(1, 1)),
            (8, E0 * 0.61 * Output(2) * Path(3, 0.3)));
        AssertRows(
            history,
            HistoryKind.AsLeft,
            (0, E0 * 0.60),
            (4, E0 * 0.66 * Output(4) * Path(4, 0.4)),
            (5, E0 * 0.65 * Output(5)),
            (6, E0 * 0.61 * Path(1, 1)),
            (8, E0 * 0.63 * Output(2) * Path(3, 0.3)));
        AssertEventsOfBoth(history);
    }

    [Fact]
    public void OutputSensor_EveryStep_EqualsTheHandWorkedTimeline()
    {
        // The loop holds E0·r·u = S/g. A setting makes S = target/A at that moment, and g starts again from 1.
        const double drift = 5e-8;
        double[] pathWhenSet = [1, 1, 1, 1, Path(4, 0.4), 1, Path(1, 1), Path(1, 1)];
        double[] stepsSinceSet = [0.5, 1.5, 2.5, 3.5, 0.5, 0.5, 0.5, 1.5];
        var history = new ReferenceEngine(Plant().OutputSensor(drift).Build(), new NominalVerdict()).Run(0, 0);

        for (int k = 0; k < 8; k++)
        {
            double held = Target / pathWhenSet[k] * Math.Exp(-drift * stepsSinceSet[k] * Step);
            AssertStep(history, k, held / (E0 * Output(BurnSteps[k])), Target / pathWhenSet[k]);
        }

        double first = Target * Math.Exp(-drift * 4 * Step) * Path(4, 4);
        double second = Target / Path(1, 1) * Math.Exp(-drift * 2 * Step) * Path(3, 3);
        AssertRows(history, HistoryKind.AsFound, (4, first), (8, second));
        AssertRows(history, HistoryKind.Verdict, (4, (double)CheckVerdict.Adjust), (8, (double)CheckVerdict.Adjust));
        AssertRows(
            history,
            HistoryKind.Setting,
            (0, Target / E0),
            (4, Target / Path(4, 0.4) / (E0 * Output(4))),
            (5, Target / (E0 * Output(5))),
            (6, Target / Path(1, 1) / E0),
            (8, Target / Path(3, 0.3) / (E0 * Output(2))));
        AssertEventsOfBoth(history);
    }

    private static void AssertStep(LifetimeHistory history, int k, double drive, double sensed)
    {
        var step = history.Steps[k];
        var site = Assert.Single(step.Sites);
        double band = Math.Exp(-Band * BurnSteps[k] * Burn);
        double atTip = E0 * Output(BurnSteps[k]) * drive * Path(LitSteps[k], DirtySteps[k]);
        Close((k + 0.5) * Step, step.MiddleSeconds);
        Close(BurnSteps[k] * Burn, site.BurnSeconds);
        Close(LitSteps[k] * Lit, site.LitSeconds);
        Close(DirtySteps[k] * Exposures, site.Exposures);
        Close(drive, site.Drive);
        Close(sensed, site.SensedOutput);
        Close(atTip * Geometry * band * Slab, site.NominalIrradiance);

        // Nothing varies, so the sampled part is the nominal one.
        var bond = Assert.Single(Assert.Single(step.Parts).Bonds);
        Close(site.NominalIrradiance, bond.Irradiance);
        Close(site.NominalIrradiance * 2.05, bond.Dose);
        Assert.Equal(bond.Dose is < 2e4 or > 6e4, bond.Nonconforming);
        Assert.Equal(!bond.Nonconforming, step.Verdict.NominalInside);
    }

    private static void AssertEventsOfBoth(LifetimeHistory history)
    {
        AssertRows(history, HistoryKind.Check, (4, 1), (8, 2));
        AssertRows(history, HistoryKind.GuideReplaced, (5, 5 * Lit));
        AssertRows(history, HistoryKind.EmitterReplaced, (6, 6 * Burn));
        AssertRows(history, HistoryKind.Cleaned, (4, 0.4 * Exposures), (5, 0), (8, 0.3 * Exposures));
        AssertRows(history, HistoryKind.SetUp, (0, 0), (5, 1), (6, 2));
        Close(8 * Exposures, history.PartsMade);
        Assert.Equal(1, history.EmittersReplaced[ReplacementReason.Planned]);
        Assert.Equal(1, history.GuidesReplaced[ReplacementReason.Planned]);
    }

    // Time in steps and first number of each row of a kind.
    private static void AssertRows(LifetimeHistory history, HistoryKind kind, params (double Steps, double Value)[] expected)
    {
        var rows = history.Of(kind).ToArray();
        Assert.Equal(expected.Length, rows.Length);
        foreach (var (row, (steps, value)) in rows.Zip(expected))
        {
            Close(steps * Step, row.TimeSeconds);
            Close(value, row.Value);
        }
    }

    private static void Close(double expected, double actual) =>
        Assert.True(Math.Abs(actual - expected) <= Tolerance * Math.Abs(expected), $"{actual:R} is not {expected:R}");
}

using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Studies.Ownership;

namespace CureSim.Tests.Studies.Ownership;

/// <summary>The money of one lifetime against calculations by hand.</summary>
public sealed class LifetimeCostTests
{
    // A cent of money is 0.01; sums here are a few ten thousands of double precision, so rounding is far below it.
    private const double Cent = 0.005;

    private static LifetimeUse Use(int years, params (UseKind Kind, double[] Yearly)[] flows)
    {
        var totals = new double[LifetimeUse.Kinds * (years + 1)];
        foreach (var (kind, yearly) in flows)
        {
            for (int y = 1; y <= years; y++)
            {
                totals[((int)kind * (years + 1)) + y] = totals[((int)kind * (years + 1)) + y - 1] + yearly[y - 1];
            }
        }

        return new(years, totals);
    }

    private static double[] Prices(params (PriceId Id, double Value)[] given)
    {
        var prices = new double[Price.Count];
        prices[(int)PriceId.DiscountRate] = 0.08;
        prices[(int)PriceId.SupplyEnds] = double.PositiveInfinity;
        foreach (var (id, value) in given)
        {
            prices[(int)id] = value;
        }

        return prices;
    }

    [Fact]
    public void UnevenFlows_FailuresAndResidualValue_ToTheCent()
    {
        // By hand, 8 %, end of year. Start: 5000 + 2 heads of 800 + change 1500 + qualification twice (it failed once) 2·2500 + meter 1200 = 14 300.
        // Year 1: 2 emitters (1 failed: 2 h lost) 2·(900 + 15) + 2·200 = 2230; 12 checks of 30 = 360; 3 h lost in checks 600      -> 3190
        // Year 2: 5 emitters (3 failed: 6 h) 5·915 + 6·200 = 5775; 12 checks 360 + 600; a requalification 4000                     -> 10 735
        // Year 3: nothing but 40 nonconforming parts at 12 and 100 suspect at 0.5: 530; residual value 700 back                     -> −170
        // 14 300 + 3190/1.08 + 10 735/1.1664 − 170/1.259712 = 14 300 + 2953.7037 + 9203.5322 − 134.9515 = 26 322.2844
        var (cell, _) = OptionText.Read(OptionText.Led, "production.sites=2", "costs.purchase=5000");
        var use = Use(3,
            (UseKind.Emitters, [2, 5, 0]), (UseKind.Failures, [1, 3, 0]), (UseKind.LostUnplanned, [2, 6, 0]), (UseKind.Checks, [12, 12, 0]), (UseKind.LostInChecks, [3, 3, 0]),
            (UseKind.Requalifications, [0, 1, 0]), (UseKind.NonconformingParts, [0, 0, 40]), (UseKind.SuspectParts, [0, 0, 100]), (UseKind.Parts, [1000, 1000, 1000]));
        var prices = Prices(
            (PriceId.Purchase, 5000), (PriceId.PurchasePerEmitter, 800), (PriceId.ChangeControl, 1500), (PriceId.FirstQualification, 2500), (PriceId.Radiometer, 1200), (PriceId.Emitter, 900),
            (PriceId.Disposal, 15), (PriceId.LostHour, 200), (PriceId.Check, 30), (PriceId.Requalification, 4000), (PriceId.NonconformingPart, 12), (PriceId.SuspectPart, 0.5), (PriceId.ResidualValue, 700));
        var cost = LifetimeCost.Of(cell, use, prices, repeats: 1, before: null);
        Assert.Equal(14300.0, cost.Start, Cent);
        Assert.Equal(17253.70, cost.Cumulative[1], Cent);
        Assert.Equal(26457.24, cost.Cumulative[2], Cent);
        Assert.Equal(26322.28, cost.Total, Cent);
        Assert.Equal(cost.Total, cost.ByKind.Sum(), 1e-9);

        // Good parts discounted alike: 1000/1.08 + 1000/1.1664 + 960/1.259712 = 2545.344, so 10.341 a part.
        Assert.Equal(10.3413, cost.PerGoodPart, 1e-4);
    }

    // Source: C13.5, lamp and LED at 8 % over 7 years (computed there with 1.3333 for 4/3): 19 141.5 and 16 258.8.
    [Fact]
    public void LampAndLed_OfTheWorkedExample()
    {
        const double Cooled = 1.3333;
        double[] Every(double v) => [.. Enumerable.Repeat(v, 7)];
        var (lamp, _) = OptionText.Read(OptionText.Lamp, "ownership.installed=false", "production.horizon=7 yr");
        var (led, _) = OptionText.Read(OptionText.Led, "production.horizon=7 yr");
        var a = LifetimeCost.Of(lamp, Use(7, (UseKind.Energy, Every(1200 * Cooled)), (UseKind.Emitters, Every(Cooled)), (UseKind.Checks, Every(1))),
            Prices((PriceId.Purchase, 8000), (PriceId.KilowattHour, 0.15), (PriceId.Emitter, 600), (PriceId.Check, 1100)), 0, null);
        var b = LifetimeCost.Of(led, Use(7, (UseKind.Energy, Every(90 * Cooled)), (UseKind.Checks, Every(1))),
            Prices((PriceId.Purchase, 12000), (PriceId.KilowattHour, 0.15), (PriceId.Check, 800)), 0, null);
        Assert.Equal(19141.5, a.Total, 0.05);
        Assert.Equal(16258.8, b.Total, 0.05);
    }

    // Source: C13.2: 4000 h a year: lamp 0.30 kW lit all shift 1200 kWh; LED 60 W at 25 % duty with 10 W idle 90 kWh; C13.3: ×(1 + 1/3) in a cooled room.
    [Fact]
    public void Energy_LampAllShiftAgainstLedOnDemand()
    {
        // 300 parts an hour of 3 s are a duty of 25 %; 4000 h make 1 200 000 parts.
        YearLine[] line = [new() { PartsMade = 1_200_000 }];
        LifetimeUse Of(string text) => LifetimeUse.Of(OptionText.Read(text, "production.rate=300 /h", "production.horizon=1 yr").Cell, line);
        var (lamp, led) = (Of(OptionText.Lamp), Of(OptionText.Led));
        Assert.Equal(1200.0, lamp.Whole(UseKind.SourceEnergy), 1e-9);
        Assert.Equal(90.0, led.Whole(UseKind.SourceEnergy), 1e-9);
        Assert.Equal(1600.0, lamp.Whole(UseKind.Energy), 1e-9);
        Assert.Equal(120.0, led.Whole(UseKind.Energy), 1e-9);

        // Warm-up of 15 min before each of 500 shifts: 125 h more, outside the shift.
        var warm = LifetimeUse.Of(OptionText.Read(OptionText.Lamp, "production.rate=300 /h", "production.horizon=1 yr", "ownership.warm_up=15 min").Cell, line);
        Assert.Equal(1237.5, warm.Whole(UseKind.SourceEnergy), 1e-9);
    }

    [Fact]
    public void Project_RunsOnWithTheInstalledOptionUntilTheChange()
    {
        // Half a year of the lamp (2 lamps a year at 900), then the LED (1 head a year at 2500), whose own first year begins at the change. 0 % discount.
        var (lamp, _) = OptionText.Read(OptionText.Lamp);
        var (led, _) = OptionText.Read(OptionText.Led, "ownership.project.duration=0 h");
        double[] zero(params (PriceId, double)[] p) => Prices([(PriceId.DiscountRate, 0.0), .. p]);
        var before = (lamp, Use(3, (UseKind.Emitters, [2, 2, 2])), zero((PriceId.Emitter, 900)));
        var own = Use(3, (UseKind.Emitters, [1, 2, 3]));
        double half = 0.5 * led.Production.YearSeconds;
        var cost = LifetimeCost.Of(led, own, zero((PriceId.Emitter, 2500), (PriceId.ProjectDuration, half)), 0, before);
        Assert.Equal(0.5, cost.ChangeYears, 1e-12);

        // Year 1: 1 lamp and half of the first head year; year 2: half of 1 and half of 2; year 3: half of 2 and half of 3.
        Assert.Equal([0.0, 900 + 1250, 2150 + 3750, 5900 + 6250], cost.Cumulative, (x, y) => Math.Abs(x - y) < 1e-9);
        Assert.Equal((1.0, 5.5), (cost.MercuryEmitters, cost.Emitters));

        // A change that would come after the horizon is the lamp's cost throughout.
        var never = LifetimeCost.Of(led, own, zero((PriceId.Emitter, 2500), (PriceId.ProjectDuration, 10 * half)), 0, before);
        Assert.Equal(6 * 900.0, never.Total, 1e-9);
    }

    [Fact]
    public void SupplyThatEnds_ForcesTheChangeInItsYear()
    {
        var (lamp, _) = OptionText.Read(OptionText.Lamp);
        double year = lamp.Production.YearSeconds;
        double At(double ends) => LifetimeCost.Of(lamp, Use(3), Prices((PriceId.ForcedChange, 60000), (PriceId.SupplyEnds, ends * year)), 0, null).Total;
        Assert.Equal(60000 / Math.Pow(1.08, 2), At(1.5), 1e-6);
        Assert.Equal(60000 / Math.Pow(1.08, 3), At(3.0), 1e-6);
        Assert.Equal(0.0, At(3.01));
    }

    [Fact]
    public void ConstantFlows_SimulatedByTheEngine_AreTheAnnuity()
    {
        // Ten checks a year whatever happens; nothing else has a price.
        var (cell, sha) = OptionText.Read(OptionText.Lamp, "costs.lost_hour=0", "costs.emitter=0", "costs.requalification=0", "costs.kwh=0", "costs.nonconforming_part=0", "costs.check=30", "checks.interval=400 h", "run.lifetimes=12");
        var run = OptionRun.Run(new("lamp", cell, sha), cell, 2, null, CancellationToken.None);
        var money = Comparison.Of([run]).Options[0];
        double expected = 10 * 30 * Annuity.PresentValueFactor(0.08, 3);
        Assert.All(money.Costs, c => Assert.Equal(expected, c.Total, 1e-9));
        Assert.Equal(expected, money.Mean(3).Get(), 1e-9);
    }
}

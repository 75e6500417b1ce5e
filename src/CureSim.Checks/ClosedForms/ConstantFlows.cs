using CureSim.Checks.Comparing;
using CureSim.Checks.Fixtures;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Studies.Ownership;

namespace CureSim.Checks.ClosedForms;

/// <summary>Ownership of a cell without chance: a constant yearly flow is an annuity, one replacement each m years an annuity at (1 + r)^m − 1; electricity by hand.</summary>
internal static class ConstantFlows
{
    private const double Hour = 3600;
    private const int StepsAYear = 500;
    private const double Year = StepsAYear * 8 * Hour;
    private const int Years = 12;
    private const double Rate = 0.08;

    public static IEnumerable<Check> All()
    {
        yield return Case("CF-OWN-1", "A check each tenth of a year at 30: discounted cost", 10 * 30 * Annuity.PresentValueFactor(Rate, Years), 10 * 30 * Annuity.PresentValueFactor(Rate, Years, FlowTiming.Begin),
            b => b.Checks(StepsAYear / 10, 1e4), c => c with { Check = Amount("check", 30) });
        foreach (int m in new[] { 1, 2, 3 })
        {
            // Replaced at the end of each m-th year, the last at the horizon.
            double every = Math.Pow(1 + Rate, m) - 1, expected = 900 * Annuity.PresentValueFactor(every, Years / m);
            yield return Case(FormattableString.Invariant($"CF-OWN-{m + 1}"), FormattableString.Invariant($"An emitter each {m} years at 900: discounted cost"), expected, expected * (1 + every),
                b => b.Lit(LitDuring.WholeShift).ReplaceEmitterAt(m * Year), c => c with { Emitter = Amount("emitter", 900) });
        }

        yield return Electricity("CF-OWN-5", "A lamp of 300 W lit for all of 4000 h, cooled at COP 3: kWh", LitDuring.WholeShift, 300, 0, 1600, 1200);
        yield return Electricity("CF-OWN-6", "A head of 60 W at 25 % duty, else 10 W, over 4000 h, cooled at COP 3: kWh", LitDuring.Exposures, 60, 10, 120, 240 * 4.0 / 3.0);
    }

    private static Check Case(string id, string what, double expected, double planted, Func<ScenarioBuilder, ScenarioBuilder> cell, Func<Costs, Costs> costs) => new(
        id, Topics.ClosedForm, what, "annuity (1 − (1 + i)^(−n))/i, i the rate of the period between flows", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () => Outcome(expected, planted, Money(cell(Clock()), costs, Option).Total));

    private static Check Electricity(string id, string what, LitDuring lit, double watts, double standby, double expected, double planted) => new(
        id, Topics.ClosedForm, what, "P·h lit + P·h standby, ×(1 + 1/COP)", Provenances.ClosedForm, CheckKind.Deterministic, ThroughEngine: true,
        () => Outcome(Years * expected, Years * planted, Money(
            Clock().Rate(300 / Hour).Exposure(3).Lit(lit), c => c, Option with { LitWatts = watts, StandbyWatts = standby, CooledShare = 1 }).Energy));

    private static CheckOutcome Outcome(double expected, double planted, double found)
    {
        var comparison = new ExactComparison(1e-11, "sums of some hundred terms in double precision");
        comparison.Add("value", expected, found);
        comparison.Plant("flows a period early, or the source's own duty ignored", planted, found);
        return comparison.Outcome();
    }

    private static ScenarioBuilder Clock() => new ScenarioBuilder().Clock(8 * Hour, Years * StepsAYear, 8 * Hour)
        .With(s => s with { Production = s.Production with { YearSeconds = Year } }).Limit(Response.Dose, 1, 1e9).Capability(null).RequalifyOn(true);

    private static LifetimeCost Money(ScenarioBuilder builder, Func<Costs, Costs> costs, Ownership option)
    {
        var cell = builder.With(s => s with { Costs = costs(Costs.None("EUR")), Ownership = option }).Run(lifetimes: 2).Build();
        return Comparison.Of([OptionRun.Run(new("cell", cell, ""), cell, 1, null, CancellationToken.None)], pair: false).Options[0].Costs[0];
    }

    private static Quantity Amount(string key, double value) => Quantity.Of("costs." + key, Level.Cell, value);

    private static Ownership Option => new(
        "cell", true, Quantity.Of("ownership.discount_rate", Level.Cell, Rate), FlowTiming.End, MoneyTerms.Nominal, Quantity.Of("ownership.price_growth", Level.Cell, 0),
        Quantity.Of("ownership.energy_price_growth", Level.Cell, 0), 0, 0, 0, 0, 3, null, null, false, null, null, null);
}

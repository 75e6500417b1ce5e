using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Ownership;

/// <summary>The money of one lifetime: a pure function of what it uses and of its prices.</summary>
public sealed class LifetimeCost
{
    private LifetimeCost(int years)
    {
        Cumulative = new double[years + 1];
        ByKind = new double[CostKinds.Count];
        GoodParts = new double[years + 1];
    }

    /// <summary>Discounted cost so far: at the start, and at the end of each year.</summary>
    public double[] Cumulative { get; }

    /// <summary>Discounted cost over the horizon, by <see cref="CostKind"/>.</summary>
    public double[] ByKind { get; }

    /// <summary>Good parts so far, each discounted as money is: cost over these is the price per part that would just pay for it.</summary>
    public double[] GoodParts { get; }

    /// <summary>What is paid at the start.</summary>
    public double Start => Cumulative[0];

    /// <summary>Discounted cost over the horizon.</summary>
    public double Total => Cumulative[^1];

    /// <summary>Discounted cost of a good part.</summary>
    public double PerGoodPart => GoodParts[^1] > 0.0 ? Total / GoodParts[^1] : double.NaN;

    /// <summary>Years from the decision to the change, 0 for what is installed or changed at once.</summary>
    public double ChangeYears { get; private set; }

    /// <summary>Electricity over the horizon, with cooling, kWh.</summary>
    public double Energy { get; private set; }

    /// <summary>… of which the source's own, kWh.</summary>
    public double SourceEnergy { get; private set; }

    /// <summary>Emitters consumed.</summary>
    public double Emitters { get; private set; }

    /// <summary>… of which held mercury.</summary>
    public double MercuryEmitters { get; private set; }

    /// <summary>Guides consumed.</summary>
    public double Guides { get; private set; }

    /// <summary>kg CO₂e; not a number when an option states no factor.</summary>
    public double Emission { get; private set; }

    /// <summary>Works out one lifetime.</summary>
    /// <param name="cell">The option's scenario.</param>
    /// <param name="use">What it uses.</param>
    /// <param name="prices">Its prices, by <see cref="PriceId"/>.</param>
    /// <param name="repeats">Repetitions of the validation.</param>
    /// <param name="before">The installed option that the plant runs on with until the change is made; null: there is none, and the change is made at once.</param>
    public static LifetimeCost Of(Scenario cell, LifetimeUse use, ReadOnlySpan<double> prices, int repeats, (Scenario Cell, LifetimeUse Use, double[] Prices)? before)
    {
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(use);
        var option = cell.Ownership!;
        int years = use.Years;
        var cost = new LifetimeCost(years);
        double seconds = option.Installed ? 0.0 : prices[(int)PriceId.ProjectDuration] + (repeats * prices[(int)PriceId.ProjectRepeat]);
        double change = before is null ? 0.0 : Math.Min(years, seconds / cell.Production.YearSeconds);
        cost.ChangeYears = change;
        if (!option.Installed)
        {
            double weeks = seconds / cell.Production.WeekSeconds;
            cost.Add(CostKind.Purchase, 0, prices[(int)PriceId.Purchase] + (LifetimeUse.EmitterCount(cell) * prices[(int)PriceId.PurchasePerEmitter]));
            cost.Add(CostKind.Radiometers, 0, prices[(int)PriceId.Radiometer]);
            cost.Add(CostKind.Change, 0, prices[(int)PriceId.ChangeControl] + ((1 + repeats) * prices[(int)PriceId.FirstQualification])
                + prices[(int)PriceId.BridgingStock] + (weeks * prices[(int)PriceId.DelayWeek]));
        }

        double rate = prices[(int)PriceId.DiscountRate];
        for (int y = 1; y <= years; y++)
        {
            double money = YearFactors.Of(rate, 0.0, y, option.Discounting);
            double own = Math.Max(0.0, y - Math.Max(change, y - 1.0));
            if (before is { } old && own < 1.0)
            {
                // The part of the year before the change, at the old option's prices.
                cost.Spend(old.Cell, old.Use, old.Prices, rate, option.Discounting, y, y - 1.0, Math.Min(y, change), money);
            }

            if (own > 0.0)
            {
                cost.Spend(cell, use, prices, rate, option.Discounting, y, Math.Max(change, y - 1.0) - change, y - change, money);
            }

            double ends = prices[(int)PriceId.SupplyEnds] / cell.Production.YearSeconds;
            if (ends > y - 1.0 && ends <= y)
            {
                cost.Add(CostKind.ForcedChange, y, prices[(int)PriceId.ForcedChange] * YearFactors.Of(rate, prices[(int)PriceId.PriceGrowth], y, option.Discounting));
            }
        }

        cost.Add(CostKind.ResidualValue, years, -prices[(int)PriceId.ResidualValue] * Annuity.SingleFactor(rate, years));
        for (int y = 1; y <= years; y++)
        {
            cost.Cumulative[y] += cost.Cumulative[y - 1];
            cost.GoodParts[y] += cost.GoodParts[y - 1];
        }

        return cost;
    }

    private void Add(CostKind kind, int year, double discounted)
    {
        Cumulative[year] += discounted;
        ByKind[(int)kind] += discounted;
    }

    // Running costs of an option from one moment of its own life to another, paid in a year of the study.
    private void Spend(Scenario cell, LifetimeUse use, ReadOnlySpan<double> prices, double rate, FlowTiming timing, int year, double from, double to, double money)
    {
        double Used(UseKind kind) => use.At(kind, to) - use.At(kind, from);
        double general = YearFactors.Of(rate, prices[(int)PriceId.PriceGrowth], year, timing), electric = YearFactors.Of(rate, prices[(int)PriceId.EnergyPriceGrowth], year, timing);
        double lost = prices[(int)PriceId.LostHour] * general, emitters = Used(UseKind.Emitters), energy = Used(UseKind.Energy);
        Add(CostKind.Radiometers, year, Used(UseKind.Radiometers) * prices[(int)PriceId.Radiometer] * general);
        Add(CostKind.Emitters, year, emitters * prices[(int)PriceId.Emitter] * general);
        Add(CostKind.Guides, year, Used(UseKind.Guides) * prices[(int)PriceId.Guide] * general);
        Add(CostKind.Energy, year, energy * prices[(int)PriceId.KilowattHour] * electric);
        Add(CostKind.Checks, year, Used(UseKind.Checks) * prices[(int)PriceId.Check] * general);
        Add(CostKind.LostInChecks, year, Used(UseKind.LostInChecks) * lost);
        Add(CostKind.Calibrations, year, Used(UseKind.Calibrations) * prices[(int)PriceId.Calibration] * general);
        Add(CostKind.PlannedDowntime, year, Used(UseKind.LostPlanned) * lost);
        Add(CostKind.UnplannedDowntime, year, Used(UseKind.LostUnplanned) * lost);
        Add(CostKind.Requalifications, year, Used(UseKind.Requalifications) * prices[(int)PriceId.Requalification] * general);
        Add(CostKind.SuspectParts, year, Used(UseKind.SuspectParts) * prices[(int)PriceId.SuspectPart] * general);
        Add(CostKind.Escapes, year, Used(UseKind.NonconformingParts) * prices[(int)PriceId.NonconformingPart] * general);
        Add(CostKind.Disposal, year, emitters * prices[(int)PriceId.Disposal] * general);
        Add(CostKind.CycleTime, year, Used(UseKind.ExposureSeconds) * prices[(int)PriceId.ExposureSecond] * general);
        GoodParts[year] += (Used(UseKind.Parts) - Used(UseKind.NonconformingParts)) * money;
        Energy += energy;
        SourceEnergy += Used(UseKind.SourceEnergy);
        Emitters += emitters;
        MercuryEmitters += cell.Ownership!.HoldsMercury ? emitters : 0.0;
        Guides += Used(UseKind.Guides);
        Emission += cell.Ownership.EmissionKilograms is { } factor ? energy * factor : double.NaN;
    }
}

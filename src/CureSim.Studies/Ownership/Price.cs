using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Random;
using OwnershipBlock = CureSim.Core.Cell.Ownership;

namespace CureSim.Studies.Ownership;

/// <summary>Everything of an option that costs hang on and that is no quantity of the cell.</summary>
public enum PriceId
{
    /// <summary>costs.check.</summary>
    Check,

    /// <summary>costs.lost_hour.</summary>
    LostHour,

    /// <summary>costs.suspect_part.</summary>
    SuspectPart,

    /// <summary>costs.nonconforming_part.</summary>
    NonconformingPart,

    /// <summary>costs.emitter.</summary>
    Emitter,

    /// <summary>costs.guide.</summary>
    Guide,

    /// <summary>costs.requalification.</summary>
    Requalification,

    /// <summary>costs.calibration.</summary>
    Calibration,

    /// <summary>costs.purchase.</summary>
    Purchase,

    /// <summary>costs.purchase_per_emitter.</summary>
    PurchasePerEmitter,

    /// <summary>costs.change_control.</summary>
    ChangeControl,

    /// <summary>costs.first_qualification.</summary>
    FirstQualification,

    /// <summary>costs.radiometer.</summary>
    Radiometer,

    /// <summary>costs.kwh.</summary>
    KilowattHour,

    /// <summary>costs.disposal.</summary>
    Disposal,

    /// <summary>costs.exposure_second.</summary>
    ExposureSecond,

    /// <summary>costs.bridging_stock.</summary>
    BridgingStock,

    /// <summary>costs.delay_week.</summary>
    DelayWeek,

    /// <summary>costs.forced_change.</summary>
    ForcedChange,

    /// <summary>costs.residual_value.</summary>
    ResidualValue,

    /// <summary>ownership.discount_rate.</summary>
    DiscountRate,

    /// <summary>ownership.price_growth.</summary>
    PriceGrowth,

    /// <summary>ownership.energy_price_growth.</summary>
    EnergyPriceGrowth,

    /// <summary>ownership.project.duration, s.</summary>
    ProjectDuration,

    /// <summary>ownership.project.repeat, s.</summary>
    ProjectRepeat,

    /// <summary>ownership.supply_ends, s; +∞ when not within sight.</summary>
    SupplyEnds,
}

/// <summary>The prices of an option and how they are drawn.</summary>
public static class Price
{
    /// <summary>Number of prices.</summary>
    public const int Count = 26;

    /// <summary>The last price in which the cost is linear.</summary>
    public const PriceId LastAmount = PriceId.ResidualValue;

    /// <summary>The quantities of an option, in the order of <see cref="PriceId"/>.</summary>
    public static ImmutableArray<Quantity> Of(Costs c, OwnershipBlock o)
    {
        ArgumentNullException.ThrowIfNull(c);
        ArgumentNullException.ThrowIfNull(o);
        Quantity nothing = Quantity.Of("ownership.project", Level.Cell, 0.0);
        return
        [
            c.Check, c.LostHour, c.SuspectPart, c.NonconformingPart, c.Emitter, c.Guide, c.Requalification, c.Calibration, c.Purchase, c.PurchasePerEmitter, c.ChangeControl,
            c.FirstQualification, c.RadiometerPurchase, c.KilowattHour, c.Disposal, c.ExposureSecond, c.BridgingStock, c.DelayWeek, c.ForcedChange, c.ResidualValue,
            o.DiscountRate, o.PriceGrowth, o.EnergyPriceGrowth, o.Project?.Duration ?? nothing, o.Project?.RepeatDuration ?? nothing,
            o.SupplyEnds ?? Quantity.Of("ownership.supply_ends", Level.Cell, double.PositiveInfinity),
        ];
    }

    /// <summary>
    /// What a price is, apart from which option asks: path and distribution. Two options that state a price by the same distribution mean the same price and share its draw; two
    /// that state it differently mean two prices, and draw independently. The same in any order of the files.
    /// </summary>
    public static string Signature(Quantity quantity)
    {
        ArgumentNullException.ThrowIfNull(quantity);
        return $"{quantity.Path}|{Text(quantity.Varies)}|{(quantity.Unknown is { } u ? Text(u) : "")}";
    }

    /// <summary>Draws a price for one simulated lifetime.</summary>
    /// <param name="quantity">The price.</param>
    /// <param name="seed">Key of every draw.</param>
    /// <param name="world">World.</param>
    /// <param name="lifetime">Lifetime within its world.</param>
    public static double Draw(Quantity quantity, ulong seed, int world, uint lifetime)
    {
        ArgumentNullException.ThrowIfNull(quantity);
        if (quantity.IsFixed)
        {
            return quantity.Varies.Mean;
        }

        string name = Signature(quantity);
        double value = quantity.IsVarying
            ? quantity.Varies.Quantile(Core.Random.Draw.Uniform(seed, world, lifetime, StreamKey.Of(DrawDomain.Reserved, "ownership.price|" + name), 0))
            : quantity.Varies.Mean;
        return quantity.Unknown is { } unknown
            ? value * unknown.Quantile(Core.Random.Draw.Uniform(seed, world, 0, StreamKey.Of(DrawDomain.Reserved, "ownership.unknown-price|" + name), 0))
            : value;
    }

    // Any distribution is told apart from any other by some of its percentiles; ten digits do not see the rounding of a unit.
    private static string Text(IDistribution d)
    {
        double[] at = [0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98];
        return string.Join(';', at.Select(p => (d is FixedValue ? d.Mean : d.Quantile(p)).ToString("G10", CultureInfo.InvariantCulture)));
    }
}

using CureSim.Core.Statistics;

namespace CureSim.Core.Cell;

/// <summary>Whether amounts of money of later years are those of their own day.</summary>
public enum MoneyTerms
{
    /// <summary>Amounts of the day; prices grow with inflation, the discount rate holds it.</summary>
    Nominal,

    /// <summary>Purchasing power of the start; growth and discount rate are above inflation.</summary>
    Real,
}

/// <summary>One option of the ownership study, as far as it is not what the cell is or what things cost. It changes nothing of a lifetime.</summary>
/// <param name="Label">Short name of the option; null: the scenario's name.</param>
/// <param name="Installed">True when the plant has it already: nothing is paid at the start and no project is needed.</param>
/// <param name="DiscountRate">A year, above −1.</param>
/// <param name="Discounting">When in a year its flows are taken to fall.</param>
/// <param name="Money">Whether amounts are nominal or real.</param>
/// <param name="PriceGrowth">Of all prices but electricity, a year, above −1.</param>
/// <param name="EnergyPriceGrowth">Of electricity, a year, above −1.</param>
/// <param name="LitWatts">Electric power of one emitter while lit, W.</param>
/// <param name="StandbyWatts">… of one emitter in scheduled time in which it is not lit, W.</param>
/// <param name="WarmUpSeconds">Lit before each ignition's first part, outside scheduled time, s.</param>
/// <param name="CooledShare">Share of the electricity that the room's cooling must carry away.</param>
/// <param name="CoolingPerformance">Heat carried away for each unit of electricity of the cooling (COP).</param>
/// <param name="EmissionKilograms">kg CO₂e for each kilowatt hour; null: not counted.</param>
/// <param name="EmissionYear">Year of that factor.</param>
/// <param name="HoldsMercury">True when its emitters hold mercury.</param>
/// <param name="NonconformingLimit">Fraction of nonconforming parts up to which a lifetime holds the window; null: that of the interval study, else that of the required capability.</param>
/// <param name="Project">What the change to it takes; null: it is made at once.</param>
/// <param name="SupplyEnds">Production time after which its emitters can no longer be bought, s; null: not within sight.</param>
public sealed record Ownership(
    string? Label,
    bool Installed,
    Quantity DiscountRate,
    FlowTiming Discounting,
    MoneyTerms Money,
    Quantity PriceGrowth,
    Quantity EnergyPriceGrowth,
    double LitWatts,
    double StandbyWatts,
    double WarmUpSeconds,
    double CooledShare,
    double CoolingPerformance,
    double? EmissionKilograms,
    int? EmissionYear,
    bool HoldsMercury,
    double? NonconformingLimit,
    ChangeProject? Project,
    Quantity? SupplyEnds);

/// <summary>The change to an option as a project.</summary>
/// <param name="Duration">Production time from the decision to the first part sold, s.</param>
/// <param name="FailureProbability">Chance that a validation fails and is repeated; below 1.</param>
/// <param name="RepeatDuration">Production time that each repetition takes, s.</param>
public sealed record ChangeProject(Quantity Duration, double FailureProbability, Quantity RepeatDuration);

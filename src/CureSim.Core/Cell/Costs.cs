namespace CureSim.Core.Cell;

/// <summary>What things cost, in one currency; 0 for what is not counted: a cost that is left out is not counted, never guessed.</summary>
/// <remarks>
/// Each is a value or a distribution. A distribution says what is not known about a price: it is drawn once for a lifetime and holds for all of it, every site and every year,
/// so that it does not average out over events. None of them changes anything of a lifetime.
/// </remarks>
public sealed record Costs
{
    /// <summary>Name or sign of the currency, as printed.</summary>
    public required string Currency { get; init; }

    /// <summary>Labour and material of one check.</summary>
    public required Quantity Check { get; init; }

    /// <summary>Contribution lost in an hour of downtime.</summary>
    public required Quantity LostHour { get; init; }

    /// <summary>Each part that a check finds suspect: sorting, rework, scrap.</summary>
    public required Quantity SuspectPart { get; init; }

    /// <summary>Each nonconforming part made: its escape.</summary>
    public required Quantity NonconformingPart { get; init; }

    /// <summary>One emitter with its fitting.</summary>
    public required Quantity Emitter { get; init; }

    /// <summary>One guide with its fitting.</summary>
    public required Quantity Guide { get; init; }

    /// <summary>One requalification: parts, tests, paper.</summary>
    public required Quantity Requalification { get; init; }

    /// <summary>One calibration of the radiometer.</summary>
    public required Quantity Calibration { get; init; }

    /// <summary>Equipment as a whole, at the start.</summary>
    public required Quantity Purchase { get; init; }

    /// <summary>Equipment for each emitter (head, driver), at the start.</summary>
    public required Quantity PurchasePerEmitter { get; init; }

    /// <summary>Change control at the start: paper, approvals, notices to customers.</summary>
    public required Quantity ChangeControl { get; init; }

    /// <summary>The qualification that the change needs; paid again each time it fails.</summary>
    public required Quantity FirstQualification { get; init; }

    /// <summary>One radiometer: at the start, and whenever another one is bought.</summary>
    public required Quantity RadiometerPurchase { get; init; }

    /// <summary>One kilowatt hour.</summary>
    public required Quantity KilowattHour { get; init; }

    /// <summary>Disposal of one used emitter.</summary>
    public required Quantity Disposal { get; init; }

    /// <summary>A second of exposure of one part: what cycle time is worth.</summary>
    public required Quantity ExposureSecond { get; init; }

    /// <summary>Stock built before a change to bridge it.</summary>
    public required Quantity BridgingStock { get; init; }

    /// <summary>Each week that the change takes.</summary>
    public required Quantity DelayWeek { get; init; }

    /// <summary>The change that is forced when the emitter's supply ends.</summary>
    public required Quantity ForcedChange { get; init; }

    /// <summary>What the equipment still fetches at the horizon.</summary>
    public required Quantity ResidualValue { get; init; }

    /// <summary>Nothing is counted.</summary>
    /// <param name="currency">Currency.</param>
    public static Costs None(string currency) => new()
    {
        Currency = currency,
        Check = Quantity.Of("costs.check", Level.Cell, 0.0),
        LostHour = Quantity.Of("costs.lost_hour", Level.Cell, 0.0),
        SuspectPart = Quantity.Of("costs.suspect_part", Level.Cell, 0.0),
        NonconformingPart = Quantity.Of("costs.nonconforming_part", Level.Cell, 0.0),
        Emitter = Quantity.Of("costs.emitter", Level.Cell, 0.0),
        Guide = Quantity.Of("costs.guide", Level.Cell, 0.0),
        Requalification = Quantity.Of("costs.requalification", Level.Cell, 0.0),
        Calibration = Quantity.Of("costs.calibration", Level.Cell, 0.0),
        Purchase = Quantity.Of("costs.purchase", Level.Cell, 0.0),
        PurchasePerEmitter = Quantity.Of("costs.purchase_per_emitter", Level.Cell, 0.0),
        ChangeControl = Quantity.Of("costs.change_control", Level.Cell, 0.0),
        FirstQualification = Quantity.Of("costs.first_qualification", Level.Cell, 0.0),
        RadiometerPurchase = Quantity.Of("costs.radiometer", Level.Cell, 0.0),
        KilowattHour = Quantity.Of("costs.kwh", Level.Cell, 0.0),
        Disposal = Quantity.Of("costs.disposal", Level.Cell, 0.0),
        ExposureSecond = Quantity.Of("costs.exposure_second", Level.Cell, 0.0),
        BridgingStock = Quantity.Of("costs.bridging_stock", Level.Cell, 0.0),
        DelayWeek = Quantity.Of("costs.delay_week", Level.Cell, 0.0),
        ForcedChange = Quantity.Of("costs.forced_change", Level.Cell, 0.0),
        ResidualValue = Quantity.Of("costs.residual_value", Level.Cell, 0.0),
    };
}

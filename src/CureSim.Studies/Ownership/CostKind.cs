using System.Collections.Immutable;

namespace CureSim.Studies.Ownership;

/// <summary>What money is spent on.</summary>
public enum CostKind
{
    /// <summary>Equipment, at the start.</summary>
    Purchase,

    /// <summary>Change control, first qualification and its repetitions, bridging stock, delay: at the start.</summary>
    Change,

    /// <summary>Radiometers.</summary>
    Radiometers,

    /// <summary>Emitters replaced.</summary>
    Emitters,

    /// <summary>Guides replaced.</summary>
    Guides,

    /// <summary>Electricity, with that of the cooling.</summary>
    Energy,

    /// <summary>Labour and material of checks.</summary>
    Checks,

    /// <summary>Production lost in checks.</summary>
    LostInChecks,

    /// <summary>Calibrations of the radiometer.</summary>
    Calibrations,

    /// <summary>Production lost in planned replacements.</summary>
    PlannedDowntime,

    /// <summary>Production lost in failures and requalifications.</summary>
    UnplannedDowntime,

    /// <summary>Requalifications.</summary>
    Requalifications,

    /// <summary>Suspect parts.</summary>
    SuspectParts,

    /// <summary>Nonconforming parts made.</summary>
    Escapes,

    /// <summary>Disposal of used emitters.</summary>
    Disposal,

    /// <summary>Exposure time.</summary>
    CycleTime,

    /// <summary>Change forced by the end of supply.</summary>
    ForcedChange,

    /// <summary>Residual value, below zero.</summary>
    ResidualValue,
}

/// <summary>Names of the kinds of cost.</summary>
public static class CostKinds
{
    /// <summary>Number of kinds.</summary>
    public const int Count = 18;

    /// <summary>All, in the order of tables.</summary>
    public static ImmutableArray<CostKind> All { get; } = [.. Enum.GetValues<CostKind>()];

    /// <summary>In words.</summary>
    public static string Name(CostKind kind) => kind switch
    {
        CostKind.Purchase => "equipment",
        CostKind.Change => "change control, qualification and project",
        CostKind.Radiometers => "radiometers",
        CostKind.Emitters => "emitters",
        CostKind.Guides => "guides",
        CostKind.Energy => "electricity",
        CostKind.Checks => "checks, labour",
        CostKind.LostInChecks => "checks, lost production",
        CostKind.Calibrations => "calibrations",
        CostKind.PlannedDowntime => "replacements, lost production",
        CostKind.UnplannedDowntime => "failures and requalifications, lost production",
        CostKind.Requalifications => "requalifications",
        CostKind.SuspectParts => "suspect parts",
        CostKind.Escapes => "nonconforming parts",
        CostKind.Disposal => "disposal of emitters",
        CostKind.CycleTime => "exposure time",
        CostKind.ForcedChange => "change forced by end of supply",
        _ => "residual value",
    };

    /// <summary>In few words.</summary>
    public static string ShortName(CostKind kind) => kind switch
    {
        CostKind.Change => "change project",
        CostKind.LostInChecks => "stops for checks",
        CostKind.PlannedDowntime => "stops for replacing",
        CostKind.UnplannedDowntime => "unplanned stops",
        CostKind.ForcedChange => "forced change",
        CostKind.Disposal => "disposal",
        _ => Name(kind),
    };

    /// <summary>Name in tables.</summary>
    public static string Id(CostKind kind) => string.Concat(kind.ToString().Select((c, i) => i > 0 && char.IsUpper(c) ? "_" + char.ToLowerInvariant(c) : char.ToLowerInvariant(c).ToString()));
}

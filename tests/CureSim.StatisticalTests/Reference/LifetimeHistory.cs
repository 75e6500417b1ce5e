using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>One bond of a sampled part. DegreeOfCure is NaN without cure.</summary>
public readonly record struct BondRecord(int Site, double Irradiance, double Dose, double DegreeOfCure, bool Nonconforming);

/// <summary>A sampled part. One whose time falls in downtime is not made and has no bonds.</summary>
public sealed record PartRecord(int Group, int Number, double TimeSeconds, double ExposureSeconds, bool Made, IReadOnlyList<BondRecord> Bonds);

/// <summary>A site at the middle of a step.</summary>
/// <param name="BurnSeconds">h of its emitter.</param>
/// <param name="LitSeconds">h_g of its guide; 0 without a guide.</param>
/// <param name="Exposures">N.</param>
/// <param name="Drive">u.</param>
/// <param name="NominalIrradiance">E at the nominal bond, W/m².</param>
/// <param name="SensedOutput">g·E0·r·w·u (w when seen), W/m²; g = 1 without a loop.</param>
public readonly record struct SiteRecord(
    double BurnSeconds, double LitSeconds, double Exposures, double Drive, double NominalIrradiance, double SensedOutput);

/// <summary>The value in force of one quantity at one place, at the middle of a step.</summary>
public readonly record struct LevelValue(string Path, int Place, double Value);

/// <summary>A step: the state at its middle and its sampled parts.</summary>
public sealed record StepRecord(
    int Step, double MiddleSeconds, double UpFraction, IReadOnlyList<SiteRecord> Sites, StateVerdict Verdict,
    IReadOnlyList<PartRecord> Parts, IReadOnlyList<LevelValue> Levels);

/// <summary>The first event to requalify on.</summary>
public readonly record struct FirstRequalifyEvent(double TimeSeconds, RequalifyEvent Cause);

/// <summary>The first excursion; null detection: never within the horizon.</summary>
public sealed record FirstExcursion(double StartSeconds, double? DetectedSeconds, double PartsUntilDetected);

/// <summary>All that happened in one simulated lifetime.</summary>
public sealed class LifetimeHistory
{
    /// <summary>In order of time; rows of one moment in the order in which things were done.</summary>
    public List<HistoryEvent> Events { get; } = [];

    /// <summary>Every step.</summary>
    public List<StepRecord> Steps { get; } = [];

    /// <summary>Verdict on the commissioned cell.</summary>
    public StateVerdict Commissioned { get; set; }

    /// <summary>Drive of each emitter as commissioned.</summary>
    public IReadOnlyList<double> CommissionedDrive { get; set; } = [];

    /// <summary>Parts made, from the clock (not the sampled ones).</summary>
    public double PartsMade { get; set; }

    /// <summary>Sampled parts that were made.</summary>
    public int SampledParts { get; set; }

    /// <summary>Of these, with any bond outside.</summary>
    public int NonconformingParts { get; set; }

    /// <summary>Sampled bonds.</summary>
    public int SampledBonds { get; set; }

    /// <summary>Of these, outside.</summary>
    public int NonconformingBonds { get; set; }

    /// <summary>Parts that became suspect, summed over checks.</summary>
    public double SuspectParts { get; set; }

    /// <summary>Time out of the qualified state, s.</summary>
    public double OutOfStateSeconds { get; set; }

    /// <summary>Of it, before anything told of it.</summary>
    public double OutOfStateUndetectedSeconds { get; set; }

    /// <summary>Time with a nominal bond out of the window, s.</summary>
    public double OutOfWindowSeconds { get; set; }

    /// <summary>Of it, before anything told of it.</summary>
    public double OutOfWindowUndetectedSeconds { get; set; }

    /// <summary>Emitters replaced, by reason.</summary>
    public Dictionary<ReplacementReason, int> EmittersReplaced { get; } = Enum.GetValues<ReplacementReason>().ToDictionary(r => r, _ => 0);

    /// <summary>Guides replaced, by reason.</summary>
    public Dictionary<ReplacementReason, int> GuidesReplaced { get; } = Enum.GetValues<ReplacementReason>().ToDictionary(r => r, _ => 0);

    /// <summary>Verdicts of sites at checks.</summary>
    public Dictionary<CheckVerdict, int> Verdicts { get; } = Enum.GetValues<CheckVerdict>().ToDictionary(v => v, _ => 0);

    /// <summary>True when not qualified after commissioning.</summary>
    public bool NeverQualified => !Commissioned.Qualified;

    /// <summary>First event to requalify on, or null.</summary>
    public FirstRequalifyEvent? FirstRequalify { get; set; }

    /// <summary>First excursion, or null.</summary>
    public FirstExcursion? FirstExcursion { get; set; }

    /// <summary>Rows of one kind.</summary>
    public IEnumerable<HistoryEvent> Of(HistoryKind kind) => Events.Where(e => e.Kind == kind);
}

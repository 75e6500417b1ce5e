namespace CureSim.Core.Cell;

/// <summary>Risk of a nonconforming bond, which sets confidence and reliability of sample sizes.</summary>
public enum BondRisk
{
    /// <summary>95 % confidence, 99 % reliability.</summary>
    High,

    /// <summary>95 % confidence, 95 % reliability.</summary>
    Medium,

    /// <summary>95 % confidence, 90 % reliability.</summary>
    Low,
}

/// <summary>Two ends of a range, each found by the study when null; SI.</summary>
public readonly record struct StudyRange(double? From, double? To);

/// <summary>What the process-window study maps and requires; it changes nothing of a run.</summary>
/// <param name="Irradiance">Range of the irradiance setting, W/m² (ratio of full drive in a cell without checks).</param>
/// <param name="Time">Range of the exposure time, s.</param>
/// <param name="Nodes">Settings along each axis.</param>
/// <param name="NonconformingLimit">Fraction of nonconforming parts over the horizon that is allowed.</param>
/// <param name="Confidence">Confidence with which the operating rectangle holds the requirement at all its nodes together.</param>
/// <param name="Risk">Risk of a nonconforming bond.</param>
/// <param name="Challenge">Probability level of each unfavourable condition of a challenge point, above one half.</param>
public sealed record WindowStudy(StudyRange Irradiance, StudyRange Time, int Nodes, double NonconformingLimit, double Confidence, BondRisk Risk, double Challenge)
{
    /// <summary>Default of <see cref="NonconformingLimit"/>; common practice, no source.</summary>
    public const double UsualLimit = 1e-3;

    /// <summary>Default of <see cref="Nodes"/>.</summary>
    public const int UsualNodes = 21;

    /// <summary>What is taken when a scenario says nothing.</summary>
    public static readonly WindowStudy Usual = new(default, default, UsualNodes, UsualLimit, 0.95, BondRisk.Medium, 0.95);

    /// <summary>Confidence and reliability of sample sizes for a risk; common practice, no source.</summary>
    public static (double Confidence, double Reliability) PairOf(BondRisk risk) => risk switch
    {
        BondRisk.High => (0.95, 0.99),
        BondRisk.Medium => (0.95, 0.95),
        _ => (0.95, 0.90),
    };
}

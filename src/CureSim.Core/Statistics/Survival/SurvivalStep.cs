namespace CureSim.Core.Statistics;

/// <summary>One distinct event time of a survival curve.</summary>
/// <param name="Time">Time of the event(s), in the unit of the data.</param>
/// <param name="AtRisk">Subjects under observation just before it.</param>
/// <param name="Events">Events at it.</param>
/// <param name="Survival">S just after it.</param>
/// <param name="GreenwoodSum">Σ d/(n(n − d)) up to and with it; null once everybody at risk has had the event (S = 0).</param>
public readonly record struct SurvivalStep(double Time, long AtRisk, long Events, double Survival, double? GreenwoodSum);

/// <summary>How pointwise 95 % limits of a probability are formed.</summary>
public enum LimitForm
{
    /// <summary>S ± z·SE, cut at 0 and 1.</summary>
    Plain,

    /// <summary>S^exp(±z·SE/(S ln S)): symmetric for ln(−ln S), always inside 0 … 1.</summary>
    LogLog,
}

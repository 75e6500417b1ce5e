namespace CureSim.Core.Cell;

/// <summary>What things cost, in one currency; 0 for what is not counted. Other studies may add further items: a cost that is left out is not counted, never guessed.</summary>
/// <param name="Currency">Name or sign of the currency, as printed.</param>
/// <param name="Check">Labour and material of one check.</param>
/// <param name="LostProductionPerSecond">Contribution lost for each second of downtime.</param>
/// <param name="SuspectPart">Each part that a check finds suspect: sorting, rework, scrap.</param>
/// <param name="NonconformingPart">Each nonconforming part made: its escape.</param>
/// <param name="Emitter">One emitter with its fitting.</param>
/// <param name="Guide">One guide with its fitting.</param>
/// <param name="Requalification">One requalification: parts, tests, paper.</param>
/// <param name="Calibration">One calibration of the radiometer.</param>
public sealed record Costs(
    string Currency,
    double Check,
    double LostProductionPerSecond,
    double SuspectPart,
    double NonconformingPart,
    double Emitter,
    double Guide,
    double Requalification,
    double Calibration);

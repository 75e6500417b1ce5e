namespace CureSim.Core.Cell;

/// <summary>Production clock of the cell. The clock t is scheduled production time; downtime removes exposures and does not stop it.</summary>
/// <param name="PartsPerSecond">Parts made per second of up-time by the whole cell.</param>
/// <param name="StepSeconds">Length Δ of one step.</param>
/// <param name="StepCount">Steps in the horizon.</param>
/// <param name="ShiftSeconds">Length of a shift.</param>
/// <param name="DaySeconds">Scheduled production seconds in a working day.</param>
/// <param name="WeekSeconds">Scheduled production seconds in a working week.</param>
/// <param name="YearSeconds">Scheduled production seconds in a year; a month is a twelfth of it.</param>
/// <param name="SiteCount">Bond positions of the cell, n ≥ 1.</param>
/// <param name="SitesPerPart">Bonds of one part, lit by one exposure; divides SiteCount.</param>
public sealed record Production(
    double PartsPerSecond,
    double StepSeconds,
    int StepCount,
    double ShiftSeconds,
    double DaySeconds,
    double WeekSeconds,
    double YearSeconds,
    int SiteCount,
    int SitesPerPart)
{
    /// <summary>Whole horizon.</summary>
    public double HorizonSeconds => StepSeconds * StepCount;

    /// <summary>Number of parts that the sites can hold at once.</summary>
    public int PartsAtOnce => SiteCount / SitesPerPart;
}

namespace CureSim.Scenarios;

/// <summary>How the number and the unit of a value stand together.</summary>
internal enum DimensionForm
{
    /// <summary>"12 mm".</summary>
    NumberAndUnit,

    /// <summary>"1.3".</summary>
    Bare,

    /// <summary>"240 /h", "1 /1000 h".</summary>
    Rate,

    /// <summary>"0.3 %/1000 h".</summary>
    PercentRate,

    /// <summary>"1.2 %/10000": for each of so many exposures.</summary>
    PercentPerCount,
}

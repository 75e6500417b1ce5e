using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>What of a bond is limited.</summary>
public enum Response
{
    /// <summary>E at the bond, W/m².</summary>
    Irradiance,

    /// <summary>Radiant exposure H = E·t, J/m².</summary>
    Dose,

    /// <summary>X, 0 … 1.</summary>
    DegreeOfCure,
}

/// <summary>Specification limits on one response, SI; null where there is none.</summary>
public sealed record SpecificationLimits(Response Response, double? Lower, double? Target, double? Upper);

/// <summary>The process window.</summary>
/// <param name="Limits">One entry for each limited response, in the order of <see cref="Response"/>.</param>
/// <param name="InStudyMeterUnits">True: irradiance and dose limits were found with the radiometer in use, so its persistent error
/// (b_meter of the first meter) moves them: true limit = stated limit · exp(−b_meter).</param>
public sealed record Window(ImmutableArray<SpecificationLimits> Limits, bool InStudyMeterUnits)
{
    /// <summary>Limits of a response, or null.</summary>
    public SpecificationLimits? For(Response response) => Limits.FirstOrDefault(l => l.Response == response);
}

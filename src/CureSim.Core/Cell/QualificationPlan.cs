namespace CureSim.Core.Cell;

/// <summary>What a qualification plan accepts by.</summary>
public enum Acceptance
{
    /// <summary>At most a stated number of the parts is nonconforming; none allowed is the success run.</summary>
    Attribute,

    /// <summary>The statistical tolerance interval (mean ± k·s) of every limited response lies inside its limits.</summary>
    ToleranceInterval,

    /// <summary>The lower confidence limit of Ppk of every limited response reaches the required one.</summary>
    Capability,
}

/// <summary>When a qualification may take parts.</summary>
public enum QualificationGate
{
    /// <summary>At any step.</summary>
    None,

    /// <summary>In the step after commissioning or after a check.</summary>
    AfterCheck,

    /// <summary>As <see cref="AfterCheck"/>, and only while the last as-left indication of every emitter is within the adjust limit.</summary>
    AsLeftWithinAdjust,
}

/// <summary>How a part of a qualification is looked at.</summary>
public enum PartReading
{
    /// <summary>The true value.</summary>
    TrueValue,

    /// <summary>Irradiance and dose as the cell's radiometer indicates them; a degree of cure is not read by it and stays true.</summary>
    Radiometer,
}

/// <summary>Over what a cell must conform to be good.</summary>
public enum GoodOver
{
    /// <summary>The cell's own fraction nonconforming over its whole horizon.</summary>
    Horizon,

    /// <summary>Its fraction nonconforming in the states in which the parts are taken.</summary>
    Qualification,
}

/// <summary>A qualification plan: how many parts, over how many set-ups, lots and emitter ages, and what is accepted.</summary>
/// <param name="Name">The user's name for it.</param>
/// <param name="Accept">What it accepts by.</param>
/// <param name="Parts">Parts taken, ≥ 1 (≥ 2 where a standard deviation is needed).</param>
/// <param name="Allowed">Nonconforming parts allowed by an attribute plan.</param>
/// <param name="Confidence">Confidence that the textbook states.</param>
/// <param name="Reliability">Proportion of parts that must conform.</param>
/// <param name="RequiredPpk">Ppk that a capability plan must show; NaN otherwise.</param>
/// <param name="Setups">Set-ups over which the parts are spread.</param>
/// <param name="Lots">Lots of substrate and adhesive over which they are spread.</param>
/// <param name="EmitterAges">Parts of an emitter's life over which they are spread: 3 is near its start, middle and end.</param>
/// <param name="Gate">When parts may be taken.</param>
/// <param name="Reading">How a part is looked at.</param>
/// <param name="Good">Over what a cell must conform to be good.</param>
public sealed record QualificationPlan(
    string Name,
    Acceptance Accept,
    int Parts,
    int Allowed,
    double Confidence,
    double Reliability,
    double RequiredPpk,
    int Setups,
    int Lots,
    int EmitterAges,
    QualificationGate Gate,
    PartReading Reading,
    GoodOver Good)
{
    /// <summary>Occasions at which parts are taken.</summary>
    public int Occasions => Math.Max(Setups, Math.Max(Lots, EmitterAges));
}

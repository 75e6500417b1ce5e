namespace CureSim.Core.Cell;

/// <summary>The event at which a quantity is drawn anew. Averaging a level away is what makes a capability figure wrong.</summary>
public enum Level
{
    /// <summary>Once a world: fixed in truth, unknown to us.</summary>
    World,

    /// <summary>Another radiometer is bought.</summary>
    Meter,

    /// <summary>The radiometer comes back from calibration.</summary>
    Calibration,

    /// <summary>Once a lifetime.</summary>
    Cell,

    /// <summary>An emitter is installed.</summary>
    Emitter,

    /// <summary>A guide is installed.</summary>
    Guide,

    /// <summary>The fixture is set up: commissioning, after a replacement, after a fixture disturbance is put right, requalification.</summary>
    Setup,

    /// <summary>A tip is cleaned.</summary>
    Cleaning,

    /// <summary>A lot of adhesive starts.</summary>
    AdhesiveLot,

    /// <summary>A lot of substrates starts.</summary>
    SubstrateLot,

    /// <summary>A shift starts.</summary>
    Shift,

    /// <summary>Every exposure.</summary>
    Part,

    /// <summary>A disturbance arrives.</summary>
    Arrival,

    /// <summary>The radiometer is read.</summary>
    Reading,
}

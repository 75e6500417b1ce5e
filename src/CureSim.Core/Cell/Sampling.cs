namespace CureSim.Core.Cell;

/// <summary>How the lifetimes of a world are spread over what varies from cell to cell.</summary>
public enum Sampling
{
    /// <summary>Every lifetime is drawn for itself.</summary>
    Independent,

    /// <summary>The lifetimes of a leaf share out the strata of each draw that is made once a lifetime or at an installation, set-up, lot, calibration or arrival.</summary>
    Stratified,

    /// <summary>Stratified where a stated rule says that it pays, else independent.</summary>
    Auto,
}

namespace CureSim.Reports.Figures;

/// <summary>The part a layer plays, from which its colour and dash follow. Colours are never chosen in a figure.</summary>
public enum Tone
{
    /// <summary>The first or only thing shown.</summary>
    First,

    /// <summary>What it is compared with.</summary>
    Second,

    /// <summary>A third thing.</summary>
    Third,

    /// <summary>A fourth thing.</summary>
    Fourth,

    /// <summary>A fifth thing; more belong in a second figure.</summary>
    Fifth,

    /// <summary>Background: individual lifetimes, what is not the point.</summary>
    Quiet,

    /// <summary>Ink: totals, references, annotations.</summary>
    Ink,
}

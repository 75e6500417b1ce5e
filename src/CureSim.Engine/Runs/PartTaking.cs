using CureSim.Core.Cell;

namespace CureSim.Engine.Runs;

/// <summary>How a qualification takes its parts in a lifetime: occasions in the cell's own course at which what must differ is new.</summary>
/// <param name="Parts">Parts in all, spread evenly over the occasions, the first taking one more where it does not divide.</param>
/// <param name="Setups">Set-ups: from one to the next every site has been set up again.</param>
/// <param name="Lots">Lots: from one to the next every kind of lot that changes has changed.</param>
/// <param name="EmitterAges">Equal parts of an emitter's life, one after another; 1: at any age.</param>
/// <param name="Gate">When parts may be taken.</param>
/// <remarks>
/// Occasion j of K belongs to set-up ⌊j·Setups/K⌋, lot ⌊j·Lots/K⌋ and age class ⌊j·EmitterAges/K⌋ and is the first step at which the gate is open and these are new.
/// Nothing is done to the cell: a set-up is new when the cell had one for a reason of its own (a replacement, a requalification, a fixture put right).
/// An emitter's life is its planned burn time; without a plan, what it burns over the horizon. Several emitters: their mean age.
/// </remarks>
public sealed record PartTaking(int Parts, int Setups, int Lots, int EmitterAges, QualificationGate Gate)
{
    /// <summary>Occasions K.</summary>
    public int Occasions => Math.Max(Setups, Math.Max(Lots, EmitterAges));

    /// <summary>Parts of one occasion, from 0.</summary>
    public int PartsAt(int occasion) => (Parts / Occasions) + (occasion < Parts % Occasions ? 1 : 0);
}

using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>What is thought of a state.</summary>
/// <param name="Qualified">True while the cell is in its qualified state.</param>
/// <param name="NominalInside">True when every nominal bond is inside the window.</param>
/// <param name="Nonconforming">p(state); NaN when it was not asked for.</param>
public readonly record struct StateVerdict(bool Qualified, bool NominalInside, double Nonconforming)
{
    /// <summary>State index Φ⁻¹(1 − p)/3.</summary>
    public double Index => -BlockMath.NormalQuantile(Nonconforming) / 3;
}

/// <summary>The seam at which p(state) is computed: docs/model.md section 4.</summary>
public interface IStateVerdict
{
    /// <summary>Judges a frozen state.</summary>
    StateVerdict Judge(ReferenceState state);
}

/// <summary><c>capability: none</c>: qualified while every nominal bond is inside; p(state) is not asked for.</summary>
public sealed class NominalVerdict : IStateVerdict
{
    /// <inheritdoc/>
    public StateVerdict Judge(ReferenceState state)
    {
        bool inside = state.NominalInside();
        return new StateVerdict(inside, inside, double.NaN);
    }
}

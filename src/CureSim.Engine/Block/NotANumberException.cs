namespace CureSim.Engine.Block;

/// <summary>A result that is not a number: names the model part, the lifetime and the step.</summary>
public sealed class NotANumberException(string part, int world, uint lifetime, int step, int site)
    : Exception($"{part} is not a finite number in world {world}, lifetime {lifetime}, step {step}, site {site + 1}; an input is outside the range in which the model holds")
{
    /// <summary>World of the lifetime.</summary>
    public int World { get; } = world;

    /// <summary>Lifetime within its world.</summary>
    public uint Lifetime { get; } = lifetime;

    /// <summary>Step.</summary>
    public int Step { get; } = step;
}

using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Checks.Fixtures;

/// <summary>What a test says about one quantity: how it varies and what of it is unknown. A plain number converts to a fixed value.</summary>
/// <param name="Varies">Differs from one draw to the next; SI.</param>
/// <param name="NotKnown">Multiplies, once a world; null when nothing is unknown.</param>
public readonly record struct Uncertain(IDistribution Varies, IDistribution? NotKnown = null)
{
    /// <summary>A number that neither varies nor is unknown.</summary>
    public static implicit operator Uncertain(double value) => new(new FixedValue(value));

    /// <summary>Drawn anew at every event of its level.</summary>
    public static Uncertain Varying(IDistribution distribution) => new(distribution);

    /// <summary>Drawn once a world.</summary>
    public static Uncertain Unknown(IDistribution distribution) => new(new FixedValue(1.0), distribution);

    /// <summary>The same as a scenario's quantity.</summary>
    public Quantity At(string path, Level level) => new(path, level, Varies, NotKnown);
}

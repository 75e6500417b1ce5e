namespace CureSim.Core.Statistics;

/// <summary>How the location of the momentary distribution behaves over time.</summary>
public enum LocationMovement
{
    /// <summary>It stays where it is.</summary>
    Constant,

    /// <summary>It moves at random.</summary>
    Random,

    /// <summary>It moves systematically, for example by ageing.</summary>
    Systematic,

    /// <summary>It moves systematically and at random, for example by ageing and from batch to batch.</summary>
    SystematicAndRandom,
}

/// <summary>Class of the time-dependent distribution model that an output follows.</summary>
/// <param name="Letter">A1, A2, B, C1, C2, C3, C4 or D.</param>
/// <param name="Meaning">One sentence: what the class says of location, dispersion and shape.</param>
/// <param name="Caveat">Where the standard's row and the output differ; null when they match.</param>
/// <remarks>
/// Source: ISO 22514-2, table of time-dependent distribution models (first in ISO 21747). The table is recalled from memory:
/// A1 location c, dispersion c, momentary nd, resulting nd · A2 c, c, one-modal, one-modal · B c, s/r, nd, one-modal · C1 r, c, nd, nd ·
/// C2 r, c, nd, one-modal · C3 s, c, any, any · C4 s/r, c, any, any · D s/r, s/r, any, any
/// (c constant, r moving at random, s systematically, nd normal). Checked against: that table.
/// </remarks>
public sealed record TimeDependentModel(string Letter, string Meaning, string? Caveat = null)
{
    /// <summary>The class from what is known of the output.</summary>
    /// <param name="location">How the location moves.</param>
    /// <param name="dispersionConstant">False when the momentary spread changes over time.</param>
    /// <param name="momentaryNormal">True when the distribution at one moment is normal.</param>
    /// <param name="resultingNormal">True when the distribution over all time is normal; only tells C1 from C2.</param>
    public static TimeDependentModel Of(LocationMovement location, bool dispersionConstant, bool momentaryNormal, bool resultingNormal)
    {
        if (!dispersionConstant)
        {
            return (location, momentaryNormal) switch
            {
                (LocationMovement.Constant, true) =>
                    new("B", "The location stays constant and the dispersion moves; the momentary distribution is normal, the resulting one is not but has one mode."),
                (LocationMovement.Constant, false) =>
                    D("no class has a constant location, a moving dispersion and a momentary distribution that is not normal; D is the nearest"),
                (LocationMovement.SystematicAndRandom, _) => D(null),
                _ => D("the class allows both a systematic and a random movement of the location; here there is only one of them"),
            };
        }

        return location switch
        {
            LocationMovement.Constant when momentaryNormal =>
                new("A1", "Location and dispersion stay constant; the momentary and the resulting distribution are normal."),
            LocationMovement.Constant =>
                new("A2", "Location and dispersion stay constant; the momentary and the resulting distribution are not normal but have one mode."),
            LocationMovement.Random when momentaryNormal && resultingNormal =>
                new("C1", "The location moves at random and the dispersion stays constant; the momentary and the resulting distribution are normal."),
            LocationMovement.Random when momentaryNormal =>
                new("C2", "The location moves at random and the dispersion stays constant; the momentary distribution is normal, the resulting one is not but has one mode."),
            LocationMovement.Random =>
                C4("no class has a location moving only at random with a momentary distribution that is not normal; C4 is the nearest"),
            LocationMovement.Systematic =>
                new("C3", "The location moves systematically and the dispersion stays constant; the resulting distribution may have any shape."),
            LocationMovement.SystematicAndRandom => C4(null),
            _ => throw new ArgumentOutOfRangeException(nameof(location), location, "Not a known movement."),
        };
    }

    private static TimeDependentModel C4(string? caveat) =>
        new("C4", "The location moves systematically and at random and the dispersion stays constant; the resulting distribution may have any shape.", caveat);

    private static TimeDependentModel D(string? caveat) =>
        new("D", "Location and dispersion both move, systematically and at random; the resulting distribution may have any shape.", caveat);
}

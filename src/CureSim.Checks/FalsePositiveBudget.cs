using CureSim.Core.Numerics;

namespace CureSim.Checks;

/// <summary>
/// How often the sampled checks would fail although nothing is wrong, were their seeds drawn anew: the number of sampled figures × P(|Z| &gt; 3).
/// </summary>
/// <remarks>
/// Seeds are fixed, so a catalogue that passes once passes always on the same code. A change of code that moves draws is a new throw of the dice:
/// about one figure in 370 then lies outside, and with <see cref="SampledFigures"/> figures that is <see cref="FalseAlarms"/> in the mean. When one does,
/// its seed may be changed only after the figure has been seen with twenty other seeds and lies outside in no more of them than the budget says
/// (<c>SampledCheck.WithSeed</c>); else it is an error in the program.
/// A standard error from 64 batches is itself uncertain: then P(|t₆₃| &gt; 3) = 0.39 % in place of 0.27 %.
/// </remarks>
public static class FalsePositiveBudget
{
    /// <summary>Standard errors within which a sampled figure must lie.</summary>
    public const double StandardErrors = 3.0;

    /// <summary>Sampled figures in the catalogue; a test counts them.</summary>
    public const int SampledFigures = 265;

    /// <summary>P(|Z| &gt; 3) for a standard normal Z.</summary>
    public static double ChanceOfOne => 2.0 * BlockMath.NormalCdf(-StandardErrors);

    /// <summary>Mean number of figures outside by chance alone when all seeds are drawn anew.</summary>
    public static double FalseAlarms => SampledFigures * ChanceOfOne;
}

using CureSim.Core.Distributions;

namespace CureSim.Core.Cell;

/// <summary>
/// One uncertain input of a cell: value = (draw of <see cref="Varies"/> at <see cref="Level"/>) × (draw of <see cref="Unknown"/>, once a world).
/// </summary>
/// <param name="Path">Place in the scenario, e.g. "source.ageing.two_stage.early_time"; names the draw's stream. Never changes once released.</param>
/// <param name="Level">The event at which <paramref name="Varies"/> is drawn anew.</param>
/// <param name="Varies">What differs from one draw to the next, SI; a fixed value when it does not vary.</param>
/// <param name="Unknown">What is fixed in truth but not known to us; multiplies. Null when there is nothing unknown.
/// A quantity that is only unknown has Varies fixed at 1.</param>
/// <remarks>
/// A relative error (ripple, imbalance, meter error …) is drawn as the natural logarithm of its factor: factor = exp(value).
/// Streams: <c>Path</c> for the varying draw, <c>Path + ".unknown"</c> for the world's.
/// </remarks>
public sealed record Quantity(string Path, Level Level, IDistribution Varies, IDistribution? Unknown = null)
{
    /// <summary>True when neither varying nor unknown.</summary>
    public bool IsFixed => !IsVarying && Unknown is null;

    /// <summary>True when it is drawn anew at its level's event.</summary>
    public bool IsVarying => Varies is not FixedValue;

    /// <summary>Mean over variation and ignorance.</summary>
    public double Mean => Varies.Mean * (Unknown?.Mean ?? 1.0);

    /// <summary>A quantity that neither varies nor is unknown.</summary>
    public static Quantity Of(string path, Level level, double value) => new(path, level, new FixedValue(value));
}

namespace CureSim.Core.Cell;

/// <summary>What holds the output between settings.</summary>
public enum LoopKind
{
    /// <summary>The drive stays where it was set.</summary>
    None,

    /// <summary>A sensor inside the source, before the guide, holds its own reading.</summary>
    OutputSensor,
}

/// <summary>Feedback loop.</summary>
/// <param name="Kind">None or output sensor.</param>
/// <param name="SensorDrift">Drift of the sensor's logarithm, 1/s, since the set-point was last set; level cell (a site's own for one emitter a site).</param>
/// <param name="Ripple">ln of the output factor within an exposure; level part, one draw an exposure and emitter.</param>
/// <param name="Alarm">True when saturation is told at the step in which it happens.</param>
public sealed record Loop(LoopKind Kind, Quantity SensorDrift, Quantity Ripple, bool Alarm);

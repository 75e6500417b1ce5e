using CureSim.Engine.Block;
using CureSim.Reports.Text;

namespace CureSim.Reports.Runs;

/// <summary>The number that belongs to a traced event, in a trade unit.</summary>
/// <param name="Value">In the unit.</param>
/// <param name="Unit">Header part, such as w_per_cm2.</param>
/// <param name="Shown">As people read it.</param>
internal sealed record TraceValue(double Value, string Unit, string Shown)
{
    /// <summary>The number of an event; null when it has none that is finite.</summary>
    public static TraceValue? Of(TraceEvent what)
    {
        if (what.Value is not { } value || !double.IsFinite(value))
        {
            return null;
        }

        switch (what.What)
        {
            case "as found" or "as left" or "read":
                return new(value * 1e-4, "w_per_cm2", Format.Value(value * 1e-4, "W/cm²"));
            case "set" or "still short":
                return new(100.0 * value, "percent_of_full_drive", Format.Value(100.0 * value, "% of full drive", 3));
            case "emitter replaced" or "emitter failed":
                return new(value / 3600.0, "burn_hours", $"after {Format.Hours(value / 3600.0)} burning");
            case "guide replaced":
                return new(value / 3600.0, "lit_hours", $"after {Format.Hours(value / 3600.0)} lit");
            case "calibration":
                return new(100.0 * (Math.Exp(value) - 1.0), "percent_error_of_calibration", $"calibration error {Format.Value(100.0 * (Math.Exp(value) - 1.0), "%", 3)}");
            case "commissioned" or "commissioned, never qualified" or "excursion starts" or "excursion ends":
                return new(1e6 * value, "ppm_parts_nonconforming", $"{Format.Value(1e6 * value, "ppm", 3)} of parts outside in this state");
            default:
                return new(value, "si", Format.Value(value));
        }
    }
}

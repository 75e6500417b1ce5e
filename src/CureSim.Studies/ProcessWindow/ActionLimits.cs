using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Statistics;

namespace CureSim.Studies.ProcessWindow;

/// <summary>Limits for an indication, so that the true setting is inside the rectangle's range.</summary>
/// <param name="Rule">In words.</param>
/// <param name="Width">Guard band on each side, ratio.</param>
/// <param name="Lower">W/cm²; null: no room is left.</param>
/// <param name="Upper">W/cm².</param>
/// <param name="RiskAtLimit">Chance that the true value is outside when the indication stands at a limit.</param>
/// <param name="Withheld">Why there are none.</param>
public sealed record ActionLimit(string Rule, double Width, double? Lower, double? Upper, double RiskAtLimit, string? Withheld);

/// <summary>Action limits from the operating rectangle and the radiometer's uncertainty.</summary>
/// <param name="Uncertainty">Standard uncertainty of one indication, ratio.</param>
/// <param name="Parts">What it is made of, as text.</param>
/// <param name="Rows">By rule.</param>
public sealed record ActionLimits(double Uncertainty, string Parts, ActionLimit[] Rows)
{
    /// <summary>Limits of a rectangle; null in a cell without checks.</summary>
    /// <remarks>
    /// What is unknown of the radiometer counts as what varies of it, and an error whose mean is not zero with its root mean square, since no reading is corrected for it.
    /// Errors are logarithms of factors, so limits are guarded on the logarithm (JCGM 106). A drift of the radiometer enters with its size at a time drawn evenly
    /// between two calibrations: s·T/√3.
    /// </remarks>
    public static ActionLimits? Of(WindowMap map)
    {
        ArgumentNullException.ThrowIfNull(map);
        var cell = map.Case.Cell;
        if (cell.Checks is null || map.Rectangle is not { } r || !map.Case.IsUsual)
        {
            return null;
        }

        var m = cell.Radiometer;
        double between = (m.CalibrationSteps > 0 ? m.CalibrationSteps : cell.Production.StepCount) * cell.Production.StepSeconds;
        (string Name, double Value)[] parts =
        [
            cell.Window.InStudyMeterUnits ? ("persistent (cancels: limits are in the study meter's units)", 0.0) : ("persistent", Size(m.Meter)),
            ("calibration", Size(m.Calibration)), ("drift", Size(m.Drift) * between / Math.Sqrt(3.0)), ("session", Size(m.Session)), ("repeatability", Size(m.Repeatability)),
        ];
        double u = Math.Sqrt(parts.Sum(p => p.Value * p.Value));
        string text = string.Join(", ", parts.Where(p => p.Value > 0.0 || p.Name.Length > 12).Select(p => p.Value > 0.0 ? FormattableString.Invariant($"{p.Name} {100.0 * p.Value:G3} %") : p.Name));
        var limits = new LimitPair(Math.Log(r.FromX), Math.Log(r.ToX));
        ActionLimit Row(string rule, GuardBand band, double risk) => new(
            rule, Math.Exp(band.Width) - 1.0, band.Limits?.Lower is { } l ? Math.Exp(l) : null, band.Limits?.Upper is { } h ? Math.Exp(h) : null, risk, band.Withheld);
        return u > 0.0
            ? new(u, text, [Row("95 % conformance probability", GuardBand.ForConformance(u, limits, 0.95), 0.05), Row("expanded uncertainty, k = 2", GuardBand.FromExpanded(2.0 * u, limits), 0.02275)])
            : new(0.0, "a radiometer without error", [new("no guard band needed", 0.0, r.FromX, r.ToX, 0.0, null)]);
    }

    // √(E V²·E U²): the root mean square of what varies times what is unknown, which are independent.
    internal static double Size(Quantity q) => Square(q.Varies) * (q.Unknown is { } u ? Square(u) : 1.0);

    private static double Square(IDistribution x) => Math.Sqrt((x.Mean * x.Mean) + (x.StandardDeviation * x.StandardDeviation));
}

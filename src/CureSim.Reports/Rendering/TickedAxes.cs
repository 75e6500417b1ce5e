using OxyPlot.Axes;

namespace CureSim.Reports.Rendering;

/// <summary>A linear axis that labels the places it is told.</summary>
internal sealed class TickedLinearAxis : LinearAxis
{
    public required Ticks Ticks { get; init; }

    public override void GetTickValues(
        out IList<double> majorLabelValues, out IList<double> majorTickValues, out IList<double> minorTickValues)
    {
        majorLabelValues = [.. Ticks.Labelled];
        majorTickValues = [.. Ticks.Labelled];
        minorTickValues = [.. Ticks.Plain];
    }
}

/// <summary>A logarithmic axis that labels the places it is told.</summary>
internal sealed class TickedLogarithmicAxis : LogarithmicAxis
{
    public required Ticks Ticks { get; init; }

    public override void GetTickValues(
        out IList<double> majorLabelValues, out IList<double> majorTickValues, out IList<double> minorTickValues)
    {
        majorLabelValues = [.. Ticks.Labelled];
        majorTickValues = [.. Ticks.Labelled];
        minorTickValues = [.. Ticks.Plain];
    }
}

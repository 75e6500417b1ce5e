using System.Collections.Immutable;
using System.Globalization;

namespace CureSim.Studies.ProcessWindow;

/// <summary>A setting of the map and its values.</summary>
/// <param name="Key">Its key in the scenario, such as "checks.target".</param>
/// <param name="Label">In words, such as "Irradiance setting".</param>
/// <param name="Unit">Unit of the values, such as "W/cm²"; empty for a plain number.</param>
/// <param name="Values">Values in that unit, rising, at most three significant digits each, so that they can be printed and set.</param>
/// <param name="Found">True when the range was found by the study.</param>
public sealed record WindowAxis(string Key, string Label, string Unit, ImmutableArray<double> Values, bool Found)
{
    /// <summary>Lowest value.</summary>
    public double From => Values[0];

    /// <summary>Highest value.</summary>
    public double To => Values[^1];

    /// <summary>An axis of so many values in equal ratios, rounded to three significant digits.</summary>
    public static WindowAxis Of(string key, string label, string unit, double from, double to, int nodes, bool found)
    {
        double ratio = Math.Log(to / from);
        var values = Enumerable.Range(0, nodes).Select(i => Rounded(from * Math.Exp(ratio * i / (nodes - 1)))).Distinct().Order().ToImmutableArray();
        return values.Length >= 3 ? new(key, label, unit, values, found) : throw new ArgumentException($"The range of {key} is too narrow for a map.", nameof(from));
    }

    /// <summary>A value at three significant digits.</summary>
    public static double Rounded(double value) => double.Parse(value.ToString("G3", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}

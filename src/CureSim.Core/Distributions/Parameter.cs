using System.Runtime.CompilerServices;

namespace CureSim.Core.Distributions;

/// <summary>Refuses parameters that are out of range; the tests are written so that not-a-number fails them.</summary>
internal static class Parameter
{
    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        double.IsFinite(value) ? value : throw Wrong(name, value, "must be finite");

    public static double Positive(double value, [CallerArgumentExpression(nameof(value))] string name = "") =>
        value > 0.0 && double.IsFinite(value) ? value : throw Wrong(name, value, "must be greater than 0 and finite");

    /// <summary>Both finite, the second greater.</summary>
    public static void Increasing(
        double low, double high, [CallerArgumentExpression(nameof(low))] string lowName = "", [CallerArgumentExpression(nameof(high))] string highName = "")
    {
        Finite(low, lowName);
        Finite(high, highName);
        if (!(high > low && double.IsFinite(high - low)))
        {
            throw Wrong(highName, high, FormattableString.Invariant($"must be greater than {lowName} = {low}"));
        }
    }

    public static ArgumentException Wrong(string name, double value, string rule) =>
        new(FormattableString.Invariant($"{name} = {value} {rule}"), name);
}

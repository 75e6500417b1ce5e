using System.Globalization;
using CureSim.Scenarios;

namespace CureSim.Cli;

/// <summary>Confidence and reliability on a command line: "95 %" or 0.95.</summary>
internal static class Probability
{
    public static readonly OptionInfo Confidence = new("--confidence", "PERCENT", "Confidence of intervals and bounds, such as 95% or 0.95. Left out: 95 %.");
    public static readonly OptionInfo Reliability = new("--reliability", "PERCENT", "Proportion of the output that must conform, such as 99% or 0.99.");

    // Below one half nothing is shown; beyond a millionth the tail of a normal law is no knowledge, and plans reach millions of parts.
    private const double Least = 0.5, Most = 0.999999;

    /// <summary>Reads an option; notes a problem and returns the default when it cannot.</summary>
    public static double Read(Call call, OptionInfo option, double leftOut, ICollection<string> problems)
    {
        if (call.Text(option) is not { } text)
        {
            return leftOut;
        }

        double value = SampleUnit.Find("%")!.TryRead(text, out double percent, out _) ? percent / 100.0
            : double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double ratio) ? ratio : double.NaN;
        if (value is >= Least and <= Most)
        {
            return value;
        }

        string meant = value is > 1.0 and < 100.0 ? $"; did you mean \"{text}%\"?" : "";
        problems.Add($"{option.Name}: found \"{text}\"; accepted: 50 % to 99.9999 %, such as 95% or 0.95{meant}");
        return leftOut;
    }
}

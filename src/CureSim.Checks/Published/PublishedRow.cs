using System.Globalization;
using System.Text.RegularExpressions;

namespace CureSim.Checks.Published;

/// <summary>
/// One row of published or recomputed values. Inputs and expected numbers are found by their label in the row's own text, and each is compared once.
/// </summary>
internal sealed partial class PublishedRow(string id, string topic, string inputs, string expected, string tolerance, string source, string provenance)
{
    private const string NumberPattern = @"[+\-−]?\d+(?:\.\d+)?(?:[eE][+\-]?\d+)?";
    private const int Shown = 8;
    private readonly List<(string What, string Expected, double Found)> compared = [];
    private readonly List<string> wrong = [];

    public string Id => id;

    public string Topic => topic;

    public string Inputs => inputs;

    public string ExpectedText => expected;

    public string Source => source;

    public string Provenance => provenance;

    /// <summary>The same row with nothing compared yet.</summary>
    public PublishedRow Fresh() => new(id, topic, inputs, expected, tolerance, source, provenance);

    public double Input(string label) => Parse(Token(inputs, label));

    public double[] InputList(string label) => [.. List(inputs, label).Select(Parse)];

    public string Text(string label) => Token(expected, label);

    public double Expected(string label) => Parse(Token(expected, label));

    public string[] Tokens(string label) => List(expected, label);

    /// <summary>Compares with the number after the label.</summary>
    public void Check(string label, double actual, double looser = 0.0) => Compare(label, Token(expected, label), actual, looser);

    /// <summary>Compares with the list in brackets after the label.</summary>
    public void CheckList(string label, IReadOnlyList<double> actual, double looser = 0.0)
    {
        string[] tokens = List(expected, label);
        Holds($"{label} has {tokens.Length} values", tokens.Length == actual.Count);
        for (int i = 0; i < Math.Min(tokens.Length, actual.Count); i++)
        {
            Compare($"{label}[{i}]", tokens[i], actual[i], looser);
        }
    }

    /// <summary>
    /// Allowed difference: the tighter of the row's tolerance and 1e-9 of the value, but never less than half a unit of the last printed digit,
    /// because the value is known no better. <paramref name="looser"/> (absolute) replaces it where a check states its own reason.
    /// </summary>
    public void Compare(string what, string token, double actual, double looser = 0.0)
    {
        double value = Parse(token);
        double allowed = Math.Max(Math.Max(Math.Min(RowTolerance(value), 1e-9 * Math.Abs(value)), 0.5000001 * LastDigit(token)), looser);
        compared.Add((what, token, actual));
        if (!(Math.Abs(actual - value) <= allowed))
        {
            wrong.Add(FormattableString.Invariant($"{what}: {actual:R} instead of {token}, allowed ±{allowed:G3}"));
        }
    }

    /// <summary>Compares with a number that follows from the row (a round trip, an identity) within an absolute tolerance.</summary>
    public void Equal(string what, double value, double actual, double tolerance)
    {
        compared.Add((what, value.ToString("R", CultureInfo.InvariantCulture), actual));
        if (!(Math.Abs(actual - value) <= tolerance))
        {
            wrong.Add(FormattableString.Invariant($"{what}: {actual:R} instead of {value:R}, allowed ±{tolerance:G3}"));
        }
    }

    /// <summary>A statement that must hold beside the numbers.</summary>
    public void Holds(string statement, bool holds)
    {
        if (!holds)
        {
            wrong.Add(statement + ": does not hold");
        }
    }

    /// <summary>What was found; a row of which nothing was compared has failed.</summary>
    public CheckOutcome Outcome()
    {
        string more = compared.Count > Shown ? FormattableString.Invariant($"; and {compared.Count - Shown} more") : string.Empty;
        string found = wrong.Count > 0
            ? string.Join("; ", wrong.Take(Shown))
            : string.Join("; ", compared.Take(Shown).Select(c => c.What + " " + c.Found.ToString("G12", CultureInfo.InvariantCulture))) + more;
        return new CheckOutcome(
            string.Join("; ", compared.Take(Shown).Select(c => $"{c.What} {c.Expected}")) + more, found,
            $"{tolerance} as the source gives the figures, never less than half a unit of the last digit printed", compared.Count > 0 && wrong.Count == 0, null, compared.Count);
    }

    public static double Parse(string token)
    {
        int slash = token.IndexOf('/');
        return slash > 0
            ? Parse(token[..slash]) / Parse(token[(slash + 1)..])
            : double.Parse(token.Replace('−', '-'), CultureInfo.InvariantCulture);
    }

    private double RowTolerance(double value)
    {
        Match m = ToleranceRegex().Match(tolerance);
        double t = m.Success ? double.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture) : double.PositiveInfinity;
        return m.Groups[1].Value.Length > 0 || tolerance.EndsWith(" rel", StringComparison.Ordinal) ? t * Math.Abs(value) : t;
    }

    private static double LastDigit(string token)
    {
        Match m = Regex.Match(token, @"^[+\-−]?\d+(?:\.(\d+))?(?:[eE]([+\-]?\d+))?$");
        int decimals = m.Groups[1].Length;
        int exponent = m.Groups[2].Success ? int.Parse(m.Groups[2].Value, CultureInfo.InvariantCulture) : 0;

        // A whole number is exact.
        return decimals == 0 && exponent == 0 ? 0.0 : Math.Pow(10.0, exponent - decimals);
    }

    private static string Token(string text, string label)
    {
        Match m = Regex.Match(text, @"(?:^|[\s;,(\[])" + Regex.Escape(label) + @"\s*[=:]?\s*(" + NumberPattern + @"(?:/\d+)?)");
        return m.Success ? m.Groups[1].Value : throw new InvalidOperationException($"No number after '{label}' in: {text}");
    }

    private static string[] List(string text, string label)
    {
        Match m = Regex.Match(text, (label.Length == 0 ? "^" : @"(?:^|[\s;(])") + Regex.Escape(label) + @"\s*=?\s*\[([^\]]*)\]");
        return m.Success
            ? [.. m.Groups[1].Value.Split([';', ','], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)]
            : throw new InvalidOperationException($"No list after '{label}' in: {text}");
    }

    [GeneratedRegex(@"(rel )?(\d+(?:\.\d+)?e-\d+)")]
    private static partial Regex ToleranceRegex();
}

using System.Globalization;

namespace CureSim.Scenarios;

/// <content>Words, counts and single values.</content>
internal sealed partial class BlockReader
{
    /// <summary>Free text; <paramref name="fallback"/> when it is left out.</summary>
    public string? Text(string key, string? fallback = null, bool optional = false)
    {
        string? text = fallback is null ? null : YamlText.Flow(new ScalarNode(fallback, true, default, Origin.Default));
        string? found = Scalar(key, optional, text)?.Text;
        if (found?.Length > LongestText)
        {
            Problem(key, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{found.Length} letters"), string.Create(System.Globalization.CultureInfo.InvariantCulture, $"at most {LongestText} letters: names stand in tables and figures"));
            return found[..LongestText];
        }

        return found;
    }

    // Longer names are no names, and would cost the layout of a page minutes.
    private const int LongestText = 300;

    /// <summary>A text that leads to data: the resolved block holds the data instead.</summary>
    public ScalarNode? DataText(string key)
    {
        ScenarioNode? value = Take(key, optional: true);
        switch (value)
        {
            case ScalarNode scalar:
                Note(key, YamlText.Flow(scalar), null, "", value.Origin);
                return scalar;
            case null:
                if (!Written(key))
                {
                    Findings.Problem(Context.PlaceOf(Path), PathOf(key), "nothing", KeyWords.Accepted(Table[key]), $"write \"{key}: {Table[key].Sample}\"");
                }

                return null;
            default:
                WrongKind(key, value);
                return null;
        }
    }

    /// <summary>One of the key's words; null after a problem.</summary>
    public string? Choice(string key)
    {
        if (Scalar(key) is not { } scalar)
        {
            return null;
        }

        string[] words = ((ChoiceShape)Table[key].Shape).Words;
        if (words.Contains(scalar.Text))
        {
            return scalar.Text;
        }

        Findings.Problem(scalar.Place, PathOf(key), scalar.Found, KeyWords.Accepted(Table[key]), NearestWord.Question(scalar.Text, words));
        return null;
    }

    /// <summary>true or false; false after a problem.</summary>
    public bool YesNo(string key)
    {
        if (Scalar(key) is not { } scalar)
        {
            return false;
        }

        switch (scalar.Text)
        {
            case "true":
                return true;
            case "false":
                return false;
            default:
                bool? meant = scalar.Text.ToLowerInvariant() switch { "yes" or "on" or "true" => true, "no" or "off" or "false" => false, _ => null };
                Findings.Problem(
                    scalar.Place, PathOf(key), scalar.Found, "true or false", meant is null ? null : $"did you mean \"{(meant.Value ? "true" : "false")}\"?");
                return false;
        }
    }

    /// <summary>A whole number; null after a problem.</summary>
    public ulong? Count(string key, string? fallback = null)
    {
        var shape = (CountShape)Table[key].Shape;
        if (Scalar(key, false, fallback) is not { } scalar)
        {
            return null;
        }

        if (ulong.TryParse(scalar.Text, NumberStyles.None, CultureInfo.InvariantCulture, out ulong count) && count >= shape.Least && count <= shape.Most)
        {
            return count;
        }

        Findings.Problem(scalar.Place, PathOf(key), scalar.Found, KeyWords.Accepted(Table[key]));
        return null;
    }

    /// <summary>A value in SI; NaN after a problem.</summary>
    public double Value(string key, string? fallback = null, Origin fallbackOrigin = Origin.Default) =>
        ValueOrWord(key, fallback, fallbackOrigin).Value ?? double.NaN;

    /// <summary>A value in SI, or null for one of the key's words ("none"); NaN after a problem.</summary>
    public (double? Value, string? Word) ValueOrWord(string key, string? fallback = null, Origin fallbackOrigin = Origin.Default)
    {
        var shape = (ValueShape)Table[key].Shape;
        if (Take(key, false, fallback, fallbackOrigin) is not { } value)
        {
            return (double.NaN, null);
        }

        Note(key, YamlText.Flow(value), null, shape.Dimension.ShownUnit, value.Origin);
        Resolve(key, value);
        if (value is ScalarNode word && shape.Words.Contains(word.Text))
        {
            return (null, word.Text);
        }

        return (ReadValue(key, value, shape.Dimension, shape.Bounds)?.Si ?? double.NaN, null);
    }

    /// <summary>One value for all of <paramref name="count"/>, or one for each; null when left out or after a problem.</summary>
    public double[]? Values(string key, int count)
    {
        var shape = (ValuesShape)Table[key].Shape;
        if (Take(key, optional: true) is not { } value)
        {
            return null;
        }

        Note(key, YamlText.Flow(value), null, shape.Dimension.ShownUnit, value.Origin);
        Resolve(key, value);
        ScenarioNode[] items = value is ListNode list ? [.. list.Items] : [value];
        if (value is ListNode && items.Length != count)
        {
            Findings.Problem(
                value.Place, PathOf(key), value.Found, string.Create(CultureInfo.InvariantCulture, $"one value, or a list of {count}"));
        }

        double[] read = [.. items.Select(item => ReadValue(key, item, shape.Dimension, shape.Bounds)?.Si ?? double.NaN)];
        return read.Length == count ? read : [.. Enumerable.Repeat(read.Length == 0 ? double.NaN : read[0], count)];
    }

    private ReadValue? ReadValue(string key, ScenarioNode value, Dimension dimension, Bounds bounds)
    {
        if (value is not ScalarNode scalar)
        {
            WrongKind(key, value);
            return null;
        }

        if (!ValueText.TryRead(scalar.Text, dimension, Context.Clock, out ReadValue read, out string? suggestion))
        {
            string? near = Table[key].Shape is ValueShape { Words: { Length: > 0 } words } ? NearestWord.Question(scalar.Text, words) : null;
            Findings.Problem(scalar.Place, PathOf(key), scalar.Found, KeyWords.Accepted(Table[key]), suggestion ?? near);
            return null;
        }

        if (!bounds.Allows(read.Si))
        {
            Findings.Problem(scalar.Place, PathOf(key), scalar.Found, bounds.Words);
            return null;
        }

        return read;
    }

    private ScalarNode? Scalar(string key, bool optional = false, string? fallback = null)
    {
        ScenarioNode? value = Take(key, optional, fallback);
        if (value is null)
        {
            return null;
        }

        Note(key, YamlText.Flow(value), null, "", value.Origin);
        Resolve(key, value);
        if (value is ScalarNode scalar)
        {
            return scalar;
        }

        WrongKind(key, value);
        return null;
    }
}

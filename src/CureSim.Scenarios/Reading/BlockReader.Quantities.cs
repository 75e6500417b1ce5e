using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <content>Values that may vary or be unknown.</content>
internal sealed partial class BlockReader
{
    /// <summary>The quantity; null for the word "none". After a problem: one that is fixed at NaN.</summary>
    public Quantity? QuantityOrNone(string key)
    {
        var shape = (QuantityShape)Table[key].Shape;
        if (Take(key) is not { } value)
        {
            return Missing(key);
        }

        if (value is ScalarNode word && shape.Words.Contains(word.Text))
        {
            Note(key, word.Text, shape.Level, shape.Dimension.ShownUnit, value.Origin);
            Resolve(key, value);
            return null;
        }

        (Quantity? quantity, ScenarioNode written) = new QuantityReader(Context, PathOf(key), shape).Read(value);
        Level level = quantity is { IsVarying: false, Unknown: not null } ? Level.World : shape.Level;
        Note(key, Shortened(YamlText.Flow(value)), level, shape.Dimension.ShownUnit, value.Origin);
        Resolve(key, written);
        return quantity ?? Missing(key);
    }

    /// <summary>The quantity; after a problem one that is fixed at NaN.</summary>
    public Quantity Quantity(string key) => QuantityOrNone(key) ?? Missing(key);

    /// <summary>A quantity that is not written and does not matter.</summary>
    public static Quantity Absent(string path, Level level, double value = 0) => Core.Cell.Quantity.Of(path, level, value);

    /// <summary>The quantity of a key whose block is left out.</summary>
    public Quantity Absent(string key, double value = 0)
    {
        Skip(key);
        return Absent(PathOf(key), ((QuantityShape)Table[key].Shape).Level, value);
    }

    private Quantity Missing(string key) => Core.Cell.Quantity.Of(PathOf(key), ((QuantityShape)Table[key].Shape).Level, double.NaN);

    private static string Shortened(string text) => text.Length <= 200 ? text : string.Concat(text.AsSpan(0, 197), "...");
}

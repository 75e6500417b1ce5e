using System.Globalization;
using System.Text.Json.Nodes;
using CureSim.Reports.Tables;

namespace CureSim.Reports.Runs;

/// <summary>Numbers of machine files, rounded to ten significant digits.</summary>
/// <remarks>
/// The engine's own functions give the same bits on every machine; the special functions of a mathematics library and of the runtime (beta, t and
/// chi-square quantiles, powers) may differ in their last bits between processors and versions. Ten digits hide that and are far more than any
/// figure of a simulation deserves.
/// </remarks>
public static class MachineDigits
{
    /// <summary>Significant digits that are kept.</summary>
    public const int Count = 10;

    private const string Pattern = "E9"; // one digit before the point and nine behind it

    /// <summary>The number rounded; not-a-number and infinities stay what they are.</summary>
    public static double Round(double value) =>
        double.IsFinite(value) ? double.Parse(value.ToString(Pattern, CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : value;

    /// <summary>The table with every real number rounded.</summary>
    public static Table Of(Table table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var rounded = new Table(table.Name, table.Columns);
        foreach (var row in table.Rows)
        {
            Cell[] cells = [.. row.Select(cell => cell.Raw is double number ? Round(number) : cell)];
            rounded.Add(cells);
        }

        return rounded;
    }

    /// <summary>Rounds every real number of a tree, in place.</summary>
    public static void Apply(JsonNode? tree) => Apply(tree, Rounded);

    /// <summary>Puts in the place of every node what a function makes of it; where it makes nothing of it the node stays and its members are gone through.</summary>
    internal static void Apply(JsonNode? tree, Func<JsonNode?, JsonValue?> rounded)
    {
        switch (tree)
        {
            case JsonObject members:
                foreach (var (name, value) in members.ToList())
                {
                    if (rounded(value) is { } number)
                    {
                        members[name] = number;
                    }
                    else
                    {
                        Apply(value, rounded);
                    }
                }

                break;
            case JsonArray items:
                for (int i = 0; i < items.Count; i++)
                {
                    if (rounded(items[i]) is { } number)
                    {
                        items[i] = number;
                    }
                    else
                    {
                        Apply(items[i], rounded);
                    }
                }

                break;
        }
    }

    // Whole numbers are stored as such and keep every digit: a seed has up to twenty.
    private static JsonValue? Rounded(JsonNode? node) =>
        node is JsonValue value && value.TryGetValue(out double number) && value.GetValue<object>() is double ? JsonValue.Create(Round(number)) : null;
}

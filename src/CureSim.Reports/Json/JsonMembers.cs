using System.Text.Json.Nodes;

namespace CureSim.Reports.Json;

/// <summary>Adding members to a JSON object with the conventions of the result files.</summary>
public static class JsonMembers
{
    /// <summary>Adds a number; a name already taken is an error.</summary>
    /// <param name="target">The object.</param>
    /// <param name="name">Member name with its unit, such as <c>medianDoseJoulePerSquareMetre</c>.</param>
    /// <param name="value">The number. When it is not finite, or null, <c>null</c> is written and a member <c>«name»Reason</c> beside it.</param>
    /// <param name="whyMissing">Why there is no number; must be given when there is none.</param>
    /// <exception cref="ArgumentException">No number and no reason.</exception>
    public static JsonObject Number(this JsonObject target, string name, double? value, string? whyMissing = null)
    {
        ArgumentNullException.ThrowIfNull(target);
        if (value is { } number && double.IsFinite(number))
        {
            target.Add(name, JsonValue.Create(number == 0 ? 0 : number));
            return target;
        }

        if (string.IsNullOrWhiteSpace(whyMissing))
        {
            throw new ArgumentException($"'{name}' has no finite value and no reason is given for that.", nameof(whyMissing));
        }

        target.Add(name, null);
        target.Add(name + "Reason", whyMissing);
        return target;
    }

    /// <summary>Adds a whole number.</summary>
    public static JsonObject Count(this JsonObject target, string name, long value)
    {
        ArgumentNullException.ThrowIfNull(target);
        target.Add(name, JsonValue.Create(value));
        return target;
    }

    /// <summary>Adds a text.</summary>
    public static JsonObject Text(this JsonObject target, string name, string? value)
    {
        ArgumentNullException.ThrowIfNull(target);
        target.Add(name, value is null ? null : JsonValue.Create(value));
        return target;
    }

    /// <summary>Adds an estimate: <c>{ value, standardError, lower95, upper95 }</c>, parts that were not estimated left out.</summary>
    /// <exception cref="ArgumentException">A part that is not finite.</exception>
    public static JsonObject Estimate(
        this JsonObject target, string name, double value, double? standardError = null, double? lower95 = null, double? upper95 = null)
    {
        ArgumentNullException.ThrowIfNull(target);
        var parts = new JsonObject();
        foreach (var (part, number) in new[] { ("value", value), ("standardError", standardError), ("lower95", lower95), ("upper95", upper95) })
        {
            if (number is { } given)
            {
                parts.Number(part, given);
            }
        }

        target.Add(name, parts);
        return target;
    }

    /// <summary>Adds an object and returns it, to be filled.</summary>
    public static JsonObject Object(this JsonObject target, string name)
    {
        ArgumentNullException.ThrowIfNull(target);
        var inner = new JsonObject();
        target.Add(name, inner);
        return inner;
    }

    /// <summary>Adds an array and returns it, to be filled.</summary>
    public static JsonArray Array(this JsonObject target, string name)
    {
        ArgumentNullException.ThrowIfNull(target);
        var inner = new JsonArray();
        target.Add(name, inner);
        return inner;
    }
}

using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace CureSim.Scenarios;

/// <summary>JSON Schema (2020-12) of the scenario format, for editors; made from the key table that the reader reads by.</summary>
/// <remarks>
/// A schema cannot say everything: that exactly one law is named, that limits do not cross, that a target can be reached. The reader does.
/// </remarks>
public static class ScenarioSchema
{
    /// <summary>The schema, indented, with a newline at its end.</summary>
    public static string Write()
    {
        var defs = new SortedDictionary<string, JsonNode>(StringComparer.Ordinal);
        JsonObject root = SchemaOf(ScenarioKeys.Root, defs);
        var all = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = "CureSim scenario",
        };
        foreach ((string key, JsonNode? value) in root.ToList())
        {
            root.Remove(key);
            all[key] = value;
        }

        var definitions = new JsonObject();
        foreach ((string name, JsonNode node) in defs)
        {
            definitions[name] = node;
        }

        all["$defs"] = definitions;
        var options = new JsonSerializerOptions { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, NewLine = "\n" };
        return all.ToJsonString(options) + "\n";
    }

    private static JsonObject SchemaOf(BlockTable table, SortedDictionary<string, JsonNode> defs)
    {
        var properties = new JsonObject();
        var required = new JsonArray();
        foreach (Key key in table.Keys)
        {
            JsonObject property = SchemaOf(key.Shape, defs);
            property["description"] = key.Meaning;
            if (key.Defaults.Length == 1 && key.Defaults[0].Variant is null)
            {
                property["description"] += $" Left out: {key.Defaults[0].Text} ({key.Defaults[0].Origin.ToString().ToLowerInvariant()}).";
            }

            properties[key.Name] = property;
            if (key.Required)
            {
                required.Add(key.Name);
            }
        }

        var schema = new JsonObject { ["type"] = "object", ["description"] = table.Meaning, ["properties"] = properties, ["additionalProperties"] = false };
        if (required.Count > 0)
        {
            schema["required"] = required;
        }

        return schema;
    }

    private static JsonObject SchemaOf(Shape shape, SortedDictionary<string, JsonNode> defs) => shape switch
    {
        TextShape => new JsonObject { ["type"] = new JsonArray("string", "number") },
        ChoiceShape choice => Enum(choice.Words),
        YesNoShape => new JsonObject { ["type"] = "boolean" },
        CountShape { Most: ulong.MaxValue } count => new JsonObject { ["type"] = "integer", ["minimum"] = count.Least },
        CountShape count => new JsonObject { ["type"] = "integer", ["minimum"] = count.Least, ["maximum"] = count.Most },
        ValueShape value => AnyOf([DimensionSchema.Value(value.Dimension, defs), .. WordSchema(value.Words)]),
        ValuesShape values => AnyOf(
            [DimensionSchema.Value(values.Dimension, defs), new JsonObject { ["type"] = "array", ["items"] = DimensionSchema.Value(values.Dimension, defs) }]),
        QuantityShape quantity => AnyOf(
            [DimensionSchema.Value(quantity.Dimension, defs), DimensionSchema.Distribution(quantity, defs), .. WordSchema(quantity.Words)]),
        BlockShape block => SchemaOf(block.Table, defs),
        ListShape list => new JsonObject { ["type"] = "array", ["items"] = SchemaOf(list.Item, defs) },
        LawShape law => AnyOf([Laws(law, defs), .. WordSchema(law.Words)]),
        _ => throw new ArgumentOutOfRangeException(nameof(shape)),
    };

    private static JsonObject Laws(LawShape shape, SortedDictionary<string, JsonNode> defs)
    {
        JsonObject One(bool weighted)
        {
            var properties = new JsonObject();
            if (weighted)
            {
                properties["weight"] = DimensionSchema.Value(Dimension.Number, defs);
            }

            foreach (BlockTable law in shape.Laws)
            {
                properties[law.Name] = SchemaOf(law, defs);
            }

            return new JsonObject { ["type"] = "object", ["properties"] = properties, ["additionalProperties"] = false, ["minProperties"] = 1 };
        }

        JsonObject one = One(false);
        if (shape.Candidates)
        {
            one["properties"]!["candidates"] = new JsonObject { ["type"] = "array", ["minItems"] = 1, ["items"] = One(true) };
        }

        one["maxProperties"] = 1;
        return one;
    }

    private static JsonObject Enum(string[] words) => new() { ["enum"] = new JsonArray([.. words.Select(w => (JsonNode)JsonValue.Create(w)!)]) };

    private static JsonObject[] WordSchema(string[] words) => words.Length == 0 ? [] : [Enum(words)];

    private static JsonObject AnyOf(JsonObject[] options) => options.Length == 1
        ? options[0]
        : new JsonObject { ["anyOf"] = new JsonArray([.. options]) };
}

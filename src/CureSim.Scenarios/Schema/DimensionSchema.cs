using System.Text.Json.Nodes;

namespace CureSim.Scenarios;

/// <summary>Schemas of values and distributions of one dimension, kept once each among the definitions.</summary>
internal static class DimensionSchema
{
    public static JsonObject Value(Dimension dimension, SortedDictionary<string, JsonNode> defs) => Reference(NameOf(dimension), defs, () =>
        dimension.Form == DimensionForm.Bare
            ? new JsonObject { ["type"] = "number", ["description"] = dimension.Accepted }
            : new JsonObject { ["type"] = "string", ["pattern"] = dimension.Pattern, ["description"] = dimension.Accepted });

    public static JsonObject Distribution(QuantityShape shape, SortedDictionary<string, JsonNode> defs)
    {
        bool relative = shape.Kind == QuantityKind.RelativeError;
        string name = (relative ? "relative_error" : NameOf(shape.Dimension)) + "_distribution";
        return Reference(name, defs, () => Distribution(shape.Dimension, relative, name, defs));
    }

    private static JsonObject Distribution(Dimension dimension, bool relative, string name, SortedDictionary<string, JsonNode> defs)
    {
        var properties = new JsonObject();
        foreach (DistributionForm form in DistributionForm.All)
        {
            properties[form.Name] = Form(form, dimension, defs);
        }

        foreach (string limit in DistributionForm.Limits)
        {
            properties[limit] = Value(dimension, defs);
        }

        if (relative)
        {
            properties["U"] = Value(dimension, defs);
            properties["k"] = Value(Dimension.Number, defs);
            properties["mpe"] = Value(dimension, defs);
        }

        if (ReferenceEquals(dimension, Dimension.EventRate))
        {
            properties["events"] = new JsonObject { ["type"] = "integer", ["minimum"] = 0 };
            properties["in"] = Value(Dimension.ProductionTime, defs);
        }

        var unknown = new JsonArray(new JsonObject { ["$ref"] = "#/$defs/" + name }, Estimate(dimension, defs));
        if (relative)
        {
            unknown.Add(Value(dimension, defs));
        }

        properties["unknown"] = new JsonObject { ["anyOf"] = unknown };
        properties["unknown_factor"] = new JsonObject
        {
            ["anyOf"] = new JsonArray(
                Reference("number_distribution", defs, () => Distribution(Dimension.Number, false, "number_distribution", defs)), Estimate(Dimension.Number, defs)),
        };
        return new JsonObject { ["type"] = "object", ["properties"] = properties, ["additionalProperties"] = false, ["minProperties"] = 1 };
    }

    // { estimate: 5800 h, se: 4 %, correlation: { other.path: -0.6 } }
    private static JsonObject Estimate(Dimension dimension, SortedDictionary<string, JsonNode> defs) => new()
    {
        ["type"] = "object",
        ["properties"] = new JsonObject
        {
            ["estimate"] = Value(dimension, defs),
            ["se"] = dimension.IsPercent ? Value(dimension, defs) : new JsonObject { ["anyOf"] = new JsonArray(Value(dimension, defs), Value(Dimension.Ratio, defs)) },
            ["correlation"] = new JsonObject
            {
                ["type"] = "object", ["additionalProperties"] = new JsonObject { ["type"] = "number", ["exclusiveMinimum"] = -1, ["exclusiveMaximum"] = 1 },
            },
        },
        ["required"] = new JsonArray("estimate", "se"),
        ["additionalProperties"] = false,
        ["description"] = EstimateReader.Meaning,
    };

    private static JsonObject Form(DistributionForm form, Dimension dimension, SortedDictionary<string, JsonNode> defs)
    {
        if (form.Name == "discrete")
        {
            var item = new JsonObject
            {
                ["type"] = "object",
                ["properties"] = new JsonObject { ["value"] = Value(dimension, defs), ["weight"] = Value(Dimension.Number, defs) },
                ["required"] = new JsonArray("value", "weight"),
                ["additionalProperties"] = false,
            };
            return new JsonObject { ["type"] = "array", ["minItems"] = 1, ["items"] = item, ["description"] = form.Meaning };
        }

        var properties = new JsonObject();
        foreach (Parameter parameter in form.Sets.SelectMany(s => s).DistinctBy(p => p.Name))
        {
            properties[parameter.Name] = Parameter(parameter, dimension, defs);
        }

        var block = new JsonObject { ["type"] = "object", ["properties"] = properties, ["additionalProperties"] = false, ["description"] = form.Meaning };
        return form.Name == "empirical"
            ? new JsonObject { ["anyOf"] = new JsonArray(block, new JsonObject { ["type"] = "array", ["minItems"] = 2, ["items"] = Value(dimension, defs) }) }
            : block;
    }

    private static JsonObject Parameter(Parameter parameter, Dimension dimension, SortedDictionary<string, JsonNode> defs) => parameter.Role switch
    {
        ParameterRole.Text => new JsonObject { ["type"] = "string" },
        ParameterRole.Shape or ParameterRole.Factor => Value(Dimension.Number, defs),
        ParameterRole.Spread when !dimension.IsPercent =>
            new JsonObject { ["anyOf"] = new JsonArray(Value(dimension, defs), Value(Dimension.Ratio, defs)) },
        _ => Value(dimension, defs),
    };

    private static JsonObject Reference(string name, SortedDictionary<string, JsonNode> defs, Func<JsonNode> make)
    {
        if (!defs.ContainsKey(name))
        {
            defs[name] = new JsonObject();
            defs[name] = make();
        }

        return new JsonObject { ["$ref"] = "#/$defs/" + name };
    }

    private static string NameOf(Dimension dimension) => dimension.Key;
}

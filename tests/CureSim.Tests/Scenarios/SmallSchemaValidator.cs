using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace CureSim.Tests.Scenarios;

/// <summary>The few keywords of JSON Schema 2020-12 that the scenario schema uses, applied to YAML (core schema of YAML 1.2 for plain scalars).</summary>
internal static class SmallSchemaValidator
{
    public static void Check(JsonObject root, JsonObject schema, YamlNode node, string path, List<string> faults)
    {
        foreach ((string keyword, JsonNode? value) in schema)
        {
            switch (keyword)
            {
                case "$ref":
                    Check(root, root["$defs"]![value!.GetValue<string>()["#/$defs/".Length..]]!.AsObject(), node, path, faults);
                    break;
                case "type" when !Types(value!).Any(t => IsOf(node, t)):
                    faults.Add($"{path}: is not {value!.ToJsonString()}");
                    return;
                case "enum" when !value!.AsArray().Any(v => v!.GetValue<string>() == (node as YamlScalarNode)?.Value):
                    faults.Add($"{path}: is none of {value.ToJsonString()}");
                    break;
                case "pattern" when node is YamlScalarNode text && !Regex.IsMatch(text.Value!, value!.GetValue<string>()):
                    faults.Add($"{path}: \"{text.Value}\" is not like {value}");
                    break;
                case "minimum" when Number(node) < double.Parse(value!.ToJsonString(), CultureInfo.InvariantCulture):
                case "maximum" when Number(node) > double.Parse(value!.ToJsonString(), CultureInfo.InvariantCulture):
                case "minItems" when node is YamlSequenceNode list && list.Children.Count < value!.GetValue<int>():
                case "minProperties" when node is YamlMappingNode few && few.Children.Count < value!.GetValue<int>():
                case "maxProperties" when node is YamlMappingNode many && many.Children.Count > value!.GetValue<int>():
                    faults.Add($"{path}: breaks {keyword} {value}");
                    break;
                case "required" when node is YamlMappingNode map:
                    faults.AddRange(value!.AsArray().Where(r => !map.Children.ContainsKey(new YamlScalarNode(r!.GetValue<string>()))).Select(r => $"{path}: has no {r}"));
                    break;
                case "items" when node is YamlSequenceNode items:
                    foreach (YamlNode item in items)
                    {
                        Check(root, value!.AsObject(), item, path + "[]", faults);
                    }

                    break;
                case "properties" when node is YamlMappingNode properties:
                    foreach ((YamlNode key, YamlNode inner) in properties)
                    {
                        if (value![((YamlScalarNode)key).Value!] is JsonObject of)
                        {
                            Check(root, of, inner, $"{path}.{key}", faults);
                        }
                        else
                        {
                            faults.Add($"{path}: unknown {key}");
                        }
                    }

                    break;
                case "anyOf":
                    var all = value!.AsArray().Select(option =>
                    {
                        var found = new List<string>();
                        Check(root, option!.AsObject(), node, path, found);
                        return found;
                    }).ToList();
                    if (all.TrueForAll(f => f.Count > 0))
                    {
                        faults.Add($"{path}: none of: {string.Join(" | ", all.Select(f => f[0]))}");
                    }

                    break;
            }
        }
    }

    private static IEnumerable<string> Types(JsonNode type) => type is JsonArray list ? list.Select(t => t!.GetValue<string>()) : [type.GetValue<string>()];

    private static bool IsOf(YamlNode node, string type) => type switch
    {
        "object" => node is YamlMappingNode,
        "array" => node is YamlSequenceNode,
        "number" => !double.IsNaN(Number(node)),
        "integer" => Number(node) is var n && n == Math.Floor(n),
        "boolean" => node is YamlScalarNode { Style: ScalarStyle.Plain, Value: "true" or "false" },
        "string" => node is YamlScalarNode && double.IsNaN(Number(node)),
        _ => throw new ArgumentOutOfRangeException(nameof(type)),
    };

    private static double Number(YamlNode node) =>
        node is YamlScalarNode { Style: ScalarStyle.Plain } scalar && double.TryParse(scalar.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double n) ? n : double.NaN;
}

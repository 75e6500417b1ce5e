using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using CureSim.Reports.Figures;
using CureSim.Reports.Json;
using CureSim.Reports.Runs;

namespace CureSim.Reports.Pages;

/// <summary>report.json: what a report says, as data. Page, PDF and dossier are made from it, so they cannot say anything else.</summary>
/// <remarks>
/// Figures are stored as data and drawn again when they are needed: no markup of a folder ever reaches a page. Reading takes the file for a stranger's: its
/// size, depth and numbers of items are bounded, unknown members are refused, figures pass <see cref="FigureRules"/>, and names of files are names only.
/// </remarks>
public static class ReportFile
{
    /// <summary>Name in the folder.</summary>
    public const string Name = "report.json";

    /// <summary>Layout of the file; raised when a member changes its meaning or goes.</summary>
    public const int FormatVersion = 1;

    /// <summary>Largest file that is read, bytes.</summary>
    public const int MostBytes = 16 << 20;

    private const int MostItems = 200, MostRows = 2000, MostText = 20_000, MostNumbers = 400_000;

    private static readonly (Type Type, string Name)[] Layers =
    [
        (typeof(Line), "line"), (typeof(Band), "band"), (typeof(Histogram), "histogram"), (typeof(Points), "points"), (typeof(Stack), "stack"), (typeof(Limit), "limit"),
        (typeof(Target), "target"), (typeof(Percentiles), "percentiles"), (typeof(Events), "events"), (typeof(Region), "region"), (typeof(Bars), "bars"), (typeof(Map), "map"),
    ];

    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        IgnoreReadOnlyProperties = true,
        MaxDepth = 24,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { NameLayers } },
    };

    /// <summary>The content as the bytes of the file; real numbers rounded to <see cref="MachineDigits.Count"/> significant digits.</summary>
    public static byte[] ToBytes(ReportContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        var tree = JsonSerializer.SerializeToNode(content, Options)!.AsObject();
        MachineDigits.Apply(tree, Rounded);
        tree.Insert(0, "schemaVersion", FormatVersion);
        tree.Insert(1, "kind", "report");
        return JsonText.Bytes(tree);
    }

    /// <summary>Reads a content.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="fault">Why it is not one; null when it is.</param>
    public static ReportContent? Read(byte[] bytes, out string? fault)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        fault = null;
        try
        {
            if (bytes.Length > MostBytes)
            {
                fault = "it is larger than any report";
            }
            else if (JsonNode.Parse(bytes, documentOptions: new() { MaxDepth = 24 }) is not JsonObject tree || (string?)tree["kind"] != "report")
            {
                fault = "it is no report of CureSim";
            }
            else if ((int?)tree["schemaVersion"] != FormatVersion)
            {
                fault = $"its layout is not version {FormatVersion}, which this version of the tool reads";
            }
            else
            {
                tree.Remove("kind");
                tree.Remove("schemaVersion");
                var content = tree.Deserialize<ReportContent>(Options);
                fault = content is null ? "it is empty" : Fault(content);
                return fault is null ? content : null;
            }
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or FormatException or ArgumentException or NotSupportedException or NullReferenceException or OverflowException)
        {
            fault = "it cannot be read: " + e.Message.Split('\n')[0];
        }

        return null;
    }

    private static void NameLayers(JsonTypeInfo info)
    {
        if (info.Type == typeof(Layer))
        {
            info.PolymorphismOptions = new() { TypeDiscriminatorPropertyName = "layer", UnknownDerivedTypeHandling = JsonUnknownDerivedTypeHandling.FailSerialization };
            foreach (var (type, name) in Layers)
            {
                info.PolymorphismOptions.DerivedTypes.Add(new(type, name));
            }
        }
    }

    /// <summary>The JSON Schema of the file as text, for docs/report.schema.json.</summary>
    public static string Schema()
    {
        var schema = Options.GetJsonSchemaAsNode(typeof(ReportContent)).AsObject();
        schema.Insert(0, "$schema", "https://json-schema.org/draft/2020-12/schema");
        schema.Insert(1, "title", "report.json of CureSim: what a report says, as data");
        var members = schema["properties"]!.AsObject();
        members.Insert(0, "schemaVersion", new JsonObject { ["const"] = FormatVersion });
        members.Insert(1, "kind", new JsonObject { ["const"] = "report" });
        return JsonText.Of(schema);
    }

    private static string? Fault(ReportContent content)
    {
        if (content.Evidence.Any(s => s.Title.Length == 0))
        {
            return "a section has no title";
        }

        ReportItem[] items = [.. content.Evidence.SelectMany(s => s.Items), .. content.Decisive is { } decisive ? [decisive] : Array.Empty<ReportItem>()];
        if (items.Length > MostItems || content.Inputs.Length > 20 || content.Inputs.Any(i => i.Rows.Length > MostRows))
        {
            return "it has more figures, tables or inputs than any report";
        }

        if (Texts(content).Any(t => t.Length > MostText))
        {
            return "it has a text longer than any report";
        }

        foreach (var item in items)
        {
            if (item.Figure is null == item.Table is null)
            {
                return "an item is neither a figure nor a table";
            }

            if (item.Table is { } table && (table.Rows.Length > MostRows || table.Columns.Length is 0 or > 60 || table.Rows.Any(r => r.Length != table.Columns.Length)))
            {
                return "a table has rows and columns that do not fit";
            }

            if (item.Figure is { } figure)
            {
                FigureRules.Check(figure);
                if (figure.Layers.Length > 200 || figure.Layers.Sum(Numbers) > MostNumbers)
                {
                    return "a figure has more points than any report";
                }
            }
        }

        return null;
    }

    private static int Numbers(Layer layer) => layer switch
    {
        Line l => l.X.Length,
        Band b => b.X.Length,
        Histogram h => h.Edges.Length,
        Points p => p.X.Length,
        Stack s => s.X.Length * s.Areas.Length,
        Events e => e.X.Length,
        Percentiles p => p.Values.Length,
        Map m => m.Values.Length + m.OtherSide.Length,
        _ => 1,
    };

    private static IEnumerable<string> Texts(ReportContent c) =>
    [
        c.Command, c.Title, c.Question, c.Answer, c.Decision, c.HowSure, c.LargestAssumption, c.Basis ?? "", .. c.Method, .. c.NotModelled, .. c.Checks, .. c.Cautions, .. c.Reproduce,
        .. c.Lines.SelectMany(l => (string[])[l.Label, l.Text]), .. c.Evidence.SelectMany(s => s.Paragraphs.Add(s.Title)),
        .. c.Inputs.SelectMany(i => i.Rows.SelectMany(r => (string[])[r.Path, r.Value, r.Meaning, r.Level ?? "", r.Unit, r.Origin])),
        .. c.Evidence.SelectMany(s => s.Items).Where(i => i.Table is not null).SelectMany(i => i.Table!.Rows.SelectMany(r => r)),
    ];

    // A serialised number is a JSON element: whole numbers come through unchanged.
    private static JsonValue? Rounded(JsonNode? node) =>
        node is JsonValue value && value.GetValueKind() == JsonValueKind.Number && !value.TryGetValue(out long _) && value.TryGetValue(out double number)
            ? JsonValue.Create(MachineDigits.Round(number)) : null;
}

using System.Text;

namespace CureSim.Scenarios;

/// <summary>Commented starting files, made from the key table: every key with its meaning, those that may be left out as comments.</summary>
public static class NewScenario
{
    /// <summary>Kinds of starting file.</summary>
    public static IReadOnlyList<string> Kinds { get; } = [SourceKeys.ArcLamp, SourceKeys.Led];

    /// <summary>A starting file that reads without problems.</summary>
    /// <param name="kind">One of <see cref="Kinds"/>.</param>
    /// <exception cref="ArgumentException">Another kind.</exception>
    public static string Write(string kind)
    {
        if (!Kinds.Contains(kind))
        {
            throw new ArgumentException($"\"{kind}\" is no kind of starting file; there are {KeyWords.Or(Kinds.Select(k => $"\"{k}\""))}", nameof(kind));
        }

        var text = new StringBuilder();
        text.Append("# Starting file for a cell with ").Append(kind == SourceKeys.Led ? "LED heads" : "an arc lamp").Append(".\n");
        text.Append("# The numbers are invented: replace every one with your own. A line that starts with # shows what is taken when it is left out.\n");
        foreach (Key key in ScenarioKeys.Root.Keys.Where(k => k.Name != "origin"))
        {
            switch (key.Shape)
            {
                case BlockShape block:
                    Block(text, key, block.Table, kind);
                    break;
                case ListShape { Item: BlockShape item }:
                    text.Append('\n').Append("# ").Append(key.Name).Append(":  # ").Append(key.Meaning).Append('\n');
                    text.Append("#   - ").Append(Sample(item.Table)).Append('\n');
                    break;
                default:
                    text.Append(key.Name).Append(": ").Append(key.Sample ?? "New cell").Append("  # ").Append(key.Meaning).Append('\n');
                    break;
            }
        }

        return text.ToString();
    }

    // Blocks and keys that are not required and yet make a useful start; else an optional key is a comment.
    private static bool IsShown(string path, string kind) => path switch
    {
        "checks" or "window.dose" or "fixture" or "fixture.beam" or "fixture.aim" or "tip" or "production.sites" => true,
        "loop" or "guide" => kind == SourceKeys.ArcLamp,
        _ => false,
    };

    private static void Block(StringBuilder text, Key block, BlockTable table, string kind)
    {
        bool shown = block.Required || IsShown(block.Name, kind);
        string mark = shown ? "" : "# ";
        text.Append('\n').Append(mark).Append(block.Name).Append(":  # ").Append(block.Meaning);
        text.Append(shown || block.WhenLeftOut is null ? "" : $" Left out: {block.WhenLeftOut}.").Append('\n');
        bool any = false;
        foreach (Key key in table.Keys)
        {
            string path = $"{block.Name}.{key.Name}";
            bool required = IsRequired(key, kind) || IsShown(path, kind);
            any |= required;
            string keyMark = !shown || !required ? "# " : "";
            text.Append(keyMark).Append("  ").Append(key.Name).Append(": ").Append(ValueOf(path, key, Variant(block.Name, kind))).Append("  # ").Append(key.Meaning);
            text.Append(key.Defaults.IsEmpty && key.WhenLeftOut is { } meaning ? $" Left out: {meaning}." : "").Append('\n');
        }

        // A block whose every key is a comment would be empty, which YAML cannot tell from nothing.
        if (shown && !any)
        {
            text.Replace($"\n{block.Name}:  #", $"\n{block.Name}: {{}}  #");
        }
    }

    private static string Variant(string block, string kind) => block == "loop" ? "output sensor" : kind;

    private static bool IsRequired(Key key, string kind) => key.Required || (key.DefaultFor(kind) is null && key.WhenLeftOut is null);

    private static string ValueOf(string path, Key key, string variant) => path switch
    {
        "source.kind" => variant,
        "production.sites" => "2",
        "window.dose" => "{ lower: 5 J/cm2, upper: 10.5 J/cm2 }",
        "window.irradiance" => "{ upper: 5 W/cm2 }",
        "window.degree_of_cure" => "{ lower: 85 % }",
        "fixture.beam" => key.Sample!,
        _ => key.DefaultFor(variant)?.Text ?? key.Sample ?? SampleOf(key),
    };

    private static string SampleOf(Key key) => key.Shape switch
    {
        BlockShape block => Sample(block.Table),
        ListShape { Item: BlockShape item } => $"[ {Sample(item.Table)} ]",
        _ when key.WhenLeftOut == "nominal" => "10 mm",
        _ when key.WhenLeftOut == "half of action" => "2.5 %",
        _ when key.WhenLeftOut == "same as action" => "5 %",
        CountShape => "2",
        _ => throw new InvalidOperationException($"the key table has no sample of \"{key.Name}\""),
    };

    private static string Sample(BlockTable table)
    {
        string[] keys =
        [
            .. table.Keys.Where(k => k.Required || (table.Name == "disturbances" && k.Name == "distance")).Select(k => $"{k.Name}: {k.Sample ?? SampleOf(k)}"),
        ];
        return keys.Length == 0 ? "{}" : "{ " + string.Join(", ", keys) + " }";
    }
}

using System.Text;
using System.Text.RegularExpressions;

namespace CureSim.Scenarios;

/// <summary>Writes a node tree back as YAML text, always in the same way for the same tree.</summary>
internal static partial class YamlText
{
    /// <summary>The tree in block style for its first two levels, one line a value below them.</summary>
    public static string Block(MapNode root)
    {
        var text = new StringBuilder();
        foreach (MapEntry entry in root.Entries)
        {
            switch (entry.Value)
            {
                case MapNode { Entries.IsEmpty: false } map:
                    text.Append(Key(entry.Key)).Append(":\n");
                    foreach (MapEntry inner in map.Entries)
                    {
                        text.Append("  ").Append(Key(inner.Key)).Append(": ").Append(Flow(inner.Value)).Append('\n');
                    }

                    break;
                case ListNode { Items.IsEmpty: false } list:
                    text.Append(Key(entry.Key)).Append(":\n");
                    foreach (ScenarioNode item in list.Items)
                    {
                        text.Append("  - ").Append(Flow(item)).Append('\n');
                    }

                    break;
                default:
                    text.Append(Key(entry.Key)).Append(": ").Append(Flow(entry.Value)).Append('\n');
                    break;
            }
        }

        return text.ToString();
    }

    /// <summary>The node on one line.</summary>
    public static string Flow(ScenarioNode node) => node switch
    {
        ScalarNode scalar => Scalar(scalar),
        MapNode { Entries.IsEmpty: true } => "{}",
        MapNode map => "{ " + string.Join(", ", map.Entries.Select(e => $"{Key(e.Key)}: {Flow(e.Value)}")) + " }",
        ListNode { Items.IsEmpty: true } => "[]",
        ListNode list => "[ " + string.Join(", ", list.Items.Select(Flow)) + " ]",
        _ => throw new InvalidOperationException($"no text for {node.GetType().Name}"),
    };

    private static string Scalar(ScalarNode node) =>
        Plain().IsMatch(node.Text) && !(node.Quoted && new ScalarNode(node.Text, false, node.Place, node.Origin).IsEmpty)
            ? node.Text
            : Quote(node.Text);

    private static string Key(string key) => Plain().IsMatch(key) ? key : Quote(key);

    private static string Quote(string text)
    {
        var quoted = new StringBuilder("\"");
        foreach (char c in text)
        {
            quoted.Append(c switch
            {
                '"' => "\\\"",
                '\\' => "\\\\",
                '\n' => "\\n",
                '\t' => "\\t",
                < ' ' or '\u0085' or '\u2028' or '\u2029' => $"\\u{(int)c:x4}",
                _ => c.ToString(),
            });
        }

        return quoted.Append('"').ToString();
    }

    // Characters that need no quotes in flow style; anything else is quoted rather than thought about.
    [GeneratedRegex(@"^(?!-(?:[ -]|$))[\p{L}\p{N}±+./_()²³µ-](?:[\p{L}\p{N}±+./_()²³µ% -]*[\p{L}\p{N}±+./_()²³µ%-])?$")]
    private static partial Regex Plain();
}

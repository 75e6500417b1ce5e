using System.Collections.Immutable;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace CureSim.Scenarios;

/// <summary>Turns YAML text into a tree of nodes that remember their place.</summary>
/// <remarks>
/// Only plain data are read: anchors, aliases, tags and several documents are refused, and depth is limited,
/// so that a few lines of text cannot become gigabytes of nodes.
/// </remarks>
internal sealed class YamlTree
{
    /// <summary>Deepest nesting that any scenario needs is about eight.</summary>
    public const int DepthLimit = 24;

    private readonly Parser parser;
    private readonly Place source;
    private readonly Origin origin;
    private readonly Findings findings;

    private YamlTree(string text, Place source, Origin origin, Findings findings)
    {
        parser = new Parser(new StringReader(text));
        this.source = source;
        this.origin = origin;
        this.findings = findings;
    }

    /// <summary>The root node, or null when the text is no YAML (a problem is noted) or empty.</summary>
    public static ScenarioNode? Read(string text, Place source, Origin origin, Findings findings)
    {
        try
        {
            return new YamlTree(text, source, origin, findings).Document();
        }
        catch (YamlException e)
        {
            if (e.Message.Contains("invalid tab", StringComparison.Ordinal) && TabIn(text, source) is { } tab)
            {
                findings.Problem(tab, "", "a tab in the indentation", "spaces");
                return null;
            }

            string why = e.Message.Length == 0 ? "text that is not YAML" : "text that is not YAML (" + Tidy(e.Message) + ")";
            findings.Problem(source.At(e.Start.Line, e.Start.Column), "", why, "YAML: \"key: value\" lines, indented with spaces",
                e.Message.Contains("invalid mapping", StringComparison.Ordinal) ? "put quotes around a text that holds a colon" : null);
            return null;
        }
    }

    // The parser does not say where it found the tab.
    private static Place? TabIn(string text, Place source)
    {
        foreach ((int i, string line) in text.Split('\n').Index())
        {
            int at = line.IndexOf('\t', StringComparison.Ordinal);
            if (at >= 0 && line[..at].All(c => c == ' '))
            {
                return source.At(i + 1, at + 1);
            }
        }

        return null;
    }

    private static string Tidy(string message) => message.TrimEnd('.', '!').Replace("\r", " ").Replace("\n", " ");

    private ScenarioNode? Document()
    {
        Next<StreamStart>();
        if (!MoveNext() || parser.Current is StreamEnd)
        {
            return null;
        }

        MoveNext();
        ScenarioNode? root = Node(0, "");
        MoveNext();
        if (MoveNext() && parser.Current is DocumentStart second)
        {
            findings.Problem(At(second.Start), "", "a second document (\"---\")", "one scenario a file");
        }

        return root;
    }

    // The parser gives up on some malformed text with exceptions of other kinds; what it read last is the nearest place there is.
    private bool MoveNext()
    {
        Mark before = parser.Current?.End ?? Mark.Empty;
        try
        {
            return parser.MoveNext();
        }
        catch (Exception e) when (e is not YamlException)
        {
            throw new YamlException(before, before, "a bracket, brace or quote that is not closed?");
        }
    }

    private void Next<T>()
        where T : ParsingEvent
    {
        if (!MoveNext() || parser.Current is not T)
        {
            throw new YamlException("unexpected " + (parser.Current?.GetType().Name ?? "end"));
        }
    }

    // The current event starts the node; on return the current event is the node's last.
    private ScenarioNode Node(int depth, string path)
    {
        ParsingEvent start = parser.Current!;
        if (start is NodeEvent named)
        {
            RefuseDecorations(named, path);
        }

        Place place = At(start.Start);
        if (depth > DepthLimit)
        {
            throw new YamlException(start.Start, start.End, $"nested deeper than {DepthLimit} levels");
        }

        switch (start)
        {
            case Scalar scalar:
                return new ScalarNode(scalar.Value.Trim(), scalar.Style != ScalarStyle.Plain, place, origin);
            case MappingStart:
                return Map(place, depth, path);
            case SequenceStart:
                return List(place, depth, path);
            default:
                // An alias: the problem has been noted; its place is taken by an empty value.
                return new ScalarNode("", false, place, origin);
        }
    }

    private void RefuseDecorations(NodeEvent node, string path)
    {
        if (!node.Anchor.IsEmpty)
        {
            findings.Problem(At(node.Start), path, $"an anchor \"&{node.Anchor.Value}\"", "plain values; write the value out in each place");
        }

        if (!node.Tag.IsEmpty)
        {
            findings.Problem(At(node.Start), path, $"a tag \"{node.Tag}\"", "plain values without tags");
        }
    }

    private MapNode Map(Place place, int depth, string path)
    {
        var entries = ImmutableArray.CreateBuilder<MapEntry>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        while (MoveNext() && parser.Current is not MappingEnd)
        {
            ScenarioNode key = Node(depth + 1, path);
            string inner = key is ScalarNode { Text: var name } ? path.Length == 0 ? name : $"{path}.{name}" : path;
            MoveNext();
            RefuseAlias(inner);
            ScenarioNode value = Node(depth + 1, inner);
            if (key is not ScalarNode word)
            {
                findings.Problem(key.Place, path, "a key that is not a word", "\"key: value\"");
            }
            else if (!seen.Add(word.Text))
            {
                findings.Problem(key.Place, path, $"the key \"{word.Text}\" a second time in the same block", "each key once");
            }
            else
            {
                entries.Add(new MapEntry(word.Text, word.Place, value));
            }
        }

        return new MapNode(entries.ToImmutable(), place, origin);
    }

    private ListNode List(Place place, int depth, string path)
    {
        var items = ImmutableArray.CreateBuilder<ScenarioNode>();
        while (MoveNext() && parser.Current is not SequenceEnd)
        {
            string inner = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{path}.{items.Count + 1}");
            RefuseAlias(inner);
            items.Add(Node(depth + 1, inner));
        }

        return new ListNode(items.ToImmutable(), place, origin);
    }

    private void RefuseAlias(string path)
    {
        if (parser.Current is AnchorAlias alias)
        {
            findings.Problem(At(alias.Start), path, $"an alias \"*{alias.Value.Value}\"", "plain values; write the value out in each place");
        }
    }

    private Place At(Mark mark) => source.At(mark.Line, mark.Column);
}

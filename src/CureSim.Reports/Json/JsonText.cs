using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Unicode;

namespace CureSim.Reports.Json;

/// <summary>A JSON tree as text, the same bytes each time.</summary>
/// <remarks>
/// IETF RFC 8259; members in the order they were added, two spaces of indentation, LF, one line break at the end, UTF-8 without byte order mark.
/// Doubles are the shortest text that reads back to the same value. Letters of all languages stand as they are; &lt; &gt; &amp; and quotes
/// inside strings are escaped, so the text may stand inside an HTML page.
/// </remarks>
public static class JsonText
{
    private static readonly JsonWriterOptions Writing = new()
    {
        Indented = true,
        IndentCharacter = ' ',
        IndentSize = 2,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    };

    /// <summary>The tree as text.</summary>
    /// <exception cref="ArgumentException">A number in the tree is not finite; the message names its path.</exception>
    public static string Of(JsonNode tree) => Encoding.UTF8.GetString(Bytes(tree));

    /// <summary>The tree as the bytes of a file.</summary>
    /// <exception cref="ArgumentException">A number in the tree is not finite; the message names its path.</exception>
    public static byte[] Bytes(JsonNode tree)
    {
        ArgumentNullException.ThrowIfNull(tree);
        RequireFinite(tree);
        using var bytes = new MemoryStream();
        using (var writer = new Utf8JsonWriter(bytes, Writing))
        {
            tree.WriteTo(writer);
        }

        bytes.WriteByte((byte)'\n');
        return bytes.ToArray();
    }

    private static void RequireFinite(JsonNode? node)
    {
        switch (node)
        {
            case JsonObject members:
                foreach (var member in members)
                {
                    RequireFinite(member.Value);
                }

                break;
            case JsonArray items:
                foreach (JsonNode? item in items)
                {
                    RequireFinite(item);
                }

                break;
            case JsonValue value when (value.TryGetValue(out double d) && !double.IsFinite(d)) || (value.TryGetValue(out float f) && !float.IsFinite(f)):
                throw new ArgumentException($"{value.GetPath()} is not a finite number: write null and the reason.");
        }
    }
}

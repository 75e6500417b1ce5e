using System.Text;
using System.Text.Encodings.Web;
using System.Text.Unicode;
using CureSim.Reports.Text;

namespace CureSim.Reports.Pages;

/// <summary>Writes HTML: the only place of the pages where text becomes markup. Every text and every attribute is escaped here; elements are closed in order.</summary>
internal sealed class HtmlText
{
    private static readonly HtmlEncoder Escape = HtmlEncoder.Create(UnicodeRanges.All);
    private static readonly HashSet<string> Inline = ["a", "span", "strong", "dt", "dd", "th", "td", "p", "li", "h1", "h2", "h3", "figcaption", "caption", "title", "code", "button", "em"];

    private readonly StringBuilder html = new();
    private readonly Stack<string> open = new();

    /// <summary>The text of a user or study as HTML: one line, no control characters, escaped.</summary>
    public static string Escaped(string text) => Escape.Encode(PlainText.OneLine(text));

    /// <summary>Opens an element.</summary>
    /// <param name="element">Its name.</param>
    /// <param name="attributes">Names and values; those whose value is null are left out, an empty one is written without value.</param>
    public HtmlText Open(string element, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        Begin(element, attributes);
        open.Push(element);
        if (!Inline.Contains(element))
        {
            html.Append('\n');
        }

        return this;
    }

    /// <summary>An element without content, such as meta or col.</summary>
    public HtmlText Void(string element, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        Begin(element, attributes);
        html.Append('\n');
        return this;
    }

    /// <summary>Closes the element that was opened last.</summary>
    public HtmlText Close()
    {
        html.Append("</").Append(open.Pop()).Append(">\n");
        return this;
    }

    /// <summary>An element with nothing but text in it.</summary>
    public HtmlText Element(string element, string text, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        Begin(element, attributes);
        html.Append(Escaped(text)).Append("</").Append(element).Append('>');
        if (element is not ("strong" or "span" or "a" or "code" or "em"))
        {
            html.Append('\n');
        }

        return this;
    }

    /// <summary>Text.</summary>
    public HtmlText Text(string text)
    {
        html.Append(Escaped(text));
        return this;
    }

    /// <summary>Markup of the tool's own making: a drawn figure, style, script. Never a text that came from a file.</summary>
    public HtmlText Own(string markup)
    {
        html.Append(markup);
        return this;
    }

    /// <summary>All of it; every element must be closed.</summary>
    public override string ToString() =>
        open.Count == 0 ? html.ToString() : throw new InvalidOperationException($"The element '{open.Peek()}' is not closed.");

    private void Begin(string element, ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        html.Append('<').Append(element);
        foreach (var (name, value) in attributes)
        {
            if (value is not null)
            {
                html.Append(' ').Append(name);
                if (value.Length > 0)
                {
                    html.Append("=\"").Append(Escaped(value)).Append('"');
                }
            }
        }

        html.Append('>');
    }
}

using CureSim.Reports.Runs;
using CureSim.Reports.Text;

namespace CureSim.Cli;

/// <summary>Standard output and standard error, with what they can show. Results go to output, everything else to error.</summary>
internal sealed class Terminal
{
    private const int WidthOfFiles = 110;
    private const int LeastWidth = 60;
    private const int MostLabel = 24; // a longer one stands on a line of its own, so that the text keeps its room
    private const string Dumb = "dumb"; // the TERM of a terminal that knows no control sequences

    private readonly TextWriter output;
    private readonly TextWriter error;
    private readonly bool colour;

    private Terminal(TextWriter output, TextWriter error, bool colour, bool liveError, int width, TerminalText letters)
    {
        this.output = output;
        this.error = error;
        this.colour = colour;
        HasLiveError = liveError;
        Width = width;
        Letters = letters;
    }

    /// <summary>True when standard error is a terminal on which a line may be drawn over.</summary>
    public bool HasLiveError { get; }

    /// <summary>Columns to wrap at.</summary>
    public int Width { get; }

    /// <summary>What letters can be shown.</summary>
    public TerminalText Letters { get; }

    /// <summary>Writes to standard output as it is; for help.</summary>
    public TextWriter Output => output;

    /// <summary>Writes to standard error as it is.</summary>
    public TextWriter Error => error;

    /// <summary>The terminal of this process. NO_COLOR (any text) or a pipe: no colour. See no-color.org.</summary>
    public static Terminal Open()
    {
        string? kind = Environment.GetEnvironmentVariable("TERM");
        bool colour = WantsColour(Console.IsOutputRedirected, Environment.GetEnvironmentVariable("NO_COLOR"), kind);
        bool live = !Console.IsErrorRedirected && kind != Dumb;
        return new(Console.Out, Console.Error, colour, live, ColumnsOf(Console.IsOutputRedirected), TerminalText.For(Console.OutputEncoding));
    }

    /// <summary>Whether results are coloured.</summary>
    /// <param name="redirected">True when output is a file or a pipe.</param>
    /// <param name="noColour">The variable NO_COLOR: any text that is not empty forbids colour.</param>
    /// <param name="kind">The variable TERM.</param>
    internal static bool WantsColour(bool redirected, string? noColour, string? kind) => !redirected && string.IsNullOrEmpty(noColour) && kind != Dumb;

    /// <summary>Text that is part of the result.</summary>
    public void Say(string text) => output.Write(Letters.Of(text));

    /// <summary>One line of the result.</summary>
    public void SayLine(string line = "") => Say(line + "\n");

    /// <summary>Labelled lines, wrapped under their own beginning.</summary>
    public void Say(IReadOnlyList<AnswerLine> lines)
    {
        lines = [.. lines.Where(l => l.Brief != "")];
        int indent = lines.Select(l => l.Label.Length).Where(n => n <= MostLabel).DefaultIfEmpty(0).Max() + 2;
        foreach (var line in lines)
        {
            string text = Letters.Of(WrappedText.Of(line.Brief ?? line.Text, indent, Width));
            string label = line.Label.Length <= MostLabel ? line.Label.PadRight(indent) : line.Label + "\n" + new string(' ', indent);
            output.Write(Paint(Letters.Of(label), "1"));
            output.Write(line.Tone switch { AnswerTone.Met => Paint(text, "32"), AnswerTone.Missed => Paint(text, "31"), _ => text });
            output.Write('\n');
        }
    }

    /// <summary>A heading of the result.</summary>
    public void Head(string text) => output.Write(Paint(Letters.Of(WrappedText.Of(text, 0, Width)), "1") + "\n");

    /// <summary>Bytes of the result, such as JSON: UTF-8 whatever the terminal's encoding.</summary>
    public void Say(ReadOnlySpan<byte> bytes)
    {
        output.Flush();
        using var stream = Console.OpenStandardOutput();
        stream.Write(bytes);
        stream.Flush();
    }

    /// <summary>A line that is not part of the result: a problem, a warning.</summary>
    public void Tell(string line) => error.Write(Letters.Of(line) + "\n");

    /// <summary>Draws over the present line of standard error.</summary>
    public void Redraw(string line)
    {
        error.Write("\r\u001b[2K" + Letters.Of(line));
        error.Flush();
    }

    private static int ColumnsOf(bool redirected)
    {
        try
        {
            return redirected ? WidthOfFiles : Math.Clamp(Console.WindowWidth - 1, LeastWidth, WidthOfFiles);
        }
        catch (IOException)
        {
            return WidthOfFiles;
        }
    }

    private string Paint(string text, string code) => colour ? $"\u001b[{code}m{text}\u001b[0m" : text;
}

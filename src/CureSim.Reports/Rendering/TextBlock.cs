using CureSim.Reports.Text;
using OxyPlot;

namespace CureSim.Reports.Rendering;

/// <summary>A text broken into lines that fit a width.</summary>
/// <param name="Text">The lines, separated by LF.</param>
/// <param name="Width">Width of the widest, drawing units.</param>
/// <param name="Height">Height of all, drawing units.</param>
/// <param name="Size">Font size.</param>
/// <param name="Weight">Font weight.</param>
internal sealed record TextBlock(string Text, double Width, double Height, double Size, double Weight)
{
    /// <summary>Breaks a text at spaces; what does not fit in the last line allowed ends in an ellipsis.</summary>
    public static TextBlock Wrap(IRenderContext rc, string text, double size, double weight, double width, int mostLines)
    {
        double Measure(string s) => rc.MeasureText(s, Style.FontFamilies, size, weight).Width;
        List<string> lines = [];
        string line = "";
        foreach (string word in PlainText.OneLine(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && Measure(longer) > width && lines.Count < mostLines - 1)
            {
                lines.Add(line);
                line = word;
            }
            else
            {
                line = longer;
            }
        }

        lines.Add(line);
        for (int i = 0; i < lines.Count; i++)
        {
            lines[i] = Shortened(lines[i], width, Measure);
        }

        double height = rc.MeasureText("X", Style.FontFamilies, size, weight).Height * lines.Count;
        return new TextBlock(string.Join('\n', lines), lines.Max(Measure), height, size, weight);
    }

    /// <summary>Draws the lines, each aligned on its own.</summary>
    public void Draw(IRenderContext rc, double x, double y, OxyColor colour, HorizontalAlignment across, VerticalAlignment down)
    {
        string[] lines = Text.Split('\n');
        double step = Height / lines.Length;
        double top = down switch
        {
            VerticalAlignment.Top => y,
            VerticalAlignment.Middle => y - (Height / 2),
            _ => y - Height,
        };
        for (int i = 0; i < lines.Length; i++)
        {
            rc.DrawText(new ScreenPoint(x, top + (i * step)), lines[i], colour, Style.FontFamilies, Size, Weight, 0, across, VerticalAlignment.Top);
        }
    }

    private static string Shortened(string line, double width, Func<string, double> measure)
    {
        if (measure(line) <= width)
        {
            return line;
        }

        // Cut between whole letters, never inside a surrogate pair or before an accent.
        int[] starts = System.Globalization.StringInfo.ParseCombiningCharacters(line);
        for (int k = starts.Length - 1; k > 0; k--)
        {
            string shorter = line[..starts[k]].TrimEnd() + "…";
            if (measure(shorter) <= width)
            {
                return shorter;
            }
        }

        return "…";
    }
}

using System.Reflection;

namespace CureSim.Reports.Rendering;

/// <summary>The shipped font for pages that show SVG figures: with it inside, a page looks alike on every machine.</summary>
/// <remarks>Inter, SIL Open Font License 1.1; a page that carries the font should carry or name <see cref="Licence"/>.</remarks>
public static class FigureFont
{
    /// <summary>Family names to ask for, the shipped one first.</summary>
    public static string Families => Style.FontFamilies;

    /// <summary>Text of the font's licence.</summary>
    public static string Licence()
    {
        using Stream stream = Open("OFL.txt");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>Two @font-face rules with the font files inside, about 0.9 MB of text.</summary>
    public static string CssFaces() => Face("Inter-Regular.ttf", "400") + Face("Inter-SemiBold.ttf", "600");

    /// <summary>The same two rules with the letters of European languages, Greek and Cyrillic and the signs of the trade only, about 115 kB of text: for pages.
    /// Other letters are shown in the viewer's own fonts.</summary>
    public static string SubsetFaces() => Face("Inter-Regular.subset.woff2", "400", "woff2") + Face("Inter-SemiBold.subset.woff2", "600", "woff2");

    internal static Stream Open(string file) => Assembly.GetExecutingAssembly().GetManifestResourceStream("CureSim.Reports.Fonts." + file)
        ?? throw new InvalidOperationException($"{file} is missing from the assembly.");

    private static string Face(string file, string weight, string format = "truetype")
    {
        using Stream stream = Open(file);
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return $"@font-face{{font-family:Inter;font-weight:{weight};src:url(data:font/{(format == "truetype" ? "ttf" : format)};base64,{Convert.ToBase64String(bytes.ToArray())}) format('{format}')}}\n";
    }
}

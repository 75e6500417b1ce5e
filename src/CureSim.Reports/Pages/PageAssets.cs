using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using CureSim.Reports.Rendering;

namespace CureSim.Reports.Pages;

/// <summary>Style and script of every page, and the policy that lets nothing else in.</summary>
internal static class PageAssets
{
    private static readonly Lazy<string> Style = new(() => "\n" + FigureFont.SubsetFaces() + Open("report.css"));
    private static readonly Lazy<string> Code = new(() => "\n" + Open("report.js"));

    /// <summary>Fonts and rules.</summary>
    public static string Css => Style.Value;

    /// <summary>Sorting, switching, reading values; a page is whole without it.</summary>
    public static string Script => Code.Value;

    /// <summary>Content-Security-Policy: this style, this script (or none), fonts and pictures inside the page, nothing from elsewhere. Source: W3C Content Security Policy Level 3.</summary>
    public static string Policy(bool script) =>
        $"default-src 'none'; style-src '{Hash(Css)}'; {(script ? $"script-src '{Hash(Script)}'; " : "")}font-src data:; img-src data:; base-uri 'none'; form-action 'none'";

    private static string Hash(string text) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static string Open(string file)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("CureSim.Reports.Pages." + file)
            ?? throw new InvalidOperationException($"{file} is missing from the assembly.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}

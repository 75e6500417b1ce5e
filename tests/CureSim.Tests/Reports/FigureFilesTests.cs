using System.Diagnostics;
using CureSim.Reports.Figures;
using CureSim.Reports.Rendering;
using SkiaSharp;

namespace CureSim.Tests.Reports;

/// <summary>The example figures as files: looked at by people (set CURESIM_FIGURES to a folder), compared between processes here.</summary>
public class FigureFilesTests
{
    private const string FolderVariable = "CURESIM_FIGURES";
    private const string DefaultFont = "default-font.txt";

    [Fact]
    public void Examples_AllKinds_AreDrawn()
    {
        string? folder = Environment.GetEnvironmentVariable(FolderVariable);
        foreach (var (name, figure) in FigureExamples.All)
        {
            byte[] png = FigureRenderer.Png(figure);
            string svg = FigureRenderer.Svg(figure);
            byte[] pdf = FigureRenderer.Pdf(figure);
            Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], png[..4]); // signature of a PNG file (ISO/IEC 15948, 5.2)
            Assert.Equal("%PDF-"u8.ToArray(), pdf[..5]); // header of a PDF file (ISO 32000-1, 7.5.2)
            Assert.StartsWith("<svg", svg, StringComparison.Ordinal);
            if (folder is not null)
            {
                Directory.CreateDirectory(folder);
                File.WriteAllBytes(Path.Combine(folder, name + ".png"), png);
                File.WriteAllText(Path.Combine(folder, name + ".svg"), svg);
                File.WriteAllBytes(Path.Combine(folder, name + ".pdf"), pdf);
                File.WriteAllText(Path.Combine(folder, DefaultFont), SKTypeface.Default?.FamilyName ?? "");
            }
        }
    }

    /// <summary>Another process, in which the machine's fonts are hidden where the system allows that (Linux, by a private mount), draws the
    /// same bytes.</summary>
    [Fact]
    public void Examples_MachineWithoutFonts_SameBytes()
    {
        using var folder = new ScratchFolder();
        bool hidden = DrawInOtherProcess(folder.Path, hideFonts: true);
        if (!hidden)
        {
            Assert.True(DrawInOtherProcess(folder.Path, hideFonts: false), "the other process drew nothing");
        }
        else
        {
            // The control: there really was no font to be found.
            Assert.Equal("", File.ReadAllText(Path.Combine(folder.Path, DefaultFont)));
        }

        foreach (var (name, figure) in FigureExamples.All)
        {
            Assert.Equal(FigureRenderer.Png(figure), File.ReadAllBytes(Path.Combine(folder.Path, name + ".png")));
            Assert.Equal(FigureRenderer.Svg(figure), File.ReadAllText(Path.Combine(folder.Path, name + ".svg")));
        }
    }

    [Fact]
    public void Examples_DrawnTwice_SameBytes()
    {
        foreach (Figure figure in FigureExamples.All.Values.Where((_, k) => k % 3 == 0))
        {
            // Every third: the drawing in another process covers all of them.
            Assert.Equal(FigureRenderer.Png(figure), FigureRenderer.Png(figure));
            Assert.Equal(FigureRenderer.Svg(figure), FigureRenderer.Svg(figure));
            Assert.Equal(FigureRenderer.Pdf(figure), FigureRenderer.Pdf(figure));
        }
    }

    [Fact]
    public void Examples_DrawnOnManyThreads_SameBytes()
    {
        byte[][] alone = [.. FigureExamples.All.Values.Take(6).Select(FigureRenderer.Png)];
        var together = new byte[alone.Length * 3][];
        Parallel.For(0, together.Length, i => together[i] = FigureRenderer.Png(FigureExamples.All.Values.ElementAt(i % alone.Length)));
        for (int i = 0; i < together.Length; i++)
        {
            Assert.Equal(alone[i % alone.Length], together[i]);
        }
    }

    [Fact]
    public void Png_Size_IsTwoPixelsForEachUnit()
    {
        byte[] png = FigureRenderer.Png(FigureExamples.All["no-spread"]);
        using SKBitmap bitmap = SKBitmap.Decode(png);
        Assert.Equal((1600, 1000), (bitmap.Width, bitmap.Height));
    }

    private static bool DrawInOtherProcess(string folder, bool hideFonts)
    {
        string dotnet = Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") is { Length: > 0 } host ? host : "dotnet";
        string test = $"{nameof(FigureFilesTests)}.{nameof(Examples_AllKinds_AreDrawn)}";
        string[] command = [dotnet, "vstest", typeof(FigureFilesTests).Assembly.Location, $"--TestCaseFilter:FullyQualifiedName~{test}"];
        if (hideFonts)
        {
            if (!OperatingSystem.IsLinux() || !File.Exists("/usr/bin/unshare"))
            {
                return false;
            }

            const string script = "mount -t tmpfs none /usr/share/fonts && exec \"$@\"";
            command = ["/usr/bin/unshare", "--user", "--map-root-user", "--mount", "/bin/sh", "-c", script, "sh", .. command];
        }

        var start = new ProcessStartInfo(command[0], command[1..]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment[FolderVariable] = folder;
        start.Environment["FONTCONFIG_FILE"] = "/dev/null";
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        process.StandardOutput.ReadToEnd();
        errors.Wait();
        process.WaitForExit();
        return process.ExitCode == 0 && File.Exists(Path.Combine(folder, DefaultFont));
    }
}

using CureSim.Reports.Rendering;

namespace CureSim.Tests.Reports;

/// <summary>Writes the example figures into the folder that CURESIM_FIGURES names, for looking at and for comparing two processes.</summary>
public class FigureFilesTests
{
    [Fact]
    public void Examples_AllKinds_AreDrawn()
    {
        string? folder = Environment.GetEnvironmentVariable("CURESIM_FIGURES");
        foreach (var (name, figure) in FigureExamples.All)
        {
            byte[] png = FigureRenderer.Png(figure);
            string svg = FigureRenderer.Svg(figure);
            Assert.Equal<byte>([0x89, 0x50, 0x4E, 0x47], png[..4]); // signature of a PNG file (ISO/IEC 15948, 5.2)
            Assert.StartsWith("<svg", svg, StringComparison.Ordinal);
            if (folder is not null)
            {
                Directory.CreateDirectory(folder);
                File.WriteAllBytes(Path.Combine(folder, name + ".png"), png);
                File.WriteAllText(Path.Combine(folder, name + ".svg"), svg);
                File.WriteAllBytes(Path.Combine(folder, name + ".pdf"), FigureRenderer.Pdf(figure));
            }
        }
    }
}

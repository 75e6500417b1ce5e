using System.Security.Cryptography;

namespace CureSim.Cli.Tests;

/// <summary>The same bytes whatever vectors the machine has: the runtime is told to do without the wider ones.</summary>
public class VectorWidthTests
{
    [Fact]
    public void Tables_AreTheSameBytes_With512_256_128_BitsAndWithoutVectors()
    {
        using var tool = new Tool();
        string[] widths = ["", "DOTNET_EnableAVX512=0", "DOTNET_EnableAVX2=0", "DOTNET_EnableHWIntrinsic=0"];
        for (int i = 0; i < widths.Length; i++)
        {
            tool.Shell($"{widths[i]} $curesim run scenarios/quick.yaml --lifetimes 40 --no-plots --quiet --out width-{i}").Exits(0);
        }

        string[] files = [.. Directory.GetFiles(tool.At("width-0", "tables")).Select(f => Path.Combine("tables", Path.GetFileName(f))), "summary.json"];
        Assert.True(files.Length > 10);
        for (int i = 1; i < widths.Length; i++)
        {
            foreach (string file in files)
            {
                Assert.True(
                    SHA256.HashData(File.ReadAllBytes(tool.At("width-0", file))).AsSpan().SequenceEqual(SHA256.HashData(File.ReadAllBytes(tool.At($"width-{i}", file)))),
                    $"{file} differs with {widths[i]}");
            }
        }
    }
}

using System.Globalization;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using CureSim.Reports.Tables;

namespace CureSim.Benchmarks;

/// <summary>Where result tables go, and on which machine they were made.</summary>
internal static class ResultTable
{
    /// <summary>Folder of the repository, found from the program's.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Prints a table and writes it, with the machine in a file of its own, into docs/benchmarks.</summary>
    public static void Write(Table table)
    {
        string folder = Path.Combine(Root, "docs", "benchmarks");
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, table.Name + ".csv"), CsvText.Bytes(table));
        File.WriteAllText(Path.Combine(folder, table.Name + ".machine.txt"), Machine() + "\n");
        Console.WriteLine(CsvText.Of(table));
    }

    /// <summary>Writes another file into docs/benchmarks.</summary>
    public static void Write(string name, byte[] bytes) => File.WriteAllBytes(Path.Combine(Root, "docs", "benchmarks", name), bytes);

    /// <summary>Rounds to the digits that a timing deserves.</summary>
    public static double Digits(double value, int digits = 3) => double.Parse(value.ToString("G" + digits, CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>The middle of some values.</summary>
    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : 0.5 * (sorted[(sorted.Length / 2) - 1] + sorted[sorted.Length / 2]);
    }

    private static string Machine()
    {
        string cpu = File.Exists("/proc/cpuinfo")
            ? File.ReadLines("/proc/cpuinfo").FirstOrDefault(l => l.StartsWith("model name", StringComparison.Ordinal))?.Split(':')[1].Trim() ?? "unknown"
            : "unknown";
        int bits = Vector512.IsHardwareAccelerated ? 512 : Vector256.IsHardwareAccelerated ? 256 : 128;
        return string.Create(CultureInfo.InvariantCulture,
            $"{cpu}, {Environment.ProcessorCount} processors, vectors of {bits} bits, {RuntimeInformation.OSDescription}, {RuntimeInformation.FrameworkDescription}");
    }

    private static string FindRoot()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
        {
            if (File.Exists(Path.Combine(at.FullName, "CureSim.sln")))
            {
                return at.FullName;
            }
        }

        return Environment.CurrentDirectory;
    }
}

using System.Reflection;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.Arm;
using System.Runtime.Intrinsics.X86;

namespace CureSim.Cli;

/// <summary>What this tool is and what it runs on, as records tell it: no user and no host name.</summary>
internal static class ThisTool
{
    /// <summary>Version, without the commit.</summary>
    public static string Version => Information.Split('+')[0];

    /// <summary>Source commit; null when not known.</summary>
    public static string? Commit => Information.Split('+') is [_, var commit] ? commit : null;

    /// <summary>.NET runtime.</summary>
    public static string Runtime => RuntimeInformation.FrameworkDescription;

    /// <summary>System, processor architecture, vector width.</summary>
    public static string Machine => $"{System}, {Architecture}, vectors of {VectorBits} bits";

    /// <summary>Operating system.</summary>
    public static string System => RuntimeInformation.OSDescription;

    /// <summary>Processor architecture.</summary>
    public static string Architecture => RuntimeInformation.ProcessArchitecture.ToString();

    /// <summary>Vector width and the instruction sets that decide how arithmetic is done.</summary>
    public static string Instructions
    {
        get
        {
            (string Name, bool Supported)[] sets =
            [
                ("SSE4.2", Sse42.IsSupported), ("AVX", Avx.IsSupported), ("AVX2", Avx2.IsSupported), ("FMA", Fma.IsSupported), ("AVX-512F", Avx512F.IsSupported),
                ("AdvSIMD", AdvSimd.IsSupported),
            ];
            return $"vectors of {VectorBits} bits; {string.Join(", ", sets.Where(s => s.Supported).Select(s => s.Name))}";
        }
    }

    private static string Information => typeof(ThisTool).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0";

    private static int VectorBits => Vector512.IsHardwareAccelerated ? 512 : Vector256.IsHardwareAccelerated ? 256 : Vector128.IsHardwareAccelerated ? 128 : 64;
}

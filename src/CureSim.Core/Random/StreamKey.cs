using System.Text;

namespace CureSim.Core.Random;

/// <summary>Which address space a draw belongs to. Reserved from the first day, so that later features move no draw.</summary>
public enum DrawDomain : uint
{
    /// <summary>One draw for all lifetimes of a world (what is unknown).</summary>
    World = 0,

    /// <summary>A draw of one lifetime: installations, set-ups, lots, checks, readings, arrivals …</summary>
    Cell = 1,

    /// <summary>A draw of one part: index = step · 2¹⁶ + part.</summary>
    Part = 2,

    /// <summary>Kept free for later features.</summary>
    Reserved = 3,
}

/// <summary>
/// A stream is one uncertain quantity at one place: a hash of the quantity's path in the scenario and the site.
/// Adding or reordering quantities leaves every other stream as it was.
/// </summary>
public readonly record struct StreamKey(uint Word)
{
    /// <summary>Site number to use for a quantity that the whole cell shares.</summary>
    public const int WholeCell = -1;

    /// <summary>The stream of the quantity at <paramref name="path"/>; <paramref name="site"/> from 0, or <see cref="WholeCell"/>.</summary>
    public static StreamKey Of(DrawDomain domain, string path, int site = WholeCell)
    {
        // FNV-1a over "path#site", finished with the 64-bit avalanche of SplitMix; 30 bits kept, 2 for the domain.
        ulong h = 14695981039346656037UL;
        foreach (byte b in Encoding.UTF8.GetBytes(path + "#" + site.ToString(System.Globalization.CultureInfo.InvariantCulture)))
        {
            h = (h ^ b) * 1099511628211UL;
        }

        h ^= h >> 30;
        h *= 0xBF58476D1CE4E5B9UL;
        h ^= h >> 27;
        h *= 0x94D049BB133111EBUL;
        h ^= h >> 31;
        return new StreamKey(((uint)domain << 30) | (uint)(h & 0x3FFFFFFF));
    }
}

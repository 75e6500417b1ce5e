using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.StatisticalTests.Reference;

/// <summary>Every draw of one lifetime, by its address: docs/model.md section 1.</summary>
/// <remarks>Nothing is stored but stream keys and the world's draws: the same address always gives the same number.</remarks>
/// <param name="seed">Key of every draw.</param>
/// <param name="world">World.</param>
/// <param name="lifetime">Lifetime within its world.</param>
/// <param name="leafSize">Lifetimes that share out the strata of draws above part level; 0: every lifetime draws for itself.</param>
public sealed class ReferenceDraws(ulong seed, int world, uint lifetime, int leafSize = 0)
{
    // docs/model.md, section 1: draws that stay each lifetime's own whatever the sampling, and those of which only commissioning's is shared out.
    private static readonly string[] Own = ["source.wander.half", "checks.missed", "checks.late"];
    private static readonly string[] OwnEndings = [".by_check", ".by_cleaning", ".by_replacement"];
    private static readonly string[] OnceShared = ["radiometer.session", "radiometer.repeatability", "tip.fouling"];

    private readonly Dictionary<(DrawDomain Domain, string Path, int Place), StreamKey> _streams = [];
    private readonly Dictionary<string, double> _unknown = [];

    /// <summary>The uniform at an address of this lifetime; a draw of the world has lifetime 0.</summary>
    public double Uniform(DrawDomain domain, string path, int place, long index)
    {
        var address = (domain, path, place);
        if (!_streams.TryGetValue(address, out var stream))
        {
            _streams[address] = stream = StreamKey.Of(domain, path, place);
        }

        bool shared = leafSize > 0 && domain == DrawDomain.Cell && index < (OnceShared.Contains(path) ? 1 : 16)
            && !Own.Contains(path) && !OwnEndings.Any(e => path.EndsWith(e, StringComparison.Ordinal));
        return shared
            ? SharedOut(stream, index)
            : Draw.Uniform(seed, world, domain == DrawDomain.World ? 0 : lifetime, stream, index);
    }

    /// <summary>The stratum is the rank of the lifetime's own uniform among those of its leaf; the place inside it is a uniform of the reserved domain.</summary>
    private double SharedOut(StreamKey stream, long index)
    {
        uint first = lifetime / (uint)leafSize * (uint)leafSize;
        uint[] byUniform = [.. Enumerable.Range(0, leafSize).Select(i => first + (uint)i).OrderBy(l => Draw.Uniform(seed, world, l, stream, index))];
        double inside = Draw.Uniform(seed, world, lifetime, new StreamKey(stream.Word | 0xC0000000), index);
        return (Array.IndexOf(byUniform, lifetime) + inside) / leafSize;
    }

    /// <summary>The standard normal score of the uniform at an address.</summary>
    public double Score(DrawDomain domain, string path, int place, long index) =>
        BlockMath.NormalQuantile(Uniform(domain, path, place, index));

    /// <summary>What this world drew for the part of a quantity that is not known; 1 when all is known.</summary>
    public double Unknown(Quantity quantity)
    {
        if (quantity.Unknown is null)
        {
            return 1.0;
        }

        string path = quantity.Path + ".unknown";
        if (!_unknown.TryGetValue(path, out double value))
        {
            _unknown[path] = value = quantity.Unknown.Quantile(Uniform(DrawDomain.World, path, StreamKey.WholeCell, 0));
        }

        return value;
    }

    /// <summary>A quantity of the cell at an index of its level.</summary>
    public double At(Quantity quantity, int place, long index) => At(quantity, quantity.Path, place, index);

    /// <summary>The same, on a stream with another name (one axis of a pair).</summary>
    public double At(Quantity quantity, string path, int place, long index) =>
        Unknown(quantity) * (quantity.Varies is FixedValue one ? one.Value : quantity.Varies.Quantile(Uniform(DrawDomain.Cell, path, place, index)));

    /// <summary>A quantity of one part; number = the part's number in its step.</summary>
    public double OfPart(Quantity quantity, int place, int step, int number) => OfPart(quantity, quantity.Path, place, step, number);

    /// <summary>The same, on a stream with another name (one axis of a pair).</summary>
    public double OfPart(Quantity quantity, string path, int place, int step, int number)
    {
        double At(int part) => Uniform(DrawDomain.Part, path, place, Draw.PartIndex(step, part));
        if (quantity.Varies is not NormalDistribution normal)
        {
            return Unknown(quantity) * (quantity.Varies is FixedValue one ? one.Value : quantity.Varies.Quantile(At(number)));
        }

        // Parts 2k and 2k + 1 share their two uniforms: one makes the radius, the other the direction of a pair of normals.
        int even = number - (number % 2);
        double radius = Math.Sqrt(-2 * BlockMath.Log(At(even)));
        var (sine, cosine) = BlockMath.SinCos2Pi(At(even + 1));
        double score = radius * (number == even ? cosine : sine);
        return Unknown(quantity) * BlockMath.Affine(score, normal.StandardDeviation, normal.Mean);
    }

    /// <summary>A quantity of level world: what varies of it (usually the number 1) is drawn once too.</summary>
    public double OfWorld(Quantity quantity) =>
        Unknown(quantity) * (quantity.Varies is FixedValue one
            ? one.Value
            : quantity.Varies.Quantile(Uniform(DrawDomain.World, quantity.Path, StreamKey.WholeCell, 0)));

    /// <summary>Mean of a quantity in this world: of what varies, times what the world drew.</summary>
    public double MeanOf(Quantity quantity) => Unknown(quantity) * quantity.Varies.Mean;
}

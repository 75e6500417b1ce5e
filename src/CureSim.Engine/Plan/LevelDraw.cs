using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>One quantity of one world, ready to be drawn: its distribution, the world's factor and a stream for each place.</summary>
public sealed class LevelDraw
{
    private readonly int world;
    private readonly double fixedValue;
    private readonly CellPoints? points;
    private readonly long stratified;
    private readonly StreamKey[] streams;
    private readonly ulong[] keys;
    private readonly Redraw? redraw;

    /// <summary>
    /// Prepares a quantity. <paramref name="places"/> are the site numbers (or −1) at which it is drawn; draws name a place by its position in that list.
    /// <paramref name="points"/> gives the first <paramref name="stratified"/> draws of a quantity above part level; null: every lifetime draws for itself.
    /// </summary>
    public LevelDraw(Quantity quantity, WorldValues values, RunPlan plan, ReadOnlySpan<int> places, DrawDomain domain = DrawDomain.Cell, string suffix = "",
        CellPoints? points = null, long stratified = CellPoints.Indices)
    {
        this.points = domain == DrawDomain.Cell ? points : null;
        this.stratified = stratified;
        world = values.World;
        Distribution = quantity.Varies;
        Factor = values.Factor(quantity);
        Varies = quantity.IsVarying;
        ComesInPairs = domain == DrawDomain.Part && Varies && quantity.Varies is NormalDistribution;
        fixedValue = Varies ? double.NaN : quantity.Varies.Mean * Factor;
        redraw = plan.Redraw;
        streams = new StreamKey[places.Length];
        keys = new ulong[places.Length];
        for (int i = 0; i < places.Length; i++)
        {
            streams[i] = plan.Streams.Of(domain, quantity.Path + suffix, places[i]);
            keys[i] = plan.SeedOf(streams[i]);
        }
    }

    /// <summary>What varies.</summary>
    public IDistribution Distribution { get; }

    /// <summary>The world's factor on it.</summary>
    public double Factor { get; }

    /// <summary>True when draws differ.</summary>
    public bool Varies { get; }

    /// <summary>True for a normal quantity of parts: parts 2k and 2k + 1 take the two normals that their two uniforms make together.</summary>
    public bool ComesInPairs { get; }

    /// <summary>Mean in this world.</summary>
    public double Mean => Varies ? Distribution.Mean * Factor : fixedValue;

    /// <summary>Stream of a place.</summary>
    public StreamKey Stream(int place) => streams[place];

    /// <summary>The uniform at an address.</summary>
    public double Uniform(uint lifetime, int place, long index) =>
        points?.Uniform(lifetime, streams[place], index, stratified) ?? OfPart(lifetime, place, index);

    /// <summary>The value at an address.</summary>
    public double At(uint lifetime, int place, long index)
    {
        if (!Varies)
        {
            return fixedValue;
        }

        if (!ComesInPairs)
        {
            return Distribution.Quantile(Uniform(lifetime, place, index)) * Factor;
        }

        long even = index & ~1L;
        var (first, second) = BlockMath.NormalPair(
            OfPart(lifetime, place, even), OfPart(lifetime, place, even + 1));
        return BlockMath.Affine(index == even ? first : second, Distribution.StandardDeviation, Distribution.Mean) * Factor;
    }

    /// <summary>The uniform of a quantity of parts at an address.</summary>
    internal double OfPart(uint lifetime, int place, long index) =>
        redraw?.Leading(world, lifetime, streams[place], index) ?? Draw.Uniform(keys[place], world, lifetime, streams[place], index);
}

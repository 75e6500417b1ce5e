using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>Two sets of points, A and B, of scrambled Sobol' sequences: a coordinate for each leading draw, a point for each lifetime (for each world).</summary>
/// <remarks>
/// A coordinate of A and its like in B are two dimensions of one sequence, as A. Saltelli et al. (2010) ask. Lifetimes are dealt to randomisations in order; with several
/// worlds a randomisation has worlds of its own, whose draws are points of another sequence. Draws for which the table of direction numbers has no dimension left are
/// left to their addresses.
/// </remarks>
public sealed class DesignPoints
{
    private readonly Dictionary<(uint Stream, int Draw), int> columns = [];
    private readonly Dictionary<uint, int> worldColumns = [];
    private readonly SobolPoints[] cells;
    private readonly SobolPoints[] worlds;
    private readonly int lifetimes;
    private readonly int perRandomisation;
    private readonly int worldsPerRandomisation;

    /// <summary>Lays the design out.</summary>
    /// <param name="seed">Key of everything.</param>
    /// <param name="randomisations">Independent scrambles; worlds (with one world: lifetimes) must be a multiple of it.</param>
    /// <param name="worldCount">Worlds.</param>
    /// <param name="lifetimesPerWorld">Lifetimes of a world.</param>
    /// <param name="cellStreams">Streams of cells and parts.</param>
    /// <param name="worldStreams">Streams of worlds.</param>
    public DesignPoints(ulong seed, int randomisations, int worldCount, int lifetimesPerWorld, IReadOnlyList<StreamKey> cellStreams, IReadOnlyList<StreamKey> worldStreams)
    {
        ArgumentNullException.ThrowIfNull(cellStreams);
        ArgumentNullException.ThrowIfNull(worldStreams);
        int dealt = worldCount > 1 ? worldCount : lifetimesPerWorld;
        if (dealt % randomisations != 0)
        {
            throw new ArgumentException($"{dealt} cannot be dealt evenly to {randomisations} randomisations", nameof(randomisations));
        }

        Randomisations = randomisations;
        lifetimes = lifetimesPerWorld;
        worldsPerRandomisation = worldCount > 1 ? worldCount / randomisations : 1;
        perRandomisation = worldCount > 1 ? worldsPerRandomisation * lifetimesPerWorld : lifetimesPerWorld / randomisations;
        var key = StreamKey.Of(DrawDomain.Reserved, "engine.design.key");
        KeyA = Key(seed, key, 0);
        KeyB = Key(seed, key, 1);
        foreach (var stream in cellStreams)
        {
            bool part = stream.Word >> 30 == (uint)DrawDomain.Part;
            for (int draw = part ? 1 : 0; draw <= (part ? 2 : 0) && columns.Count < SobolDirections.Most / 2; draw++)
            {
                columns.TryAdd((stream.Word, draw), columns.Count);
            }
        }

        foreach (var stream in worldStreams.Take(SobolDirections.Most / 2))
        {
            worldColumns.TryAdd(stream.Word, worldColumns.Count);
        }

        cells = [.. Enumerable.Range(0, randomisations).Select(r => SobolPoints.Scrambled(Math.Max(1, 2 * columns.Count), KeyA, r))];
        worlds = [.. Enumerable.Range(0, randomisations).Select(r => SobolPoints.Scrambled(Math.Max(1, 2 * worldColumns.Count), KeyB, r))];
    }

    /// <summary>Independent scrambles.</summary>
    public int Randomisations { get; }

    /// <summary>Coordinates that are points of a sequence, of one set.</summary>
    public int Coordinates => columns.Count + worldColumns.Count;

    internal ulong KeyA { get; }

    internal ulong KeyB { get; }

    /// <summary>Randomisation that a lifetime belongs to.</summary>
    public int RandomisationOf(int world, uint lifetime) => (int)((((long)world * lifetimes) + lifetime) / perRandomisation);

    /// <summary>The coordinate of a stream of the design at index 0.</summary>
    /// <param name="world">World.</param>
    /// <param name="lifetime">Lifetime within it.</param>
    /// <param name="stream">One of the streams that the design was laid out for.</param>
    /// <param name="setB">True: of the second set.</param>
    public double Uniform(int world, uint lifetime, StreamKey stream, bool setB) =>
        At(world, lifetime, stream, 0, setB) ?? Draw.Uniform(setB ? KeyB : KeyA, world, lifetime, stream, 0);

    /// <summary>A coordinate; null when it is not one of the design's.</summary>
    internal double? At(int world, uint lifetime, StreamKey stream, int draw, bool setB)
    {
        if (stream.Word >> 30 == (uint)DrawDomain.World)
        {
            return worldColumns.TryGetValue(stream.Word, out int w)
                ? worlds[world / worldsPerRandomisation % Randomisations].At((uint)(world % worldsPerRandomisation), w + (setB ? worldColumns.Count : 0))
                : null;
        }

        // Lanes that pad a block lie beyond the last lifetime: nobody reads them.
        if (lifetime >= lifetimes || !columns.TryGetValue((stream.Word, draw), out int column))
        {
            return null;
        }

        long point = ((long)world * lifetimes) + lifetime;
        return cells[point / perRandomisation].At((uint)(point % perRandomisation), column + (setB ? columns.Count : 0));
    }

    private static ulong Key(ulong seed, StreamKey stream, int set) =>
        ((ulong)(Draw.Uniform(seed, 0, 0, stream, 2 * set) * 4294967296.0) << 32) | (uint)(Draw.Uniform(seed, 0, 0, stream, (2 * set) + 1) * 4294967296.0);
}

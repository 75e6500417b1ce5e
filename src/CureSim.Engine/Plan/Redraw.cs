using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>
/// A run whose draws are those of a design: two independent sets of draws, A and B, of which some streams take B, and points of a Sobol' sequence in the place of the
/// leading draws of both. Everything else of the engine stays as it is.
/// </summary>
/// <remarks>
/// Leading are the draws at index 0 of every stream, and those of the one bond that is looked at (<see cref="ProbePart"/>). The others are addressed draws of the key of
/// their set: a Sobol' sequence padded by pseudo-random numbers (J. Spanier, in Monte Carlo and Quasi-Monte Carlo Methods, 1995; recalled from memory), so every
/// mean over points is unbiased whatever the number of draws in a lifetime.
/// </remarks>
public sealed class Redraw
{
    /// <summary>Part number of the bond that is looked at: its draws have the addresses of this part of step 0, at whatever time it is made.</summary>
    public const int ProbePart = 65534;

    private const long ProbeIndex = ProbePart;
    private readonly DesignPoints points;
    private readonly HashSet<uint> fromB;

    /// <summary>Makes a design's run.</summary>
    /// <param name="points">The design.</param>
    /// <param name="fromB">Streams that take the second set; the others take the first.</param>
    public Redraw(DesignPoints points, IEnumerable<StreamKey> fromB)
    {
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(fromB);
        this.points = points;
        this.fromB = [.. fromB.Select(s => s.Word)];
    }

    /// <summary>True when a stream takes the second set.</summary>
    public bool TakesB(StreamKey stream) => fromB.Contains(stream.Word);

    /// <summary>Key of a stream's draws.</summary>
    public ulong KeyOf(StreamKey stream) => fromB.Contains(stream.Word) ? points.KeyB : points.KeyA;

    /// <summary>The uniform of a draw that is a coordinate of the design; null: it is an addressed draw.</summary>
    public double? Leading(int world, uint lifetime, StreamKey stream, long index) => index switch
    {
        0 => points.At(world, lifetime, stream, 0, fromB.Contains(stream.Word)),
        ProbeIndex or ProbeIndex + 1 => points.At(world, lifetime, stream, 1 + (int)(index - ProbeIndex), fromB.Contains(stream.Word)),
        _ => null,
    };
}

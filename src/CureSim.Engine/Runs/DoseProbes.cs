using CureSim.Core.Cell;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Runs;

/// <summary>When the one bond is made whose dose is looked at.</summary>
/// <param name="Step">Step.</param>
/// <param name="Inside">Where in the step, 0 … 1.</param>
/// <param name="Bond">Which bond: 0 is the one whose draws are coordinates of a design; others have addressed draws of their own.</param>
public readonly record struct ProbeTime(int Step, double Inside, int Bond = 0);

/// <summary>The dose of single bonds of every lifetime at stated times, as the engine makes it at that state. Lifetimes write into places of their own, so threads need no lock.</summary>
/// <remarks>
/// The bond is one that the run does not otherwise make: its own draws have the addresses of part <see cref="Redraw.ProbePart"/> (less two for each further bond) of step 0 at every time, so that a bond
/// made at another time is the same bond in another state. It changes no bit of the rest. Where the line stands still at that time it is the bond that would have been made.
/// </remarks>
public sealed class DoseProbes
{
    private readonly Func<int, uint, ProbeTime[]> times;
    private readonly double[] doses;
    private readonly int perWorld;

    /// <summary>Makes room for a scenario's lifetimes.</summary>
    /// <param name="run">Worlds and lifetimes.</param>
    /// <param name="site">Site of the bond, from 0.</param>
    /// <param name="count">Times of each lifetime.</param>
    /// <param name="times">Times of a lifetime (world, lifetime), as many as said.</param>
    public DoseProbes(RunSettings run, int site, int count, Func<int, uint, ProbeTime[]> times)
    {
        ArgumentNullException.ThrowIfNull(run);
        Site = site;
        Count = count;
        this.times = times;
        perWorld = run.LifetimesPerWorld;
        doses = new double[run.Worlds * perWorld * count];
        Array.Fill(doses, double.NaN);
    }

    /// <summary>Site of the bond.</summary>
    public int Site { get; }

    /// <summary>Times of each lifetime.</summary>
    public int Count { get; }

    /// <summary>Doses at a time, J/m², by world and lifetime.</summary>
    public double[] At(int time) => [.. Enumerable.Range(0, doses.Length / Count).Select(i => doses[(i * Count) + time])];

    internal ProbeTime[] TimesOf(int world, uint lifetime) => lifetime < perWorld ? times(world, lifetime) : [];

    internal void Put(int world, uint lifetime, int time, double dose) => doses[(((world * perWorld) + (int)lifetime) * Count) + time] = dose;
}

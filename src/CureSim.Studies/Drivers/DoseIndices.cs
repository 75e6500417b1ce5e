using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Random;
using CureSim.Core.Statistics.Sensitivity;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Drivers;

/// <summary>Indices of the dose at one moment.</summary>
/// <param name="Moment">The moment.</param>
/// <param name="Quantities">Groups by quantity that are inputs at that moment.</param>
/// <param name="Levels">Groups by level.</param>
/// <param name="Indices">Indices, quantities first, then levels; null when the dose does not vary. Doses in J/m².</param>
public sealed record MomentIndices(DoseMoment Moment, ImmutableArray<DriverGroup> Quantities, ImmutableArray<DriverGroup> Levels, SensitivityIndices? Indices)
{
    /// <summary>Quantities with their indices, largest total first.</summary>
    public IReadOnlyList<(DriverGroup Group, SensitivityIndex Index)> RankedQuantities => Ranked(Quantities, 0);

    /// <summary>Levels with their indices, largest total first.</summary>
    public IReadOnlyList<(DriverGroup Group, SensitivityIndex Index)> RankedLevels => Ranked(Levels, Quantities.Length);

    private IReadOnlyList<(DriverGroup, SensitivityIndex)> Ranked(ImmutableArray<DriverGroup> groups, int from) => Indices is null
        ? []
        : [.. groups.Select((g, i) => (g, Indices.Groups[from + i])).OrderByDescending(x => x.Item2.Total.Value)];
}

/// <summary>Sobol' indices of the dose of one bond, by quantity and by level: the engine itself is run on the matrices of the design.</summary>
/// <remarks>
/// A lifetime is a point, at which several bonds are looked at; an input is everything that is drawn of a quantity over the lifetime, at all installations, set-ups, checks and sites. In A_B⁽ⁱ⁾ these draws are those
/// of B and all others those of A. Cost: (groups + 2) runs; a level with one quantity is that quantity's run, and the time of the bond needs none, since each run of A can be
/// looked at at any time.
/// </remarks>
public sealed class DoseIndices
{
    /// <summary>Independent scrambles of the sequence.</summary>
    public const int Randomisations = 32;

    /// <summary>Bonds that are looked at in each lifetime and moment, spread evenly over the time from the lifetime's own: they cost nothing and halve the scatter.</summary>
    public const int Bonds = 8;

    /// <summary>Fewest points: eight in each randomisation.</summary>
    public const int LeastPoints = 256;

    /// <summary>Most points when none are asked for.</summary>
    public const int UsualPoints = 1024;

    /// <summary>Lifetime-steps that a study spends on indices when no number of points is asked for.</summary>
    private const double UsualSteps = 3e7;

    private DoseIndices(int site, int points, int worlds, int coordinates, ImmutableArray<MomentIndices> moments)
    {
        Site = site;
        Points = points;
        Worlds = worlds;
        Coordinates = coordinates;
        Moments = moments;
    }

    /// <summary>Site of the bond, from 0.</summary>
    public int Site { get; }

    /// <summary>Points of each matrix.</summary>
    public int Points { get; }

    /// <summary>Worlds over which they are spread.</summary>
    public int Worlds { get; }

    /// <summary>Draws of a point that are coordinates of the sequence.</summary>
    public int Coordinates { get; }

    /// <summary>Indices by moment; the first is any time of the horizon.</summary>
    public ImmutableArray<MomentIndices> Moments { get; }

    /// <summary>Lifetimes that it takes.</summary>
    public static long Lifetimes(Scenario scenario, int points)
    {
        var quantities = DriverGroup.ByQuantity(scenario);
        return (long)points * (2 + Exchanges(quantities, DriverGroup.ByLevel(quantities)).Count);
    }

    /// <summary>Points when none are asked for: as many as a stated amount of work allows, a power of two from <see cref="LeastPoints"/> to <see cref="UsualPoints"/>.</summary>
    public static int PointsFor(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        int points = UsualPoints;
        while (points > LeastPoints && (double)Lifetimes(scenario, points) * scenario.Production.StepCount > UsualSteps)
        {
            points /= 2;
        }

        return points;
    }

    /// <summary>Runs the design.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="site">Site of the bond, from 0.</param>
    /// <param name="points">Points, a power of two from <see cref="LeastPoints"/>.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Called with the lifetimes done.</param>
    /// <param name="cancel">Stops it.</param>
    public static DoseIndices Run(Scenario scenario, int site, int points, int threads, Action<long>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var quantities = DriverGroup.ByQuantity(scenario);
        bool unknown = quantities.Any(q => q.IsWorld);
        var (worlds, each) = unknown ? (Randomisations, points / Randomisations) : (1, points);
        var plan = new RunPlan(scenario with { Run = new RunSettings(worlds, each, 1, scenario.Run.Seed) { Sampling = Sampling.Independent } });
        var levels = DriverGroup.ByLevel(quantities);
        var design = Design(plan, quantities, worlds, each);
        var moments = DoseMoment.Of(scenario);
        long done = 0;

        // Probes of a run: every moment and bond at the times of A, then the same at the times of B.
        double[][] Doses(IEnumerable<StreamKey> fromB, bool timesOfB, RunPlan like, bool ownWorlds, out RunPlan made)
        {
            ProbeTime[] Times(int world, uint lifetime)
            {
                double a = design.Uniform(world, lifetime, DriverGroup.TimeStream, false), b = design.Uniform(world, lifetime, DriverGroup.TimeStream, true);
                IEnumerable<ProbeTime> At(double u) => moments.SelectMany(m => Enumerable.Range(0, Bonds).Select(t => m.At(Turned(u, t)) with { Bond = t }));
                return [.. At(timesOfB ? b : a), .. At(b)];
            }

            made = like.With(new Redraw(design, fromB), ownWorlds);
            var probes = new DoseProbes(made.Scenario.Run, site, 2 * moments.Count * Bonds, Times);
            long before = done;
            DosePaths.Look(made, probes, threads, n => progress?.Invoke(before + n), cancel);
            done += points;
            return [.. Enumerable.Range(0, 2 * moments.Count * Bonds).Select(probes.At)];
        }

        double[][] a = Doses([], false, plan, true, out var planA);
        double[][] b = Doses(quantities.SelectMany(q => q.Streams), true, plan, true, out _);
        var exchanged = new Dictionary<string, double[][]>();
        foreach (var group in Exchanges(quantities, levels))
        {
            exchanged.Add(KeyOf(group), Doses(group.Streams, false, group.IsWorld ? plan : planA, group.IsWorld, out _));
        }

        // The time of the bond exchanged alone is run A looked at at the times of B.
        double[] Of(DriverGroup g, int probe) => g.Streams is [var only] && only == DriverGroup.TimeStream ? a[(moments.Count * Bonds) + probe] : exchanged[KeyOf(g)][probe];
        var found = ImmutableArray.CreateBuilder<MomentIndices>();
        for (int m = 0; m < moments.Count; m++)
        {
            bool Is(DriverGroup g) => moments[m].MovesWithTime || !(g.Streams is [var only] && only == DriverGroup.TimeStream);
            ImmutableArray<DriverGroup> q = [.. quantities.Where(Is)], l = [.. levels.Where(Is)];
            int size = points / Randomisations, from = m * Bonds;

            // All bonds of the lifetimes of one randomisation, which is the unit of the interval.
            double[] Part(Func<int, double[]> run, int r) => [.. Enumerable.Range(from, Bonds).SelectMany(p => new ArraySegment<double>(run(p), r * size, size))];
            SensitivitySums[] sums = [.. Enumerable.Range(0, Randomisations).Select(r => SensitivitySums.Of(
                Part(p => a[p], r), Part(p => b[p], r), [.. q.Concat(l).Select(g => new ReadOnlyMemory<double>(Part(p => Of(g, p), r)))]))];
            found.Add(new(moments[m], q, l, SensitivityIndices.Of(sums, q.Length)));
        }

        return new(site, points, worlds, design.Coordinates, found.ToImmutable());
    }

    // A fraction of the horizon later, beginning again at its end: uniform as u is.
    private static double Turned(double u, int bond)
    {
        double turned = u + ((double)bond / Bonds);
        return turned < 1.0 ? turned : turned - 1.0;
    }

    // Groups that need a run of their own: those with other streams than any before.
    private static IReadOnlyList<DriverGroup> Exchanges(IEnumerable<DriverGroup> quantities, IEnumerable<DriverGroup> levels) =>
        [.. quantities.Concat(levels).Where(g => !(g.Streams is [var only] && only == DriverGroup.TimeStream)).DistinctBy(KeyOf)];

    private static string KeyOf(DriverGroup group) => string.Join(' ', group.Streams.Select(s => s.Word));

    private static DesignPoints Design(RunPlan plan, ImmutableArray<DriverGroup> quantities, int worlds, int each)
    {
        // Coordinates go to streams that are in use; those of ageing laws that world 0 has not drawn are not in its table.
        var used = plan.Streams.All.Select(s => s.Stream).ToHashSet();
        StreamKey[] cells = [.. quantities.Where(q => !q.IsWorld).SelectMany(q => q.Streams).Where(s => used.Contains(s) || s == DriverGroup.TimeStream)];
        return new(plan.Seed, Randomisations, worlds, each, [DriverGroup.TimeStream, .. cells], [.. quantities.Where(q => q.IsWorld).SelectMany(q => q.Streams)]);
    }
}

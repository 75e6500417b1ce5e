using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Distributions;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>Probability masses of a log factor on a grid: point j stands for the mass within half a step of (first + j)·step.</summary>
/// <remarks>
/// Sums of independent log factors are convolutions of such grids. All terms are positive, so far tails keep their relative accuracy,
/// which a transform would lose below 10⁻¹⁶ of the peak.
/// </remarks>
public sealed class GridMasses
{
    private const int Tile = 4 * Lanes.Width;
    private const int Intervals = 4096;
    private const double Reach = 8.5;

    /// <summary>Mass of a standard normal between neighbouring scores, the same for every quantity.</summary>
    private static readonly double[] MassOfInterval = MassesOfIntervals();

    private GridMasses(double step, int first, double[] mass)
    {
        Step = step;
        First = first;
        Mass = mass;
    }

    /// <summary>Distance of grid points.</summary>
    public double Step { get; }

    /// <summary>Number of the first point.</summary>
    public int First { get; }

    /// <summary>Mass by point.</summary>
    public double[] Mass { get; }

    /// <summary>A factor that does not vary: all mass at 0.</summary>
    public static GridMasses Nothing(double step) => new(step, 0, [1.0]);

    /// <summary>
    /// Image of a quantity under <paramref name="map"/> (quantity → log factor): the mass between neighbouring normal scores is spread evenly
    /// over the cells between their images. Exact up to second order in the score step 17/4096.
    /// </summary>
    public static GridMasses Image(double step, IDistribution distribution, double factor, Func<double, double> map)
    {
        if (distribution is FixedValue)
        {
            return Nothing(step);
        }

        var pieces = new List<(double From, double To, double Mass)>();
        if (distribution is DiscreteDistribution atoms)
        {
            for (int i = 0; i < atoms.Values.Count; i++)
            {
                double at = map(atoms.Values[i] * factor);
                pieces.Add((at, at, atoms.Probabilities[i]));
            }
        }
        else
        {
            double before = map(factor * distribution.QuantileOfScore(-Reach));
            for (int i = 1; i <= Intervals; i++)
            {
                double at = map(factor * distribution.QuantileOfScore(-Reach + (i * (2.0 * Reach / Intervals))));
                pieces.Add((Math.Min(before, at), Math.Max(before, at), MassOfInterval[i - 1]));
                before = at;
            }
        }

        return Collect(step, pieces);
    }

    private static double[] MassesOfIntervals()
    {
        var masses = new double[Intervals];
        double below = BlockMath.NormalCdf(-Reach);
        for (int i = 1; i <= Intervals; i++)
        {
            // Above the middle from the upper tail, so that both tails keep their relative accuracy.
            double score = -Reach + (i * (2.0 * Reach / Intervals));
            double upTo = BlockMath.NormalCdf(score > 0.0 ? -score : score);
            masses[i - 1] = score > 0.0
                ? (i == (Intervals / 2) + 1 ? 0.5 - upTo : below - upTo)
                : upTo - below;
            below = score == 0.0 ? 0.5 : upTo;
        }

        return masses;
    }

    /// <summary>Collects masses given by intervals of the log factor.</summary>
    public static GridMasses Collect(double step, List<(double From, double To, double Mass)> pieces)
    {
        int first = int.MaxValue, last = int.MinValue;
        foreach (var (from, to, mass) in pieces)
        {
            if (mass > 0.0)
            {
                first = Math.Min(first, Cell(from, step));
                last = Math.Max(last, Cell(to, step));
            }
        }

        // A log factor can reach far down when distance or aim run away; beyond 12 (a factor of 160,000) all is equally dark.
        int deepest = Cell(-12.0, step);
        first = Math.Max(first, deepest);
        last = Math.Max(last, first);
        var cells = new double[last - first + 1];
        foreach (var (from, to, mass) in pieces)
        {
            int a = Math.Clamp(Cell(from, step), first, last), b = Math.Clamp(Cell(to, step), first, last);
            if (a == b || !(to > from))
            {
                cells[a - first] += mass;
                continue;
            }

            double density = mass / (to - from);
            for (int cell = a; cell <= b; cell++)
            {
                double low = cell == a ? from : (cell - 0.5) * step, high = cell == b ? to : (cell + 0.5) * step;
                cells[cell - first] += density * Math.Max(0.0, high - low);
            }
        }

        return Trimmed(step, first, cells);
    }

    /// <summary>Without the outer points that hold less than 10⁻¹⁸ together on a side: far below anything that is printed, and most of the work.</summary>
    private static GridMasses Trimmed(double step, int first, double[] cells)
    {
        const double Nothing = 1e-18;
        int low = 0, high = cells.Length - 1;
        for (double seen = cells[low]; low < high && seen < Nothing; seen += cells[low])
        {
            low++;
        }

        for (double seen = cells[high]; high > low && seen < Nothing; seen += cells[high])
        {
            high--;
        }

        return new(step, first + low, cells[low..(high + 1)]);
    }

    /// <summary>Sum of two independent log factors.</summary>
    public GridMasses Plus(GridMasses other)
    {
        int n = Mass.Length, m = other.Mass.Length;
        var sum = new double[n + m - 1];
        // Room on both sides of the other's masses, so that every run of terms reads whole vectors.
        var padded = new double[m + (2 * Tile)];
        other.Mass.CopyTo(padded.AsSpan(Tile));
        int k = 0;
        for (; k + Tile <= sum.Length; k += Tile)
        {
            AddTile(Mass, padded, k, m, sum.AsSpan(k, Tile));
        }

        Span<double> last = stackalloc double[Tile];
        AddTile(Mass, padded, k, m, last);
        last[..(sum.Length - k)].CopyTo(sum.AsSpan(k));
        return new(Step, First + other.First, sum);
    }

    /// <summary>Points k … k + 31 of a convolution, kept in registers while their terms are added in the order of <paramref name="a"/>.</summary>
    /// <param name="a">Masses of one grid.</param>
    /// <param name="b">Masses of the other, with a tile of zeros before and after them.</param>
    /// <param name="k">First point.</param>
    /// <param name="m">Masses of b.</param>
    /// <param name="into">The points.</param>
    [MethodImpl(Kernel.Options)]
    private static void AddTile(double[] a, double[] b, int k, int m, Span<double> into)
    {
        Vector512<double> t0 = default, t1 = default, t2 = default, t3 = default;
        int from = Math.Max(0, k - (m - 1)), to = Math.Min(a.Length, k + Tile);
        for (int i = from; i < to; i++)
        {
            var factor = Vector512.Create(a[i]);
            var terms = b.AsSpan(Tile + k - i, Tile);
            t0 += factor * Lanes.Load(terms, 0);
            t1 += factor * Lanes.Load(terms, Lanes.Width);
            t2 += factor * Lanes.Load(terms, 2 * Lanes.Width);
            t3 += factor * Lanes.Load(terms, 3 * Lanes.Width);
        }

        t0.CopyTo(into);
        t1.CopyTo(into[Lanes.Width..]);
        t2.CopyTo(into[(2 * Lanes.Width)..]);
        t3.CopyTo(into[(3 * Lanes.Width)..]);
    }

    private static int Cell(double at, double step) => (int)Math.Floor(Math.Clamp(at / step, -1e7, 1e7) + 0.5);
}

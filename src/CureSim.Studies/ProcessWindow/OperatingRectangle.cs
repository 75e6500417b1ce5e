using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;

namespace CureSim.Studies.ProcessWindow;

/// <summary>A range of each of two settings within which every pair holds the requirement.</summary>
/// <param name="FromColumn">First column.</param>
/// <param name="ToColumn">Last column.</param>
/// <param name="FromRow">First row.</param>
/// <param name="ToRow">Last row.</param>
/// <param name="FromX">Lowest X.</param>
/// <param name="ToX">Highest X.</param>
/// <param name="FromY">Lowest Y.</param>
/// <param name="ToY">Highest Y.</param>
/// <param name="Nodes">Pairs of settings judged or interpolated in it.</param>
/// <param name="Critical">Standard errors by which the margin of each pair is above its requirement; with worlds not-a-number.</param>
/// <param name="LeastBound">Smallest of the simultaneous lower bounds of margins in it, state index.</param>
public sealed record OperatingRectangle(
    int FromColumn, int ToColumn, int FromRow, int ToRow, double FromX, double ToX, double FromY, double ToY, int Nodes, double Critical, double LeastBound)
{
    private const int Replicates = 2000;

    /// <summary>Area on logarithmic scales, by which the largest is chosen: the product of the logarithms of the ratios.</summary>
    public double Area => Math.Log(ToX / FromX) * Math.Log(ToY / FromY);

    /// <summary>True when it ends where the map does, so that a larger one may lie beyond.</summary>
    public bool ReachesEnd(WindowMap map)
    {
        ArgumentNullException.ThrowIfNull(map);
        return FromX <= map.X[0] || FromY <= map.Y[0] || ToX >= map.X[^1] || ToY >= map.Y[^1];
    }

    /// <summary>The largest one on a lattice that holds the node given; null when there is none of at least two columns and two rows.</summary>
    /// <remarks>
    /// One world: a pair of settings counts when both margins exceed zero by c standard errors, c the quantile of the largest standardised error over all nodes
    /// and both margins together: multiplier bootstrap over batches (V. Chernozhukov, D. Chetverikov, K. Kato, Ann. Statist. 41 (2013) 2786). Draws are shared, so c is far below Bonferroni's.
    /// Worlds: the rectangle counts when the (1 − confidence) quantile over worlds of its smallest margin is not below zero.
    /// </remarks>
    internal static OperatingRectangle? Largest(SettingLattice lattice, int column, int row, double critical, double confidence, int room)
    {
        int nx = lattice.X.Length, ny = lattice.Y.Length, worlds = lattice[0, 0].Conforming.Value.Length;

        // Lower bounds by world; with one world the simultaneous bound.
        var bound = new double[nx, ny][];
        for (int i = 0; i < nx; i++)
        {
            for (int j = 0; j < ny; j++)
            {
                var n = lattice[i, j];
                bound[i, j] = worlds == 1
                    ? [Math.Min(n.Conforming.Value[0] - (critical * n.Conforming.Error[0]), n.State.Value[0] - (critical * n.State.Error[0]))]
                    : WindowMap.SmallestByWorld(n);
            }
        }

        double Quantile(double[] least) => worlds == 1 ? least[0] : SampleQuantile.Of(least, 1.0 - confidence);
        bool Holds(double[] least)
        {
            // Only near the quantile is it worth finding.
            int missed = least.Count(v => v < 0.0);
            return missed == 0 || (missed <= 1 + ((1.0 - confidence) * worlds) && Quantile(least) >= 0.0);
        }

        OperatingRectangle? best = null;
        for (int i1 = Math.Max(0, column - room); i1 >= 0; i1--)
        {
            var byRow = Enumerable.Range(0, ny).Select(_ => Enumerable.Repeat(double.PositiveInfinity, worlds).ToArray()).ToArray();
            for (int i = i1; i < column; i++)
            {
                Take(byRow, bound, i, ny);
            }

            for (int i2 = column; i2 < nx; i2++)
            {
                Take(byRow, bound, i2, ny);
                if (!Holds(byRow[row]))
                {
                    break;
                }

                for (int j1 = Math.Max(0, row - room); j1 >= 0; j1--)
                {
                    double[] least = [.. Enumerable.Repeat(double.PositiveInfinity, worlds)];
                    for (int j = j1; j < row; j++)
                    {
                        Lower(least, byRow[j]);
                    }

                    if (!Holds(least))
                    {
                        break;
                    }

                    for (int j2 = row; j2 < ny; j2++)
                    {
                        Lower(least, byRow[j2]);
                        if (!Holds(least))
                        {
                            break;
                        }

                        double area = Math.Log(lattice.X[i2] / lattice.X[i1]) * Math.Log(lattice.Y[j2] / lattice.Y[j1]);
                        if (i2 > i1 && j2 > j1 && i2 >= Math.Min(nx - 1, column + room) && j2 >= Math.Min(ny - 1, row + room) && (best is null || area > best.Area))
                        {
                            best = new(i1, i2, j1, j2, lattice.X[i1], lattice.X[i2], lattice.Y[j1], lattice.Y[j2], (i2 - i1 + 1) * (j2 - j1 + 1), critical, Quantile(least));
                        }
                    }
                }
            }
        }

        return best;
    }

    private static void Take(double[][] byRow, double[,][] bound, int column, int ny)
    {
        for (int j = 0; j < ny; j++)
        {
            Lower(byRow[j], bound[column, j]);
        }
    }

    private static void Lower(double[] least, double[] by)
    {
        for (int w = 0; w < least.Length; w++)
        {
            least[w] = Math.Min(least[w], by[w]);
        }
    }

    /// <summary>Quantile of the largest standardised error over all nodes of a map and both margins.</summary>
    internal static double CriticalValue(WindowMap map, double confidence)
    {
        var scaled = new List<double[]>();
        void Add(double[] batches, double error)
        {
            if (error > 0.0 && batches.Length > 0)
            {
                double norm = Math.Sqrt(batches.Sum(b => b * b));
                if (norm > 0.0)
                {
                    scaled.Add([.. batches.Select(b => b / norm)]);
                }
            }
        }

        foreach (var node in map.Nodes.SelectMany(c => c))
        {
            Add(node.ConformingBatch, node.Conforming.Error[0]);
            Add(node.StateBatch, node.State.Error[0]);
        }

        double point = NormalQuantile(confidence);
        if (scaled.Count == 0)
        {
            return point;
        }

        var stream = StreamKey.Of(DrawDomain.Reserved, "window_study.multiplier");
        var largest = new double[Replicates];
        var g = new double[Leaves.Batches];
        for (int r = 0; r < Replicates; r++)
        {
            for (int b = 0; b < g.Length; b++)
            {
                g[b] = BlockMath.NormalQuantile(Draw.Uniform(map.Case.Cell.Run.Seed, 0, (uint)r, stream, b));
            }

            double most = double.NegativeInfinity;
            foreach (double[] z in scaled)
            {
                double sum = 0.0;
                for (int b = 0; b < g.Length; b++)
                {
                    sum += g[b] * z[b];
                }

                most = Math.Max(most, sum);
            }

            largest[r] = most;
        }

        Array.Sort(largest);
        return Math.Max(point, SampleQuantile.OfSorted(largest, confidence));
    }

    private static double NormalQuantile(double p) => BlockMath.NormalQuantile(p);
}

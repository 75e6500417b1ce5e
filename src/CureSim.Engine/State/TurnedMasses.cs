using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>Masses of a grid turned round, to be multiplied with the running sums of another: the tails of the two grids' sum.</summary>
internal sealed class TurnedMasses
{
    private const int Stretch = 4 * Lanes.Width;

    private readonly double[] mass;
    // By stretches, each summed from its own end, so that both tails keep their relative accuracy.
    private readonly double[] massFrom;
    private readonly double[] massBefore;
    private readonly int shift;

    /// <summary>Turns the masses of <paramref name="b"/> round.</summary>
    public TurnedMasses(GridMasses b)
    {
        First = b.First;
        int m = b.Mass.Length;
        // Padded with zeros to whole stretches at its low end.
        mass = new double[(m + Stretch - 1) / Stretch * Stretch];
        int pad = mass.Length - m;
        for (int j = 0; j < m; j++)
        {
            mass[pad + m - 1 - j] = b.Mass[j];
        }

        shift = m - 1 + pad;
        massFrom = new double[(mass.Length / Stretch) + 1];
        massBefore = new double[massFrom.Length];
        for (int s = massFrom.Length - 2; s >= 0; s--)
        {
            massFrom[s] = massFrom[s + 1] + SumOf(mass.AsSpan(s * Stretch, Stretch));
        }

        for (int s = 1; s < massBefore.Length; s++)
        {
            massBefore[s] = massBefore[s - 1] + SumOf(mass.AsSpan((s - 1) * Stretch, Stretch));
        }
    }

    /// <summary>Grid point of the first mass, in steps.</summary>
    public int First { get; }

    /// <summary>Places of the masses.</summary>
    public int Length => mass.Length;

    /// <summary>Mass of the sum below a point: Σ_j b_j · (mass of a below <paramref name="top"/> − j).</summary>
    public double Below(RunningSums a, long top)
    {
        int start = Start(a, top);
        // Before this place nothing of a lies below; from that one on all of it does, and what is left of b is one number.
        int from = Whole(a.Margin - start), to = Whole(a.Margin + a.Count - start + Stretch - 1);
        return Dot(mass, a.Below.AsSpan(start), from, to) + (massFrom[to / Stretch] * a.Below[^1]);
    }

    /// <summary>Mass of the sum at a point and above it.</summary>
    public double Above(RunningSums a, long top)
    {
        int start = Start(a, top);
        int from = Whole(a.Margin - start), to = Whole(a.Margin + a.Count - start + Stretch - 1);
        return Dot(mass, a.Above.AsSpan(start), from, to) + (massBefore[from / Stretch] * a.Above[0]);
    }

    private int Start(RunningSums a, long top) => (int)Math.Clamp(a.Margin + top - shift, 0, a.Below.Length - mass.Length);

    private static double SumOf(ReadOnlySpan<double> stretch)
    {
        double sum = 0.0;
        foreach (double m in stretch)
        {
            sum += m;
        }

        return sum;
    }

    private int Whole(int place) => Math.Clamp(place, 0, mass.Length) / Stretch * Stretch;

    [MethodImpl(Kernel.Options)]
    private static double Dot(double[] turned, ReadOnlySpan<double> sums, int from, int to)
    {
        // Four sums side by side: one alone would wait for its own last addition.
        Vector512<double> t0 = default, t1 = default, t2 = default, t3 = default;
        for (int j = from; j < to; j += Stretch)
        {
            t0 += Lanes.Load(turned, j) * Lanes.Load(sums, j);
            t1 += Lanes.Load(turned, j + Lanes.Width) * Lanes.Load(sums, j + Lanes.Width);
            t2 += Lanes.Load(turned, j + (2 * Lanes.Width)) * Lanes.Load(sums, j + (2 * Lanes.Width));
            t3 += Lanes.Load(turned, j + (3 * Lanes.Width)) * Lanes.Load(sums, j + (3 * Lanes.Width));
        }

        var total = (t0 + t1) + (t2 + t3);
        // The lanes are added in a fixed order, so that the sum does not depend on the vector's width.
        return ((total[0] + total[4]) + (total[2] + total[6])) + ((total[1] + total[5]) + (total[3] + total[7]));
    }
}

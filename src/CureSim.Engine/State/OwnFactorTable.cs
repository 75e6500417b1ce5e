using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <summary>
/// The distribution of a bond's own log factors as normal scores: a row of Φ⁻¹(P(sum ≤ z)) on an even grid of z, for every node of
/// (distance, aim offset, absorption), and slices of it for states between the nodes.
/// </summary>
/// <remarks>
/// Rows come from exact convolutions (<see cref="GridMasses"/>); only the three smooth axes are interpolated, by cubic Lagrange weights on the
/// score, and a state outside the table gets a row of its own. Tests bound the interpolation against rows computed at the state itself.
/// </remarks>
public sealed partial class OwnFactorTable
{
    /// <summary>Points of a row; a multiple of eighty.</summary>
    public const int Points = 160;

    /// <summary>Scores down to which <see cref="MaximumSlope"/> bounds how fast a state's score moves.</summary>
    public const double SlopeDepth = 6.5;

    private const double LowestScore = -38.0;
    private const double ResolvedScore = 8.0; // tails below 6·10⁻¹⁶ are cut off by the grids, so scores beyond are not theirs
    private const double EdgeScore = 9.0; // stands for a probability of nothing where the sum ends at a hard edge
    private readonly OwnFactors factors;
    private readonly TableAxis distance;
    private readonly TableAxis offset;
    private readonly TableAxis absorption;
    private readonly double[]?[] rows;
    private readonly RunningSums?[] byDistance;
    private readonly GridMasses?[] ofDistance;
    private readonly GridMasses?[] ofOffset;
    private readonly GridMasses?[] ofAbsorption;
    private readonly TurnedMasses?[] across;
    private readonly double step;
    private readonly GridMasses constant;
    private readonly int stride;
    private readonly double perStep;
    private readonly long firstPoint;

    /// <summary>Builds the table over the given axes.</summary>
    public OwnFactorTable(OwnFactors factors, TableAxis distance, TableAxis offset, TableAxis absorption)
    {
        this.factors = factors;
        this.distance = distance;
        this.offset = offset;
        this.absorption = absorption;
        Spread = UsefulSpread();
        rows = new double[]?[distance.Nodes * offset.Nodes * absorption.Nodes];
        byDistance = new RunningSums?[distance.Nodes];
        ofDistance = new GridMasses?[distance.Nodes];
        ofOffset = new GridMasses?[offset.Nodes];
        ofAbsorption = new GridMasses?[absorption.Nodes];
        across = new TurnedMasses?[offset.Nodes * absorption.Nodes];
        if (Spread <= 0.0)
        {
            constant = GridMasses.Nothing(1.0);
            MaximumSlope = double.PositiveInfinity;
            return;
        }

        step = Spread / 120.0;
        constant = factors.Constant(step);
        // The grid of z must hold the sum's range at the extreme nodes.
        var (low, high) = Range();
        stride = (int)Math.Ceiling((high - low) / (Points - 1) / step);
        firstPoint = (long)Math.Floor(low / step);
        First = (firstPoint + 0.5) * step;
        Step = stride * step;
        perStep = 1.0 / Step;
        MaximumSlope = Slope();
    }

    /// <summary>Standard deviation of the sum in the middle of the table without an aim offset, or a tenth of the largest anywhere when that is more; 0 when nothing varies.</summary>
    public double Spread { get; }

    /// <summary>First z of a row.</summary>
    public double First { get; private set; }

    /// <summary>Last z of a row; +∞ when nothing varies.</summary>
    public double Last => Spread > 0.0 ? First + ((Points - 1) * Step) : double.PositiveInfinity;

    /// <summary>Distance of z points.</summary>
    public double Step { get; private set; }

    /// <summary>How fast scores change with z in the steepest of the rows looked at; infinite when nothing varies. A state's own bound is that of its rows.</summary>
    public double MaximumSlope { get; }

    /// <summary>True when every state has the same row.</summary>
    public bool IsSingleRow => rows.Length == 1;

    /// <summary>Writes the row of a state into <paramref name="row"/> (length <see cref="Points"/>).</summary>
    [MethodImpl(Kernel.Options)]
    public void Slice(double d, double rho, double alpha, Span<double> row)
    {
        if (rows.Length == 1)
        {
            RowAt(0, 0, 0).CopyTo(row);
            return;
        }

        if (!distance.Covers(d) || !offset.Covers(rho) || !absorption.Covers(alpha))
        {
            RowAtState(d, rho, alpha).CopyTo(row);
            return;
        }

        Span<double> wd = stackalloc double[4], wo = stackalloc double[4], wa = stackalloc double[4];
        int d0 = distance.Weights(d, wd), o0 = offset.Weights(rho, wo), a0 = absorption.Weights(alpha, wa);
        Span<double> weights = stackalloc double[64];
        Span<int> near = stackalloc int[64];
        int number = 0;
        for (int i = 0; i < Math.Min(4, distance.Nodes); i++)
        {
            for (int j = 0; j < Math.Min(4, offset.Nodes); j++)
            {
                for (int k = 0; k < Math.Min(4, absorption.Nodes); k++)
                {
                    double w = wd[i] * wo[j] * wa[k];
                    if (w != 0.0)
                    {
                        weights[number] = w;
                        near[number++] = Index(d0 + i, o0 + j, a0 + k);
                        _ = RowAt(d0 + i, o0 + j, a0 + k);
                    }
                }
            }
        }

        Combine(weights[..number], near[..number], row);
    }

    /// <summary>Weighted sum of rows, eighty points at a time through all rows: sums stay in registers, and a row is read in long runs, since the table is larger than the caches.</summary>
    [MethodImpl(Kernel.Options)]
    private void Combine(ReadOnlySpan<double> weights, ReadOnlySpan<int> numbers, Span<double> into)
    {
        const int Run = 10 * Lanes.Width;
        for (int from = 0; from < Points; from += Run)
        {
            Vector512<double> s0 = default, s1 = default, s2 = default, s3 = default, s4 = default;
            Vector512<double> s5 = default, s6 = default, s7 = default, s8 = default, s9 = default;
            for (int i = 0; i < numbers.Length; i++)
            {
                var run = Lanes.AsVectors(rows[numbers[i]].AsSpan(from, Run));
                var w = Vector512.Create(weights[i]);
                s0 += w * run[0];
                s1 += w * run[1];
                s2 += w * run[2];
                s3 += w * run[3];
                s4 += w * run[4];
                s5 += w * run[5];
                s6 += w * run[6];
                s7 += w * run[7];
                s8 += w * run[8];
                s9 += w * run[9];
            }

            var sums = Lanes.AsVectors(into.Slice(from, Run));
            (sums[0], sums[1], sums[2], sums[3], sums[4]) = (s0, s1, s2, s3, s4);
            (sums[5], sums[6], sums[7], sums[8], sums[9]) = (s5, s6, s7, s8, s9);
        }
    }

    /// <summary>Φ⁻¹(P(sum ≤ z)) from a row, linear between its points and beyond them.</summary>
    [MethodImpl(Kernel.Options)]
    public double Score(ReadOnlySpan<double> row, double z)
    {
        double t = (z - First) * perStep;
        int i = (int)Math.Clamp(t, 0.0, Points - 2.0);
        double f = t - i;
        if (f is < 0.0 or > 1.0 || i < 1 || i > Points - 3)
        {
            // Outside the row a probability never turns back, whatever interpolation between nodes did to the last two points.
            double slope = row[i + 1] - row[i];
            return f is >= 0.0 and <= 1.0 ? row[i] + (f * slope)
                : f < 0.0 ? row[i] + (f * Math.Max(0.0, slope)) : row[i + 1] + ((f - 1.0) * Math.Max(0.0, slope));
        }

        double y0 = row[i], y1 = row[i + 1], m0 = 0.5 * (y1 - row[i - 1]), m1 = 0.5 * (row[i + 2] - y0), rise = y1 - y0;
        double g = 1.0 - f;
        return y0 + (f * rise) + (f * g * ((g * (m0 - rise)) - (f * (m1 - rise))));
    }

    private int Index(int d, int o, int a) => (((d * offset.Nodes) + o) * absorption.Nodes) + a;

    private (double Low, double High) Range()
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        GridMasses[] aims = [ofOffset[0] ??= factors.Aim(step, offset.From), ofOffset[^1] ??= factors.Aim(step, offset.At(offset.Nodes - 1))];
        GridMasses[] substrates = [ofAbsorption[0] ??= factors.Substrate(step, absorption.From), ofAbsorption[^1] ??= factors.Substrate(step, absorption.At(absorption.Nodes - 1))];
        foreach (double d in (double[])[distance.From, distance.To])
        {
            var near = factors.Distance(step, d).Plus(constant);
            foreach (var aim in aims)
            {
                var both = near.Plus(aim);
                foreach (var substrate in substrates)
                {
                    var (l, h) = Support(both.Plus(substrate));
                    (low, high) = (Math.Min(low, l), Math.Max(high, h));
                }
            }
        }

        return (low, high);
    }

    /// <summary>Where the lower and the upper tail fall below 10⁻¹⁶.</summary>
    private static (double Low, double High) Support(GridMasses sum)
    {
        const double Tail = 1e-16;
        double seen = 0.0;
        int i = 0, j = sum.Mass.Length - 1;
        for (; i < sum.Mass.Length - 1 && (seen += sum.Mass[i]) < Tail; i++)
        {
        }

        seen = 0.0;
        for (; j > 0 && (seen += sum.Mass[j]) < Tail; j--)
        {
        }

        return ((sum.First + i - 1) * sum.Step, (sum.First + j + 1) * sum.Step);
    }

    /// <summary>
    /// The row of a node, made when it is first asked for: most nodes of a table are never near a state. Two threads may make the same row at once;
    /// they make the same numbers.
    /// </summary>
    private double[] RowAt(int i, int j, int k)
    {
        ref double[]? row = ref rows[Index(i, j, k)];
        if (row is null)
        {
            ref var side = ref across[(j * absorption.Nodes) + k];
            side ??= new((ofOffset[j] ??= factors.Aim(step, offset.At(j))).Plus(ofAbsorption[k] ??= factors.Substrate(step, absorption.At(k))));
            ref var near = ref byDistance[i];
            if (near is null || near.Margin < MarginFor(side))
            {
                // Half as much again: offsets further out have longer tails, and will be asked for.
                near = new(ofDistance[i] ??= factors.Distance(step, distance.At(i)).Plus(constant), MarginFor(side) * 3 / 2);
            }

            row = Row(near, side);
        }

        return row;
    }

    private double[] RowAtState(double d, double rho, double alpha)
    {
        var side = new TurnedMasses(factors.Aim(step, rho).Plus(factors.Substrate(step, alpha)));
        return Row(new(factors.Distance(step, d).Plus(constant), MarginFor(side)), side);
    }

    private int MarginFor(TurnedMasses other) => other.Length + (Points * stride);

    /// <summary>Scores of the sum of two independent grids at the z points, each tail summed from its own end.</summary>
    /// <remarks>
    /// z points lie half a grid step above grid points, so P(a + b ≤ z) = Σ_j b_j · (mass of a up to a whole number of points): dot products.
    /// Rows rise, so the middle is found by halving and only what the grids resolve is summed: the rest is continued in straight lines.
    /// </remarks>
    private double[] Row(RunningSums a, TurnedMasses b)
    {
        var row = new double[Points];
        int middle = 0;
        for (int beyond = Points; middle < beyond;)
        {
            int p = (middle + beyond) / 2;
            (middle, beyond) = b.Below(a, TopOf(p, a, b)) > 0.5 ? (middle, p) : (p + 1, beyond);
        }

        row.AsSpan(0, middle).Fill(LowestScore);
        row.AsSpan(middle).Fill(-LowestScore);
        for (int p = middle - 1; p >= 0; p--)
        {
            double lower = b.Below(a, TopOf(p, a, b));
            row[p] = lower > 1e-300 ? BlockMath.NormalQuantile(lower) : LowestScore;
            if (row[p] <= -ResolvedScore)
            {
                break;
            }
        }

        for (int p = middle; p < Points; p++)
        {
            double upper = b.Above(a, TopOf(p, a, b));
            row[p] = upper > 1e-300 ? -BlockMath.NormalQuantile(Math.Min(upper, 0.5)) : -LowestScore;
            if (row[p] >= ResolvedScore)
            {
                break;
            }
        }

        ContinueTails(row);
        return row;
    }

    /// <summary>How many points of a lie at or below z point p, less the first point of b.</summary>
    private long TopOf(int p, RunningSums a, TurnedMasses b) => firstPoint + ((long)p * stride) - a.First - b.First + 1;

    /// <summary>
    /// Beyond the last score that the grids resolve the row goes on in a straight line, so that rows of neighbouring nodes can be interpolated there too;
    /// where the sum ends at a hard edge it stays at the score of nothing.
    /// </summary>
    private static void ContinueTails(double[] row)
    {
        int low = Array.FindIndex(row, r => r > -ResolvedScore), high = Array.FindLastIndex(row, r => r < ResolvedScore);
        if (low < 0 || high < low)
        {
            // Nothing but tails: a sum whose whole range lies between two points.
            for (int p = 0; p < Points; p++)
            {
                row[p] = Math.Clamp(row[p], -EdgeScore, EdgeScore);
            }

            return;
        }

        const double Edge = ResolvedScore - 1.0;
        double below = row[low] < -Edge && low < Points - 1 ? row[low + 1] - row[low] : double.NaN;
        for (int p = low - 1; p >= 0; p--)
        {
            row[p] = double.IsNaN(below) ? -EdgeScore : Math.Max(LowestScore, row[p + 1] - below);
        }

        double above = row[high] > Edge && high > 0 ? row[high] - row[high - 1] : double.NaN;
        for (int p = high + 1; p < Points; p++)
        {
            row[p] = double.IsNaN(above) ? EdgeScore : Math.Min(-LowestScore, row[p - 1] + above);
        }
    }

    private double UsefulSpread()
    {
        double absorptionMiddle = 0.5 * (absorption.From + absorption.To), largest = 0.0;
        foreach (double d in (double[])[distance.From, 0.5 * (distance.From + distance.To), distance.To])
        {
            foreach (double o in (double[])[offset.From, 0.5 * (offset.From + offset.To), offset.To])
            {
                largest = Math.Max(largest, factors.Spread(d, o, absorptionMiddle));
            }
        }

        return Math.Max(factors.Spread(0.5 * (distance.From + distance.To), offset.From, absorptionMiddle), 0.1 * largest);
    }

    /// <summary>Bound on how fast the scores of one row change with z, down to <see cref="SlopeDepth"/>: anywhere, and where they lie below 0.</summary>
    public (double Any, double Lower) SlopesOf(ReadOnlySpan<double> row)
    {
        double steepest = 0.0, lower = 0.0, anywhere = 0.0;
        for (int p = 1; p < Points; p++)
        {
            double slope = row[p] - row[p - 1];
            anywhere = Math.Max(anywhere, slope);
            if (Math.Min(Math.Abs(row[p]), Math.Abs(row[p - 1])) <= SlopeDepth + 1.0)
            {
                steepest = Math.Max(steepest, slope);

                // One score more than is asked for, since the cubic between points looks at their neighbours.
                lower = row[p - 1] <= 1.0 ? Math.Max(lower, slope) : lower;
            }
        }

        // A quarter more for slopes between points; terms of a mixture deeper than one score beyond the depth weigh at most φ(d + 1)/φ(d) there.
        double deeper = BlockMath.Exp(-0.5 * (((SlopeDepth + 1.0) * (SlopeDepth + 1.0)) - (SlopeDepth * SlopeDepth))) * anywhere;
        return (1.25 * (steepest + deeper) * perStep, 1.25 * (lower + deeper) * perStep);
    }

    /// <summary>The steepest slope at the ends and in the middle of every axis.</summary>
    private double Slope()
    {
        double steepest = 0.0;
        foreach (int i in Probes(distance.Nodes))
        {
            foreach (int j in Probes(offset.Nodes))
            {
                foreach (int k in Probes(absorption.Nodes))
                {
                    steepest = Math.Max(steepest, SlopesOf(RowAt(i, j, k)).Any);
                }
            }
        }

        return steepest;
    }

    private static int[] Probes(int nodes) => nodes == 1 ? [0] : [0, nodes / 2, nodes - 1];
}

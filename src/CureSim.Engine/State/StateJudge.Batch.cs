using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <content>Many states at once: the same sums in the same order as for one, eight states to a vector.</content>
public sealed partial class StateJudge
{
    private const int FewestForVectors = 3;

    // Beyond the grid of a row a tail is below 10⁻¹⁶: it is left out beside a lower tail above Φ(−5) = 3·10⁻⁷, of which it cannot make a billionth.
    private const double FullScore = -5.0;

    /// <summary>p and its score for every entry of a batch; each equals what <see cref="Probability"/> says of that state alone.</summary>
    [MethodImpl(Kernel.Options)]
    public void Probabilities(JudgeBatch batch)
    {
        if (batch.Count == 0)
        {
            return;
        }

        batch.Uppermost.AsSpan(0, Lanes.Padded(batch.Count)).Fill(Certain);

        // A vector costs as much as two or three states one by one.
        if ((DependsOnRate && !HasLineOfRates) || batch.Count < FewestForVectors)
        {
            OneByOne(batch);
        }
        else if (DependsOnRate)
        {
            int padded = batch.Pad();
            for (int from = 0; from < padded; from += Lanes.Width)
            {
                Eight(batch, from);
            }
        }
        else
        {
            PassByPass(batch, batch.Pad());
        }

        if (batch.Count == 1)
        {
            batch.Score[0] = Score(batch.Part[0]);
            return;
        }

        BlockMath.NormalQuantile(batch.Part.AsSpan(0, Lanes.Padded(batch.Count)), batch.Score.AsSpan(0, Lanes.Padded(batch.Count)));
        var (least, most) = (Vector512.Create(-Certain), Vector512.Create(Certain));
        var score = Lanes.AsVectors(batch.Score);
        for (int v = 0; v < Lanes.Padded(batch.Count) / Lanes.Width; v++)
        {
            score[v] = Vector512.Min(most, Vector512.Max(least, score[v]));
        }
    }

    private void OneByOne(JudgeBatch batch)
    {
        Span<double> logE = stackalloc double[batch.LogE.Length];
        for (int k = 0; k < batch.Count; k++)
        {
            for (int i = 0; i < logE.Length; i++)
            {
                logE[i] = batch.LogE[i][k];
            }

            (batch.Part[k], batch.Bond[k]) = Probability(logE, batch.Rows[k], batch.LogRate[k], batch.LimitShift[k]);
        }

        batch.Part.AsSpan(batch.Count, Lanes.Padded(batch.Count) - batch.Count).Fill(0.5);
    }

    /// <summary>States whose limits do not move with a rate: scores of a site in all of them, then Φ of all, then their sums, so that no vector waits for its own polynomial.</summary>
    [MethodImpl(Kernel.Options)]
    private void PassByPass(JudgeBatch batch, int padded)
    {
        Span<double> part = batch.Part.AsSpan(0, padded), bond = batch.Bond.AsSpan(0, padded);
        Span<double> any = batch.Any.AsSpan(0, padded), parts = batch.NodePart.AsSpan(0, padded), bonds = batch.NodeBond.AsSpan(0, padded);
        part.Clear();
        bond.Clear();
        // A tail that is left out lies beyond what the grids resolve.
        batch.Uppermost.AsSpan(0, padded).Fill(-OwnFactorTable.SlopeDepth);
        for (int node = 0; node < shared.Weight.Length; node++)
        {
            parts.Clear();
            bonds.Clear();
            for (int first = 0; first < batch.LogE.Length; first += sitesPerPart)
            {
                any.Clear();
                batch.AnyAbove.AsSpan(0, padded).Clear();
                for (int i = first; i < first + sitesPerPart; i++)
                {
                    int uppers = TailScores(batch, padded, i, node);
                    var lower = batch.Lower.AsSpan(0, padded);
                    BlockMath.NormalCdf(lower, lower);
                    var upper = batch.Upper.AsSpan(0, uppers * Lanes.Width);
                    BlockMath.NormalCdf(upper, upper);
                    AddTails(batch, padded);
                }

                if (together)
                {
                    AddScaled(any, batch.AnyAbove.AsSpan(0, padded), 1.0);
                    Finish(any, 1.0, 1.0);
                }

                AddScaled(parts, any, 1.0);
            }

            AddScaled(part, parts, shared.Weight[node]);
            AddScaled(bond, bonds, shared.Weight[node]);
        }

        double sites = batch.LogE.Length;
        Finish(part, (double)sitesPerPart, sites);
        Finish(bond, 1.0, sites);
    }

    /// <summary>Scores of both tails of one bond in every state; returns for how many vectors the upper one is needed.</summary>
    [MethodImpl(Kernel.Options)]
    private int TailScores(JudgeBatch batch, int padded, int site, int node)
    {
        var (low, high, shift) = (Vector512.Create(lowerAtNode[node]), Vector512.Create(upperAtNode[node]), Vector512.Create(shared.Shift[node]));
        var (certain, full, last) = (Vector512.Create(Certain), Vector512.Create(FullScore), Vector512.Create(Table.Last));
        int uppers = 0;
        for (int from = 0; from < padded; from += Lanes.Width)
        {
            var limit = Lanes.Load(batch.LimitShift, from);
            var (below, above) = (low + limit, high + limit);
            var e = Lanes.Load(batch.LogE[site], from) + shift;
            var none = Vector512.GreaterThan(below, above);
            var zHigh = above - e;
            var lower = Vector512.ConditionalSelect(none, certain, Scores(batch.Rows, from, site, below - e, upper: false));
            lower.CopyTo(batch.Lower.AsSpan(from));
            var dropped = Vector512.GreaterThan(zHigh, last) & Vector512.GreaterThan(lower, full);
            if (Vector512.EqualsAll(dropped.AsInt64(), Vector512<long>.AllBitsSet))
            {
                batch.UpperAt[from / Lanes.Width] = -1;
                continue;
            }

            var upper = Vector512.ConditionalSelect(none, -certain, -Scores(batch.Rows, from, site, zHigh, upper: true));
            Vector512.Max(Lanes.Load(batch.Uppermost, from), upper).CopyTo(batch.Uppermost.AsSpan(from));
            upper.CopyTo(batch.Upper.AsSpan(uppers * Lanes.Width));
            dropped.CopyTo(batch.Dropped.AsSpan(from));
            batch.UpperAt[from / Lanes.Width] = uppers++;
        }

        return uppers;
    }

    /// <summary>Adds q = both tails of one bond to the sum over bonds, and to 1 − ∏(1 − q) of its part.</summary>
    [MethodImpl(Kernel.Options)]
    private void AddTails(JudgeBatch batch, int padded)
    {
        var lower = Lanes.AsVectors(batch.Lower);
        var upper = Lanes.AsVectors(batch.Upper);
        var dropped = Lanes.AsVectors(batch.Dropped);
        var bonds = Lanes.AsVectors(batch.NodeBond);
        var any = Lanes.AsVectors(batch.Any);
        var above = Lanes.AsVectors(batch.AnyAbove);
        for (int v = 0; v < padded / Lanes.Width; v++)
        {
            var q = lower[v];
            if (batch.UpperAt[v] >= 0)
            {
                var over = Vector512.AndNot(upper[batch.UpperAt[v]], dropped[v]);
                above[v] = Vector512.Max(above[v], over);
                q = Vector512.Min(Vector512<double>.One, q + over);
            }

            bonds[v] += q;
            any[v] = together ? Vector512.Max(any[v], lower[v]) : any[v] + (q - (any[v] * q));
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void AddScaled(Span<double> into, Span<double> values, double weight)
    {
        Span<Vector512<double>> a = Lanes.AsVectors(into), b = Lanes.AsVectors(values);
        for (int v = 0; v < a.Length; v++)
        {
            a[v] += Vector512.Create(weight) * b[v];
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void Finish(Span<double> sums, double times, double over)
    {
        var a = Lanes.AsVectors(sums);
        for (int v = 0; v < a.Length; v++)
        {
            a[v] = Vector512.Min(Vector512<double>.One, Vector512.Max(Vector512<double>.Zero, a[v] * Vector512.Create(times) / Vector512.Create(over)));
        }
    }

    /// <summary>Eight states in which the limits move with the cure rate.</summary>
    [MethodImpl(Kernel.Options)]
    private void Eight(JudgeBatch batch, int from)
    {
        var (part, bond) = (Vector512<double>.Zero, Vector512<double>.Zero);
        var one = Vector512<double>.One;
        var shift = Lanes.Load(batch.LimitShift, from);
        for (int node = 0; node < shared.Weight.Length; node++)
        {
            var low = Vector512.Create(lowerAtNode[node]) + shift;
            var high = Vector512.Create(upperAtNode[node]) + shift;
            var parts = Vector512<double>.Zero;
            var bonds = Vector512<double>.Zero;
            var nodeShift = Vector512.Create(shared.Shift[node]);
            for (int first = 0; first < batch.LogE.Length; first += sitesPerPart)
            {
                var any = Vector512<double>.Zero;
                for (int i = first; i < first + sitesPerPart; i++)
                {
                    var e = Lanes.Load(batch.LogE[i], from) + nodeShift;
                    var q = OfRates(batch, from, i, shared.LogTime[node], e, low, high);
                    bonds += q;
                    any += q - (any * q);
                }

                parts += any;
            }

            var weight = Vector512.Create(shared.Weight[node]);
            part += weight * parts;
            bond += weight * bonds;
        }

        double sites = batch.LogE.Length;
        part = part * Vector512.Create((double)sitesPerPart) / Vector512.Create(sites);
        bond /= Vector512.Create(sites);
        Vector512.Min(one, Vector512.Max(Vector512<double>.Zero, part)).CopyTo(batch.Part.AsSpan(from));
        Vector512.Min(one, Vector512.Max(Vector512<double>.Zero, bond)).CopyTo(batch.Bond.AsSpan(from));
    }

    /// <summary>p of one bond in eight states, between one pair of limits.</summary>
    [MethodImpl(Kernel.Options)]
    private Vector512<double> BothTails(JudgeBatch batch, int from, int site, Vector512<double> e, Vector512<double> low, Vector512<double> high)
    {
        var certain = Vector512.Create(Certain);
        var none = Vector512.GreaterThan(low, high);
        var zHigh = high - e;
        var lower = Vector512.ConditionalSelect(none, certain, Scores(batch.Rows, from, site, low - e, upper: false));
        var dropped = Vector512.GreaterThan(zHigh, Vector512.Create(Table.Last)) & Vector512.GreaterThan(lower, Vector512.Create(FullScore));
        var q = Below(lower);
        if (Vector512.EqualsAll(dropped.AsInt64(), Vector512<long>.AllBitsSet))
        {
            return q;
        }

        var upper = Vector512.ConditionalSelect(none, -certain, -Scores(batch.Rows, from, site, zHigh, upper: true));
        return Vector512.Min(Vector512<double>.One, q + Vector512.AndNot(Below(upper), dropped));
    }

    // One copy of the polynomial, called: inlined twice it would cost the compiler's budget.
    [MethodImpl(Kernel.Options)]
    private static Vector512<double> Below(Vector512<double> score) => BlockMath.NormalCdf(score);

    /// <summary>Scores at z of a site's rows, eight entries at once; one by one where a limit is missing or nothing varies, since only there the two tails differ.</summary>
    private Vector512<double> Scores(double[][] rows, int from, int site, Vector512<double> z, bool upper)
    {
        if (Table.Spread > 0.0 && !HasInfinity(z))
        {
            return Table.Scores(rows, from, site, z);
        }

        Span<double> one = stackalloc double[Lanes.Width];
        z.CopyTo(one);
        for (int k = 0; k < Lanes.Width; k++)
        {
            var row = OwnFactorTable.RowOf(rows[from + k], site);
            one[k] = upper ? UpperScore(row, one[k]) : LowerScore(row, one[k]);
        }

        return Vector512.Create((ReadOnlySpan<double>)one);
    }

    private static bool HasInfinity(Vector512<double> z) => Vector512.EqualsAny(Vector512.Abs(z), Vector512.Create(double.PositiveInfinity));
}

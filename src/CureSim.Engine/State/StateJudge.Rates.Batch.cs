using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <content>Limits on the degree of cure for eight states at once, where ln rate within a lot is normal: the same operations in the same order as for one.</content>
public sealed partial class StateJudge
{
    /// <summary>True when eight states are worth judging at once: a lower limit alone, ln rate within a lot normal or fixed.</summary>
    private bool HasLineOfRates =>
        lowerCure is { IsOpen: true } && upperCure is null && rate!.IsLine && Table.Spread > 0.0;

    /// <summary>p of one bond in eight states, the rate integrated.</summary>
    /// <param name="batch">States.</param>
    /// <param name="from">First of the eight.</param>
    /// <param name="site">Site of the bond.</param>
    /// <param name="logTime">ln exposure time at the node, ln s.</param>
    /// <param name="e">ln irradiance at the node.</param>
    /// <param name="low">Lower limit of ln irradiance from irradiance and dose.</param>
    /// <param name="high">Upper limit.</param>
    [MethodImpl(Kernel.Options)]
    private Vector512<double> OfRates(JudgeBatch batch, int from, int site, double logTime, Vector512<double> e, Vector512<double> low, Vector512<double> high)
    {
        var logRate = Lanes.Load(batch.LogRate, from);
        if (rate!.IsFixed)
        {
            low = Vector512.Max(low, lowerCure!.At(logRate + Vector512.Create(nominalRate), logTime));
            return BothTails(batch, from, site, e, low, high);
        }

        var kink = KinkOf(low, logRate, logTime);
        var q = IntegralBelow(batch, from, site, logTime, e, logRate, kink);
        q += Below(-kink) * Below(Scores(batch.Rows, from, site, low - e, upper: false));
        q += Below(-Scores(batch.Rows, from, site, high - e, upper: true));
        return Vector512.Min(Vector512<double>.One, q);
    }

    private Vector512<double> IntegralBelow(
        JudgeBatch batch, int from, int site, double logTime, Vector512<double> e, Vector512<double> logRate, Vector512<double> kink)
    {
        var (mean, slope) = rate!.Line;
        var (kappa, perScore, exponent) = (Vector512.Create(mean), Vector512.Create(slope), Vector512.Create(exponentOfRate));
        Vector512<double> Tail(Vector512<double> score) =>
            Table.Scores(batch.Rows, from, site, lowerCure!.At(logRate + ((kappa + (perScore * score)) * exponent), logTime) - e);

        var one = Vector512<double>.One;
        Span<Vector512<double>> middle = stackalloc Vector512<double>[RateIntegral.Rules.Length], radius = stackalloc Vector512<double>[RateIntegral.Rules.Length];
        RateIntegral.Place(Tail(Vector512<double>.Zero), Vector512.Create(0.5) * (Tail(one) - Tail(-one)), Vector512.Create(-8.0), kink, middle, radius);
        // Scores of a panel's nodes, then Φ of all of them, then their sum: so no node waits for another's polynomial.
        Span<Vector512<double>> weights = stackalloc Vector512<double>[RateIntegral.Most], tails = stackalloc Vector512<double>[RateIntegral.Most];
        var (q, half, density) = (Vector512<double>.Zero, Vector512.Create(-0.5), Vector512.Create(DensityAtZero));
        for (int p = 0; p < radius.Length; p++)
        {
            // A panel that no state needs adds nothing.
            if (Vector512.EqualsAll(radius[p], Vector512<double>.Zero))
            {
                continue;
            }

            var (x, w) = RateIntegral.Rules[p];
            for (int i = 0; i < x.Length; i++)
            {
                var s = middle[p] + (radius[p] * Vector512.Create(x[i]));
                weights[i] = radius[p] * Vector512.Create(w[i]) * (density * BlockMath.Exp(half * s * s));
                tails[i] = Tail(s);
            }

            var probabilities = MemoryMarshal.Cast<Vector512<double>, double>(tails[..x.Length]);
            BlockMath.NormalCdf(probabilities, probabilities);
            for (int i = 0; i < x.Length; i++)
            {
                q += weights[i] * tails[i];
            }
        }

        return q;
    }

    /// <summary>Score of the rate at which the cure limit takes over from the limit on irradiance and dose; without induction dose where two straight lines meet.</summary>
    private Vector512<double> KinkOf(Vector512<double> limit, Vector512<double> logRate, double logTime)
    {
        if (!lowerCure!.IsLine)
        {
            Span<double> one = stackalloc double[Lanes.Width];
            for (int k = 0; k < Lanes.Width; k++)
            {
                one[k] = KinkOf(lowerCure, limit.GetElement(k), logRate.GetElement(k), logTime);
            }

            return Vector512.Create((ReadOnlySpan<double>)one);
        }

        var (mean, slope) = rate!.Line;
        var (kappa, perScore, exponent) = (Vector512.Create(mean), Vector512.Create(slope), Vector512.Create(exponentOfRate));
        var (below, above) = (Vector512.Create(-8.0), Vector512.Create(8.0));
        var atBelow = lowerCure!.At(logRate + ((kappa + (perScore * below)) * exponent), logTime) - limit;
        var atAbove = lowerCure.At(logRate + ((kappa + (perScore * above)) * exponent), logTime) - limit;
        var s = below + (atBelow / (atBelow - atAbove) * (above - below));
        s = Vector512.ConditionalSelect(Vector512.GreaterThanOrEqual(atAbove, Vector512<double>.Zero), above, s);
        s = Vector512.ConditionalSelect(Vector512.LessThanOrEqual(atBelow, Vector512<double>.Zero), below, s);
        var none = Vector512.ConditionalSelect(Vector512.LessThan(limit, Vector512<double>.Zero), above, below);
        return Vector512.ConditionalSelect(Vector512.Equals(Vector512.Abs(limit), Vector512.Create(double.PositiveInfinity)), none, s);
    }
}

using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;

namespace CureSim.Engine.State;

/// <content>Limits on the degree of cure: the cure rate of a bond within its lot is integrated.</content>
public sealed partial class StateJudge
{
    private const double DensityAtZero = 0.3989422804014327; // 1/√(2π)

    /// <summary>The same with the rate within a lot integrated: scores and the weights of their Φ.</summary>
    private int AddRateScores(Span<double> tails, Span<double> weights, int at, int node, double logE, ReadOnlySpan<double> row, double logRate, double low, double high)
    {
        double logTime = shared.LogTime[node];
        if (rate!.IsFixed)
        {
            double own = logRate + nominalRate;
            double l = lowerCure is null ? low : Math.Max(low, lowerCure.At(own, logTime));
            double h = upperCure is null ? high : Math.Min(high, upperCure.At(own, logTime));
            weights[at] = weights[at + 1] = 1.0;
            return AddScores(tails, at, logE, row, l, h);
        }

        foreach (var (value, weight) in rate.Atoms)
        {
            double own = logRate + value;
            double l = lowerCure is null ? low : Math.Max(low, lowerCure.At(own, logTime));
            double h = upperCure is null ? high : Math.Min(high, upperCure.At(own, logTime));
            weights[at] = weights[at + 1] = weight;
            at = AddScores(tails, at, logE, row, l, h);
        }

        if (rate.Atoms.Count > 0)
        {
            return at;
        }

        if (Table.Spread <= 0.0)
        {
            // Nothing else of a bond's own varies: it fails when its rate is beyond the score at which the limit meets its irradiance.
            double slow = lowerCure is null ? -Certain : KinkOf(lowerCure, logE, logRate, logTime);
            double fast = upperCure is null ? -Certain : -KinkOf(upperCure, logE, logRate, logTime);
            tails[at] = Math.Max(slow, LowerScore(row, low - logE));
            tails[at + 1] = Math.Max(fast, -UpperScore(row, high - logE));
            weights[at] = weights[at + 1] = 1.0;
            return at + 2;
        }

        // ln E at which a bond of the lot's own rate reaches the limit; a bond's κ moves it down by κ (exactly so without induction dose).
        double kinkLow = 8.0, kinkHigh = -8.0;
        if (lowerCure is not null)
        {
            kinkLow = KinkOf(lowerCure, low, logRate, logTime);
            at = AddIntegral(tails, weights, at, lowerCure, 1.0, -8.0, kinkLow, logE, row, logRate, logTime);
            tails[at] = LowerScore(row, low - logE);
            weights[at++] = BlockMath.NormalCdf(-kinkLow);
        }
        else
        {
            tails[at] = LowerScore(row, low - logE);
            weights[at++] = 1.0;
        }

        if (upperCure is not null)
        {
            kinkHigh = KinkOf(upperCure, high, logRate, logTime);
            at = AddIntegral(tails, weights, at, upperCure, -1.0, kinkHigh, 8.0, logE, row, logRate, logTime);
            tails[at] = -UpperScore(row, high - logE);
            weights[at++] = BlockMath.NormalCdf(kinkHigh);
        }
        else
        {
            tails[at] = -UpperScore(row, high - logE);
            weights[at++] = 1.0;
        }

        return at;
    }

    /// <summary>Score of the rate at which the cure limit takes over from the limit on irradiance and dose.</summary>
    private double KinkOf(CureThreshold cure, double limit, double logRate, double logTime)
    {
        if (double.IsInfinity(limit))
        {
            return limit < 0.0 ? 8.0 : -8.0;
        }

        // Threshold falls with the rate; it is a straight line without induction dose, and nearly one with it, so a few secant steps are enough.
        double below = -8.0, above = 8.0;
        double Over(double score) => cure.At(logRate + (rate!.At(score) * exponentOfRate), logTime) - limit;
        double atBelow = Over(below), atAbove = Over(above);
        if (atBelow <= 0.0)
        {
            return -8.0;
        }

        if (atAbove >= 0.0)
        {
            return 8.0;
        }

        double s = 0.0;
        for (int i = 0; i < 60; i++)
        {
            s = (below + (atBelow / (atBelow - atAbove) * (above - below)));
            double value = Over(s);
            if (Math.Abs(value) < 1e-10)
            {
                break;
            }

            if (value > 0.0)
            {
                (below, atBelow) = (s, value);
            }
            else
            {
                (above, atAbove) = (s, value);
            }
        }

        return s;
    }

    private int AddIntegral(
        Span<double> tails, Span<double> weights, int at, CureThreshold cure, double sign, double from, double to, double logE, ReadOnlySpan<double> row, double logRate, double logTime)
    {
        double Tail(ReadOnlySpan<double> r, double score)
        {
            double z = cure.At(logRate + (rate!.At(score) * exponentOfRate), logTime) - logE;
            return sign > 0.0 ? LowerScore(r, z) : -UpperScore(r, z);
        }

        Span<(double Middle, double Radius)> panels = stackalloc (double, double)[RateIntegral.Rules.Length];
        Span<double> density = stackalloc double[RateIntegral.Most];
        double middle = Tail(row, 0.0), slope = 0.5 * (Tail(row, 1.0) - Tail(row, -1.0));
        RateIntegral.Place(middle, slope, from, to, panels);
        int first = at, used = 0;
        for (int p = 0; p < panels.Length; p++)
        {
            if (panels[p].Radius == 0.0)
            {
                continue;
            }

            var (x, w) = RateIntegral.Rules[p];
            for (int i = 0; i < x.Length; i++)
            {
                double s = panels[p].Middle + (panels[p].Radius * x[i]);
                tails[at] = Tail(row, s);
                weights[at++] = panels[p].Radius * w[i];
                density[used++] = -0.5 * s * s;
            }
        }

        BlockMath.Exp(density[..used], density[..used]);
        for (int i = 0; i < used; i++)
        {
            weights[first + i] *= DensityAtZero * density[i];
        }

        return at;
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>E_shared[1 − ∏(1 − qᵢ)] for one group by the trapezoidal rule of one step in every normal score but the innermost.</summary>
internal sealed class PartIntegral
{
    private readonly ReferenceState _state;
    private readonly bool _cureLimited;
    private readonly IReadOnlyList<(double Value, double Weight)> _ripples;
    private readonly IReadOnlyList<(double Value, double Weight)> _errors;
    private readonly IReadOnlyList<(double Value, double Weight)> _rates;
    private readonly (ILogFactor Inner, (double Log, double Weight)[] Outer)[] _bonds;

    public PartIntegral(ReferenceState state, BondFactors[] bonds, bool rippleIsOwn, bool cureLimited, double h)
    {
        (_state, _cureLimited) = (state, cureLimited);
        bool timeMatters = cureLimited || state.Limits.Any(l => l.Response == Response.Dose);
        _errors = timeMatters ? Nodes(state.Parts.TimeError, h) : [(state.Parts.TimeError.Mean, 1)];
        _ripples = rippleIsOwn ? [(0, 1)] : Nodes(state.Parts.Ripple, h);
        _rates = cureLimited ? Nodes(state.Parts.CureRate, h) : [(0, 1)];
        _bonds = [.. bonds.Select(b => Split(b, h))];
    }

    /// <summary>How many probabilities of an innermost factor it takes.</summary>
    public long Evaluations => (long)_errors.Count * _ripples.Count * _rates.Count * _bonds.Sum(b => (long)b.Outer.Length);

    public double Value()
    {
        double sum = 0;
        foreach (var (error, errorWeight) in _errors)
        {
            double seconds = _state.ExposureSeconds(error);
            var byDose = ConformingIrradiance.ByDose(_state, seconds);
            (ConformingIrradiance Range, double Weight)[] ranges = [.. _rates.Select(r =>
                (_cureLimited ? byDose.And(ConformingIrradiance.ByCure(_state, seconds, r.Value)) : byDose, r.Weight))];
            foreach (var (ripple, rippleWeight) in _ripples)
            {
                double any = 0;
                foreach (var bond in _bonds)
                {
                    double q = ranges.Sum(r => r.Weight * Outside(bond, r.Range, ripple));
                    any += q * (1 - any);
                }

                sum += errorWeight * rippleWeight * any;
            }
        }

        return sum;
    }

    /// <summary>Values and weights of a quantity; one node when it does not vary.</summary>
    public static IReadOnlyList<(double Value, double Weight)> Nodes(PartQuantity quantity, double h) => quantity.IsFixed
        ? [(quantity.Mean, 1)]
        : [.. ScoreFactor.Scores(h).Select(s => (quantity.Scale * quantity.Varies.Quantile(BlockMath.NormalCdf(s.Score)), s.Weight))];

    // The widest factor inside; the others multiplied out.
    private static (ILogFactor Inner, (double Log, double Weight)[] Outer) Split(BondFactors bond, double h)
    {
        var inner = bond.Own.MaxBy(f => f.Spread)!;
        (double Log, double Weight)[] outer = [(bond.LogConstant, 1)];
        foreach (var factor in bond.Own.Where(f => f != inner))
        {
            var nodes = factor.Nodes(h);
            outer = [.. outer.SelectMany(o => nodes.Select(n => (o.Log + n.LogFactor, o.Weight * n.Weight)))];
        }

        return (inner, outer);
    }

    private static double Outside((ILogFactor Inner, (double Log, double Weight)[] Outer) bond, ConformingIrradiance range, double ripple)
    {
        if (range.LogLower >= range.LogUpper)
        {
            return 1;
        }

        double q = 0;
        foreach (var (log, weight) in bond.Outer)
        {
            double rest = log + ripple;
            double below = double.IsNegativeInfinity(range.LogLower) ? 0 : bond.Inner.Below(range.LogLower - rest);
            double above = double.IsPositiveInfinity(range.LogUpper) ? 0 : bond.Inner.Above(range.LogUpper - rest);
            q += weight * (below + above);
        }

        return q;
    }
}

using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>E_shared[1 − ∏(1 − qᵢ)] for one group, by rules of one fineness in every normal score but the innermost.</summary>
internal sealed class PartIntegral
{
    // Products of weights below this are left out: all of them together weigh less than 10⁻¹⁵.
    private const double LeastWeight = 1e-23;

    private readonly ReferenceState _state;
    private readonly double _h;
    private readonly bool _rateMatters;
    private readonly IReadOnlyList<(double Value, double Weight)> _ripples;
    private readonly IReadOnlyList<(double Value, double Weight)> _errors;
    private readonly (ILogFactor Inner, (double Log, double Weight)[] Outer)[] _bonds;

    public PartIntegral(ReferenceState state, BondFactors[] bonds, bool rippleIsOwn, double h)
    {
        (_state, _h) = (state, h);
        bool cureLimited = state.Limits.Any(l => l.Response == Response.DegreeOfCure);
        _rateMatters = cureLimited && !state.Parts.CureRate.IsFixed;
        _errors = TimeErrors(state, h, cureInRegime: cureLimited && !_rateMatters);
        _ripples = rippleIsOwn || state.Parts.Ripple.IsFixed
            ? [(rippleIsOwn ? 0 : state.Parts.Ripple.Mean, 1)]
            : [.. ScoreRule.Smooth(h).Select(s => (state.Parts.Ripple.AtScore(s.Score), s.Weight))];
        _bonds = [.. bonds.Select(b => Split(b, h))];
    }

    /// <summary>How many probabilities of an innermost factor it takes at most, about.</summary>
    public long Evaluations =>
        (long)_errors.Count * _ripples.Count * _bonds.Sum(b => (long)b.Outer.Length) * (_rateMatters ? (long)(36 / _h) : 1);

    /// <summary>The exposure's error and its weights; no error varies when only irradiance is limited.</summary>
    public static IReadOnlyList<(double Value, double Weight)> TimeErrors(ReferenceState state, double h, bool cureInRegime)
    {
        var error = state.Parts.TimeError;
        if (error.IsFixed || state.Limits.All(l => l.Response == Response.Irradiance))
        {
            return [(error.Mean, 1)];
        }

        return [.. ScoreRule.Piecewise(h, z => ConformingIrradiance.Of(state, state.ExposureSeconds(error.AtScore(z)), cureInRegime, 0).Regime)
            .Select(s => (error.AtScore(s.Score), s.Weight))];
    }

    public double Value()
    {
        double sum = 0;
        foreach (var (error, errorWeight) in _errors)
        {
            var ranges = Ranges(_state.ExposureSeconds(error));
            foreach (var (ripple, rippleWeight) in _ripples)
            {
                double weight = errorWeight * rippleWeight;
                double any = 0;
                foreach (var bond in _bonds)
                {
                    double q = ranges.Sum(r => r.Weight * Outside(bond, r.Range, ripple, weight * r.Weight));
                    any += q * (1 - any);
                }

                sum += weight * any;
            }
        }

        return sum;
    }

    // Conforming irradiances by cure rate within the lot; smooth between the rates at which another response becomes the limit.
    private (ConformingIrradiance Range, double Weight)[] Ranges(double seconds)
    {
        var rate = _state.Parts.CureRate;
        if (!_rateMatters)
        {
            return [(ConformingIrradiance.Of(_state, seconds, true, rate.Mean), 1)];
        }

        ConformingIrradiance At(double z) => ConformingIrradiance.Of(_state, seconds, true, rate.AtScore(z));
        return [.. ScoreRule.Piecewise(_h, z => At(z).Regime).Select(s => (At(s.Score), s.Weight))];
    }

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

    private static double Outside(
        (ILogFactor Inner, (double Log, double Weight)[] Outer) bond, ConformingIrradiance range, double ripple, double outerWeight)
    {
        if (range.LogLower >= range.LogUpper)
        {
            return 1;
        }

        double q = 0;
        foreach (var (log, weight) in bond.Outer)
        {
            if (weight * outerWeight < LeastWeight)
            {
                continue;
            }

            double rest = log + ripple;
            double below = double.IsNegativeInfinity(range.LogLower) ? 0 : bond.Inner.Below(range.LogLower - rest);
            double above = double.IsPositiveInfinity(range.LogUpper) ? 0 : bond.Inner.Above(range.LogUpper - rest);
            q += weight * (below + above);
        }

        return q;
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Numerics;

namespace CureSim.StatisticalTests.Reference;

/// <summary>p(state) by direct numerical integration over the quantities of level part; slow, for a few states.</summary>
/// <remarks>
/// p = E_shared[1 − ∏(1 − qᵢ)], averaged over groups. Exposure time and the ripple of a shared emitter are shared by the bonds of a part and are
/// integrated outside; of a bond's own quantities the one with the largest spread is taken by its exact probability beyond a level, the
/// others by the trapezoidal rule in their normal scores, which converges exponentially for smooth integrands. The step is refined until it has
/// settled to <see cref="RelativeTolerance"/>; when it does not, it throws rather than answer.
/// </remarks>
public sealed class BruteForceVerdict : IStateVerdict
{
    /// <summary>
    /// Bound on the relative change from the last step to the next finer one. Were convergence only quadratic (it is exponential, unless a
    /// quantity's quantile has an edge), the error would be at most three times it, so below 10⁻⁶.
    /// </summary>
    public const double RelativeTolerance = 3e-7;

    private const double LeastProbability = 1e-14; // below it there is nothing to agree on: scores end at 9
    private const long MostEvaluations = 400_000_000;
    private static readonly double[] Steps = [0.75, 0.5, 0.375, 0.25, 0.125, 0.0625, 0.03125, 0.015625, 0.0078125];

    /// <inheritdoc/>
    public StateVerdict Judge(ReferenceState state)
    {
        double p = Nonconforming(state);
        bool inside = state.NominalInside();
        double? required = state.Scenario.Requalification.RequiredCapability;
        double index = p <= 0 ? double.PositiveInfinity : -BlockMath.NormalQuantile(Math.Min(p, 1 - 1e-16)) / 3;
        return new StateVerdict(required is null ? inside : index >= required, inside, p);
    }

    /// <summary>p(state), good to 10⁻⁶ relative.</summary>
    public static double Nonconforming(ReferenceState state)
    {
        var production = state.Scenario.Production;
        double sum = 0;
        for (int group = 0; group < production.PartsAtOnce; group++)
        {
            sum += OfGroup(state, [.. Enumerable.Range(group * production.SitesPerPart, production.SitesPerPart)]);
        }

        return sum / production.PartsAtOnce;
    }

    private static double OfGroup(ReferenceState state, int[] sites)
    {
        bool rippleIsOwn = state.Scenario.Source.Arrangement == EmitterArrangement.OnePerSite;
        BondFactors[] bonds = [.. sites.Select(s => BondFactors.Of(state, s, rippleIsOwn))];
        if (bonds.Any(b => b.Own.Count == 0))
        {
            return SharedOnly.Nonconforming(state, bonds, rippleIsOwn);
        }

        double last = double.NaN;
        double lastChange = double.NaN;
        foreach (double h in Steps)
        {
            var integral = new PartIntegral(state, bonds, rippleIsOwn, h);
            if (integral.Evaluations > MostEvaluations)
            {
                break;
            }

            double p = integral.Value();
            double change = Math.Abs(p - last);
            if (Math.Min(change, Remaining(change, lastChange)) <= RelativeTolerance * (p + LeastProbability))
            {
                return p;
            }

            (last, lastChange) = (p, change);
        }

        throw new InvalidOperationException("The integral over the quantities of level part has not settled.");
    }

    // What is left to change if changes keep falling as the last two did; only trusted when they fall fast.
    private static double Remaining(double change, double changeBefore)
    {
        double ratio = change / changeBefore;
        return ratio < 0.5 ? change * ratio / (1 - ratio) : double.PositiveInfinity;
    }
}

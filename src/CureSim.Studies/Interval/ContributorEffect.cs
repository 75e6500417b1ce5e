using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Interval;

/// <summary>What a candidate would be if one contributor were perfect.</summary>
/// <param name="Contributor">Which.</param>
/// <param name="Run">The candidate with it perfect.</param>
/// <param name="Reliability">Change of the proportion in tolerance, percentage points, paired.</param>
/// <param name="Ppm">Change of nonconforming parts, ppm, paired.</param>
/// <param name="Verdict">What it then meets.</param>
public sealed record ContributorEffect(Contributor Contributor, CandidateRun Run, Estimate Reliability, Estimate Ppm, CandidateVerdict Verdict);

/// <summary>What binds a candidate: each contributor made perfect in turn, over the same lifetimes.</summary>
/// <param name="Timing">The candidate looked at: the nearest miss, or the first that is too long.</param>
/// <param name="Base">It as it is, with as many lifetimes as the variants.</param>
/// <param name="Effects">Contributors, the one that brings it nearest to meeting all first.</param>
public sealed record Binding(CheckTiming Timing, CandidateVerdict Base, ImmutableArray<ContributorEffect> Effects)
{
    /// <summary>The contributor that limits: with it perfect the candidate comes nearest to meeting all; null when none helps.</summary>
    public ContributorEffect? Limiting => Effects.FirstOrDefault(e => e.Verdict.Shortfall < Base.Shortfall - 1e-12);

    /// <summary>Finds it.</summary>
    public static Binding Of(Scenario cell, IntervalStudy study, CheckTiming timing, Func<CheckTiming, Scenario, CandidateRun> run)
    {
        ArgumentNullException.ThrowIfNull(run);
        var scenario = CheckTimings.With(cell, timing);
        var whole = CandidateVerdict.Of(run(timing, scenario), study);
        var effects = new List<ContributorEffect>();
        foreach (var contributor in Contributor.In(scenario))
        {
            var other = run(timing, contributor.Perfect(scenario));
            effects.Add(new(
                contributor, other, whole.Run.Difference(other, IntervalMeasures.InTolerance), whole.Run.Difference(other, IntervalMeasures.Ppm), CandidateVerdict.Of(other, study)));
        }

        return new(timing, whole, [.. effects.OrderBy(e => e.Verdict.Shortfall).ThenBy(e => -e.Verdict.Reliability)]);
    }
}

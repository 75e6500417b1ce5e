using CureSim.Checks.Comparing;
using CureSim.Engine.State;

namespace CureSim.Checks.States;

/// <summary>The state index Φ⁻¹(1 − p)/3 at known tails of the normal law.</summary>
internal static class StateIndices
{
    // P(Z > 3), P(Z > 4), P(Z > 3.99) and P(Z > 5.01), by SciPy 1.10 norm.sf.
    private static readonly (double Index, double Tail)[] Tails =
        [(1.0, 1.3498980316300933e-3), (4.0 / 3.0, 3.167124183311986e-5), (1.33, 3.3036647629402356e-5), (1.67, 2.7215017728558194e-7)];

    public static IEnumerable<Check> All()
    {
        yield return new(
            "STATE-INDEX", Topics.State, "State index of a state whose p is a known tail of the normal law", "definition of the normal law", Provenances.Recomputed,
            CheckKind.Deterministic, ThroughEngine: false,
            () =>
            {
                var found = new ExactComparison(1e-12, "one evaluation of the normal quantile");
                foreach (var (index, tail) in Tails)
                {
                    found.Add(FormattableString.Invariant($"index at p = {tail:G4}"), index, StateJudge.Index(tail));
                }

                found.Plant("both tails counted", StateJudge.Index(2 * Tails[1].Tail), StateJudge.Index(Tails[1].Tail));
                return found.Outcome();
            });
    }
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Assurance;

/// <summary>The ways in which the parts of a plan are spread, for comparison.</summary>
internal static class SpreadVariants
{
    private static readonly int[] Occasions = [1, 2, 3, 5, 10];

    /// <summary>The plan as stated, then the others, each once.</summary>
    public static ImmutableArray<(string Label, PartTaking Taking)> Of(QualificationPlan plan, Scenario scenario)
    {
        bool lots = scenario.Substrate is { LotSteps: > 0 } || scenario.Cure is { LotSteps: > 0 };
        PartTaking Taking(int setups, int lotCount, int ages) => new(plan.Parts, setups, lotCount, ages, plan.Gate);
        var all = new List<(string, PartTaking)> { ("", Taking(plan.Setups, plan.Lots, plan.EmitterAges)) };
        foreach (int k in Occasions.Where(k => k <= plan.Parts))
        {
            all.Add(("", Taking(k, lots ? k : 1, 1)));
            if (lots && k == 3)
            {
                all.Add(("", Taking(1, k, 1)));
            }
        }

        if (plan.Parts >= 3)
        {
            all.Add(("", Taking(1, 1, 3)));
        }

        return [.. all.Select(a => (Words(a.Item2, lots), a.Item2)).DistinctBy(a => a.Item2)];
    }

    private static string Words(PartTaking t, bool lots)
    {
        static string Some(int n, string word) => n == 1 ? $"1 {word}" : FormattableString.Invariant($"{n} {word}s");
        var words = new List<string>();
        bool oneOfAll = t.Setups == 1 && t.Lots == 1;
        if (t.Setups == t.Lots && lots && !(oneOfAll && t.EmitterAges > 1))
        {
            words.Add($"{Some(t.Setups, "set-up")} and {(oneOfAll ? "lot" : "lots")}");
        }
        else
        {
            words.AddRange(t.Setups > 1 || (t.Lots == 1 && t.EmitterAges == 1) ? [Some(t.Setups, "set-up")] : Array.Empty<string>());
            words.AddRange(t.Lots > 1 ? [Some(t.Lots, "lot")] : Array.Empty<string>());
        }

        words.AddRange(t.EmitterAges > 1 ? [Some(t.EmitterAges, "emitter age")] : Array.Empty<string>());
        return string.Join(", ", words);
    }
}

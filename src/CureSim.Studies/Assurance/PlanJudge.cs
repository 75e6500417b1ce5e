using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Runs;

namespace CureSim.Studies.Assurance;

/// <summary>Judges one plan over all lifetimes of a run.</summary>
internal sealed class PlanJudge
{
    private const string NobodyPassed = "no lifetime passed";
    private const string AllGood = "no lifetime was not good";
    private const string NobodyGood = "no lifetime was good";

    private readonly AcceptanceRule rule;
    private readonly RunResult result;
    private readonly PartTakings takings;
    private readonly double[] fractions;
    private readonly int[] worlds;

    public PlanJudge(AcceptanceRule rule, RunResult result, PartTakings takings)
    {
        this.rule = rule;
        this.result = result;
        this.takings = takings;
        fractions = [.. result.Records.Select(r => r.ConditionalStates > 0.0 ? r.ConditionalParts / r.ConditionalStates : double.NaN)];
        worlds = [.. result.Records.Select(r => r.World)];
    }

    public PlanAssurance Judge(ImmutableArray<(string Label, PartTaking Taking)> variants)
    {
        var rows = ImmutableArray.CreateBuilder<AssuranceRow>();
        foreach (var (label, taking) in variants)
        {
            rows.Add(Row(label, taking, rows.Count == 0));
        }

        if (rule.Plan is { Accept: Acceptance.Attribute, Reading: PartReading.TrueValue })
        {
            rows.Add(OwnMoments());
        }

        var found = new PlanAssurance(rule, rows.ToImmutable(), []);
        var shown = new[] { found.Own, found.MostSpread }.OfType<AssuranceRow>().Where(r => r.Withheld is null);
        return found with { Curves = [.. shown.Select(r => OperatingBins.Of(r.Label, fractions, Passed(r.Taking!), worlds))] };
    }

    private TakenSample[] SamplesOf(PartTaking taking) => [.. takings.Of(takings.Takings.IndexOf(taking))];

    /// <summary>By lifetime: passed or not; null where the horizon did not hold the plan or the cell's own fraction is not known.</summary>
    private bool?[] Passed(PartTaking taking) =>
        [.. SamplesOf(taking).Select((s, i) => s.Parts == taking.Parts && !double.IsNaN(fractions[i]) ? rule.Accepts(s) : (bool?)null)];

    private AssuranceRow Row(string label, PartTaking taking, bool own)
    {
        var samples = SamplesOf(taking);
        bool?[] passed = Passed(taking);
        int done = passed.Count(p => p is not null);
        double share = (double)done / passed.Length;
        if (done == 0 || share < AssuranceStudy.LeastCarriedOut)
        {
            string why = FormattableString.Invariant($"the horizon holds its occasions in {100.0 * share:0.#} % of the lifetimes only");
            return new(label, taking, own, share, why, null, null, null, null, null);
        }

        int[] kept = [.. Enumerable.Range(0, passed.Length).Where(i => passed[i] is not null)];
        bool[] pass = [.. kept.Select(i => passed[i]!.Value)];
        double[] life = [.. kept.Select(i => fractions[i])];
        double[] then = [.. kept.Select(i => samples[i].ProbabilitySum / samples[i].Parts)];
        var shares = new LifetimeShares([.. kept.Select(i => worlds[i])], result.Plan.Scenario.Run.Worlds);
        var horizon = Figures(shares, pass, life);
        Estimate? equivalent = rule.Plan.Accept == Acceptance.Attribute
            ? EquivalentParts.Of([.. life.Where(p => p > rule.Claimed)], horizon.PassIfNotGood.Estimate, rule.Plan.Allowed)
            : null;
        return new(
            label, taking, own, share, null, horizon, Figures(shares, pass, then), equivalent,
            Median(kept.Select(i => samples[i].FirstSeconds)), Median(kept.Select(i => samples[i].LastSeconds)));
    }

    private AssuranceFigures Figures(LifetimeShares shares, bool[] pass, double[] fraction)
    {
        bool[] all = [.. pass.Select(_ => true)], bad = [.. fraction.Select(p => p > rule.Claimed)], good = [.. bad.Select(b => !b)];
        bool[] both = [.. pass.Zip(bad, (p, b) => p && b)];
        return new(
            shares.Counted(pass, all, NobodyPassed), shares.Counted(bad, all, AllGood), shares.Counted(both, all, NobodyPassed),
            shares.Counted(pass, bad, AllGood), shares.Counted(bad, pass, NobodyPassed), shares.Counted(pass, good, NobodyGood));
    }

    /// <summary>What independent parts would show: each from a moment of its own, at random in the cell's life, so that the binomial holds with the cell's own fraction.</summary>
    private AssuranceRow OwnMoments()
    {
        int[] kept = [.. Enumerable.Range(0, fractions.Length).Where(i => !double.IsNaN(fractions[i]))];
        double[] p = [.. kept.Select(i => Math.Clamp(fractions[i], 0.0, 1.0))];
        double[] pass = [.. p.Select(x => OperatingCharacteristic.Attribute(rule.Plan.Parts, rule.Plan.Allowed, x))];
        double[] one = [.. p.Select(_ => 1.0)], bad = [.. p.Select(x => x > rule.Claimed ? 1.0 : 0.0)], good = [.. bad.Select(b => 1.0 - b)];
        double[] both = [.. pass.Zip(bad, (a, b) => a * b)], right = [.. pass.Zip(good, (a, b) => a * b)];
        var shares = new LifetimeShares([.. kept.Select(i => worlds[i])], result.Plan.Scenario.Run.Worlds);
        var figures = new AssuranceFigures(
            shares.Ratio(pass, one, NobodyPassed), shares.Ratio(bad, one, AllGood), shares.Ratio(both, one, NobodyPassed),
            shares.Ratio(both, bad, AllGood), shares.Ratio(both, pass, NobodyPassed), shares.Ratio(right, good, NobodyGood));
        return new("every part at a moment of its own", null, false, (double)kept.Length / fractions.Length, null, figures, null, Estimate.Exact(rule.Plan.Parts), null, null);
    }

    private static double Median(IEnumerable<double> seconds) => SampleQuantile.OfSorted([.. seconds.Order()], 0.5) / 3600.0;
}

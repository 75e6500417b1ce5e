using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Summaries;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Engine.State;
using CureSim.StatisticalTests.Reference;

namespace CureSim.StatisticalTests.Engine;

/// <summary>The block engine's judge of states behind the reference engine's seam, so that both engines judge alike and every other line is compared.</summary>
internal sealed class EngineVerdict(CellModel model) : IStateVerdict
{
    public StateVerdict Judge(ReferenceState state)
    {
        int n = state.Sites.Length;
        var log = new double[n];
        var rows = new double[n * OwnFactorTable.Points];
        for (int i = 0; i < n; i++)
        {
            log[i] = BlockMath.Log(state.NominalIrradiance(i));
            var s = state.Sites[i];
            if (model.Judge.Table.Spread > 0)
            {
                model.Judge.Table.Slice(
                    s.DistanceMetres + state.Parts.Distance.Mean, Math.Sqrt((s.AimXMetres * s.AimXMetres) + (s.AimYMetres * s.AimYMetres)),
                    state.AbsorptionPerMetre, rows.AsSpan(i * OwnFactorTable.Points, OwnFactorTable.Points));
            }
        }

        double rate = state.Scenario.Cure is null ? 0 : BlockMath.Log(state.CureRatePerSecond);
        var dose = state.Limits.FirstOrDefault(l => l.Response == Response.Dose);
        var stated = state.Scenario.Window.For(Response.Dose);
        double shift = dose?.Lower is { } a && stated?.Lower is { } b ? BlockMath.Log(a / b) : 0;
        var (part, _) = model.Judge.Probability(log, rows, rate, shift);
        double margin = model.Judge.NominalMargin(log, rate, shift);
        return new StateVerdict(model.Judge.Verdict(part, margin), margin >= 0, part);
    }
}

/// <summary>Runs one lifetime through both engines and lists every difference.</summary>
internal static class EngineComparison
{
    /// <summary>Rounding differs where the two engines associate products differently; it grows with the steps summed, so 1e-10 and not the last bit.</summary>
    public const double Tolerance = 1e-10;

    /// <summary>Differences of one lifetime; <paramref name="blockCell"/> gives the block engine another cell than the plain one (for planted errors).</summary>
    public static IReadOnlyList<string> Differences(Scenario scenario, int world, uint lifetime, Scenario? blockCell = null)
    {
        var plan = new RunPlan(blockCell ?? scenario);
        var model = plan.ModelOf(world);
        IStateVerdict verdict = new EngineVerdict(model);
        var history = new ReferenceEngine(scenario, verdict) { ToleranceLimit = double.IsNaN(model.ToleranceLimit) ? null : model.ToleranceLimit, LeafSize = SamplingRule.IsStratified(scenario.Run) ? Leaves.Size(scenario.Run.LifetimesPerWorld) : 0 }.Run(world, lifetime);
        var leaf = new CellSummary(plan.Layout, withTimeline: false);
        var record = new LifetimeRecord[1];
        var trace = new LifetimeTrace();
        new LifetimeBlock(model, lifetime, 1, [leaf], new CellSummary(plan.Layout, withTimeline: true), record, trace).Run(CancellationToken.None);
        var found = new List<string>();
        Steps(history, trace, found);
        Bonds(history, trace, found);
        Totals(history, record[0], found);
        return found;
    }

    private static void Steps(LifetimeHistory history, LifetimeTrace trace, List<string> found)
    {
        for (int k = 0; k < history.Steps.Count; k++)
        {
            var a = history.Steps[k];
            var b = trace.Steps[k];
            for (int i = 0; i < a.Sites.Count; i++)
            {
                Compare($"step {k} site {i} burn", a.Sites[i].BurnSeconds, b.Sites[i].BurnSeconds, found);
                Compare($"step {k} site {i} lit", a.Sites[i].LitSeconds, b.Sites[i].LitSeconds, found);
                Compare($"step {k} site {i} exposures", a.Sites[i].Exposures, b.Sites[i].Exposures, found);
                Compare($"step {k} site {i} drive", a.Sites[i].Drive, b.Sites[i].Drive, found);
                Compare($"step {k} site {i} nominal irradiance", a.Sites[i].NominalIrradiance, b.Sites[i].NominalIrradiance, found);
            }

            if (a.Verdict.Qualified != b.Qualified || a.Verdict.NominalInside != b.Inside)
            {
                found.Add($"step {k} verdict: reference {a.Verdict}, engine {b.Qualified} {b.Inside} {b.NonconformingProbability}");
            }
        }
    }

    private static void Bonds(LifetimeHistory history, LifetimeTrace trace, List<string> found)
    {
        var reference = history.Steps.SelectMany(s => s.Parts.Where(p => p.Made).SelectMany(p => p.Bonds.Select(b => (s.Step, p.Number, b)))).ToDictionary(x => (x.Step, x.Number, x.b.Site), x => x.b);
        if (reference.Count != trace.Bonds.Count)
        {
            found.Add($"bonds: reference {reference.Count}, engine {trace.Bonds.Count}");
        }

        foreach (var bond in trace.Bonds)
        {
            if (!reference.TryGetValue((bond.Step, bond.Part, bond.Site), out var r))
            {
                found.Add($"step {bond.Step} part {bond.Part} site {bond.Site}: made by the engine only");
                continue;
            }

            string at = $"step {bond.Step} part {bond.Part} site {bond.Site}";
            Compare(at + " irradiance", r.Irradiance, bond.Irradiance, found);
            Compare(at + " dose", r.Dose, bond.Dose, found);
            if (!double.IsNaN(r.DegreeOfCure))
            {
                Compare(at + " degree of cure", r.DegreeOfCure, bond.DegreeOfCure, found);
            }
        }
    }

    private static void Totals(LifetimeHistory h, LifetimeRecord r, List<string> found)
    {
        Compare("parts made", h.PartsMade, r.PartsMade, found);
        Same("bonds sampled", h.SampledBonds, r.BondsSampled, found);
        Same("bonds nonconforming", h.NonconformingBonds, r.BondsNonconforming, found);
        Same("parts nonconforming", h.NonconformingParts, r.PartsNonconforming, found);
        Compare("suspect parts", h.SuspectParts, r.SuspectParts, found);
        Compare("time out", h.OutOfStateSeconds, r.OutSeconds, found);
        Compare("time out undetected", h.OutOfStateUndetectedSeconds, r.OutUndetectedSeconds, found);
        Compare("time outside window", h.OutOfWindowSeconds, r.OutOfWindowSeconds, found);
        Compare("time outside window undetected", h.OutOfWindowUndetectedSeconds, r.OutOfWindowUndetectedSeconds, found);
        Same("never qualified", h.NeverQualified ? 1 : 0, r.NeverQualified ? 1 : 0, found);
        Same("emitters planned", h.EmittersReplaced[ReplacementReason.Planned], r.EmittersPlanned, found);
        Same("emitters failed", h.EmittersReplaced[ReplacementReason.Failure], r.EmittersFailed, found);
        Same("emitters short", h.EmittersReplaced[ReplacementReason.Short] + h.EmittersReplaced[ReplacementReason.Requalification], r.EmittersShort, found);
        Same("guides planned", h.GuidesReplaced[ReplacementReason.Planned], r.GuidesPlanned, found);
        Same("guides short", h.GuidesReplaced[ReplacementReason.Short] + h.GuidesReplaced[ReplacementReason.Requalification], r.GuidesShort, found);
        Same("checks", h.Of(HistoryKind.Check).Count(), r.Checks, found);
        Compare("last check", h.Of(HistoryKind.Check).Select(e => e.TimeSeconds).LastOrDefault(), r.LastCheckSeconds, found);
        Same("requalify events", h.Of(HistoryKind.RequalifyEvent).Count(), r.RequalifyEvents, found);
        Same("requalifications", h.Of(HistoryKind.Requalified).Count(), r.Requalifications, found);
        Same("excursions", h.Of(HistoryKind.ExcursionStart).Count(), r.Excursions, found);
        Same("disturbances", h.Of(HistoryKind.Arrival).Count(), r.Disturbances, found);
        Compare("time to requalify", h.FirstRequalify?.TimeSeconds ?? -1, double.IsNaN(r.RequalifySeconds) ? -1 : r.RequalifySeconds, found);
        if (h.FirstRequalify is { } first && first.Cause != r.RequalifyCause)
        {
            found.Add($"cause: reference {first.Cause}, engine {r.RequalifyCause}");
        }

        Compare("first excursion", h.FirstExcursion?.StartSeconds ?? -1, double.IsNaN(r.FirstExcursionSeconds) ? -1 : r.FirstExcursionSeconds, found);
        Compare("first detection", h.FirstExcursion?.DetectedSeconds ?? -1, double.IsNaN(r.FirstDetectionSeconds) ? -1 : r.FirstDetectionSeconds, found);
    }

    private static void Same(string what, double a, double b, List<string> found)
    {
        if (a != b)
        {
            found.Add($"{what}: reference {a}, engine {b}");
        }
    }

    private static void Compare(string what, double a, double b, List<string> found)
    {
        if (!(Math.Abs(a - b) <= Tolerance * Math.Max(1e-9, Math.Max(Math.Abs(a), Math.Abs(b)))))
        {
            found.Add($"{what}: reference {a:R}, engine {b:R}");
        }
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;
using CureSim.Engine.State;

namespace CureSim.Studies.ProcessWindow;

/// <summary>The states that the lifetimes of one world pass at one irradiance setting, and their figures at any exposure time.</summary>
internal sealed class PathFigures
{
    private readonly CellModel model;
    private readonly JudgedStates made;
    private readonly JudgedStates checks;
    private readonly int leafSize;

    /// <summary>Follows the paths on this thread.</summary>
    public PathFigures(RunPlan plan, CellModel model, int states, int checkStates, CancellationToken cancel)
    {
        this.model = model;
        leafSize = plan.LeafSize;
        var recording = new StateRecording(plan.Scenario, states, checkStates);
        StatePaths.Follow(plan, model, recording, cancel);
        made = new(recording.Made, model.Judge.Table);
        checks = new(recording.BeforeCheck, model.Judge.Table);
    }

    /// <summary>States judged at every node for the fraction, and before checks.</summary>
    public (int Made, int Checks) Count => (made.Count, checks.Count);

    /// <summary>Figures of one world: margins in state index with their errors, and what batches add to them.</summary>
    public (double Nonconforming, (double Value, double Error) Conforming, (double Value, double Error) State, (double Value, double Error)[] Own, double[] ConformingBatch, double[] StateBatch) At(
        Scenario scenario, WindowCase study)
    {
        StateJudge Judge(Window window) => new(scenario with { Window = window }, model.Values, model.Judge.Table);
        var all = Judge(LimitSide.Filled(scenario.Window));
        var part = new double[Math.Max(made.Count, checks.Count)];
        made.Probabilities(all, part);
        var (p, batches) = Fraction(part);
        double limitScore = -NormalLaw(study.Study.NonconformingLimit), score = -NormalLaw(p);

        // dΦ⁻¹(1 − p)/dp = −1/φ(score); far out, where φ is nothing, so is the error of p.
        double density = Math.Max(1e-300, 0.3989422804014327 * Math.Exp(-0.5 * score * score));
        double[] conforming = [.. batches.Select(b => -b / density / 3.0)];
        checks.Probabilities(all, part);
        var state = FifthPercentile(part, study.Required);
        var own = new (double, double)[study.Limits.Length];
        for (int r = 0; r < own.Length; r++)
        {
            checks.Probabilities(Judge(study.Limits[r].Alone(scenario.Window)), part);
            var (value, error, _) = FifthPercentile(part, study.Required);
            own[r] = (value, error);
        }

        return (p, (Capped((score - limitScore) / 3.0), Root(conforming)), (state.Value, state.Error), own, conforming, state.Batches);
    }

    private static double NormalLaw(double p) => p <= 1e-300 ? -38.0 : p >= 1.0 ? 9.0 : BlockMath.NormalQuantile(p);

    private static double Capped(double margin) => Math.Clamp(margin, NodeFigures.Floor, NodeFigures.Cap);

    private static double Root(double[] batches) => Math.Sqrt(batches.Sum(b => b * b));

    private (double Mean, double[] Batches) Fraction(double[] part)
    {
        var sum = new double[Leaves.Batches];
        var n = new double[Leaves.Batches];
        for (int s = 0; s < made.Count; s++)
        {
            int b = made.Lifetime(s) / leafSize % Leaves.Batches;
            sum[b] += part[s];
            n[b]++;
        }

        double total = n.Sum(), mean = total > 0.0 ? sum.Sum() / total : 0.0;
        return (mean, Contributions(sum, n, mean, total));
    }

    // A ratio's error from its batches: Σ (s_b − m·n_b)² / N² · B/(B − 1).
    private static double[] Contributions(double[] sum, double[] n, double mean, double total)
    {
        int used = n.Count(c => c > 0.0);
        double factor = used > 1 && total > 0.0 ? Math.Sqrt((double)used / (used - 1)) / total : 0.0;
        return [.. sum.Zip(n, (s, c) => (s - (mean * c)) * factor)];
    }

    /// <summary>
    /// 5th percentile over cells and checks of the state index, less what is required. Its error: that of the share below it, by batches, carried over to
    /// the index by the percentiles at the share's two limits (R. S. Woodruff, JASA 47 (1952) 635).
    /// </summary>
    private (double Value, double Error, double[] Batches) FifthPercentile(double[] part, double required)
    {
        const double P = 0.05;
        int count = checks.Count;
        var index = new double[count];
        for (int s = 0; s < count; s++)
        {
            index[s] = Math.Clamp(StateJudge.Index(part[s]), NodeFigures.Floor, NodeFigures.Cap);
        }

        double[] sorted = [.. index];
        Array.Sort(sorted);
        double value = SampleQuantile.OfSorted(sorted, P);
        var below = new double[Leaves.Batches];
        var n = new double[Leaves.Batches];
        for (int s = 0; s < count; s++)
        {
            int b = checks.Lifetime(s) / leafSize % Leaves.Batches;
            below[b] += index[s] <= value ? 1.0 : 0.0;
            n[b]++;
        }

        double[] batches = Contributions(below, n, below.Sum() / count, count);
        double shareError = Math.Max(Root(batches), 0.5 / count);
        double low = SampleQuantile.OfSorted(sorted, Math.Max(0.0, P - (1.96 * shareError))), high = SampleQuantile.OfSorted(sorted, Math.Min(1.0, P + (1.96 * shareError)));
        double error = (high - low) / 3.92;
        double slope = -error / shareError;
        return (value - required, error, [.. batches.Select(b => b * slope)]);
    }
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Studies.Assurance;
using CureSim.Studies.Plans;

namespace CureSim.Studies.ProcessWindow;

/// <summary>How the operating rectangle lies to one limit of the scenario's window, at a nominal bond.</summary>
/// <param name="Limit">The limit.</param>
/// <param name="Nearest">The nominal response at the corner nearest to the limit, SI.</param>
/// <param name="Room">ln of the ratio to the limit, positive inside (degree of cure: difference).</param>
/// <param name="Verdict">Inside, touching or beyond.</param>
public sealed record LimitComparison(LimitSide Limit, double Nearest, double Room, string Verdict);

/// <summary>The process-window study: map, rectangle, set-point, and what a qualification needs.</summary>
/// <param name="Map">The map.</param>
/// <param name="Size">How much was kept and judged.</param>
/// <param name="Spreads">What halving each spread does at the set-point, the largest first.</param>
/// <param name="TwoSpreads">The two that do most halved together, when no single one opens an empty window.</param>
/// <param name="Comparisons">The rectangle against the scenario's limits.</param>
/// <param name="Challenges">Challenge points.</param>
/// <param name="Plans">Sample sizes and tolerance factors for the risk.</param>
/// <param name="Assurance">What the two usual plans pass at the set-point; null when left out.</param>
/// <param name="Actions">Action limits; null when there are none.</param>
/// <param name="Triggers">Triggers of requalification.</param>
public sealed record WindowResult(
    WindowMap Map, MapSize Size, ImmutableArray<SpreadEffect> Spreads, (SpreadEffect First, SpreadEffect Second, double Margin)? TwoSpreads, ImmutableArray<LimitComparison> Comparisons,
    ImmutableArray<ChallengePoint> Challenges, SamplePlanTables Plans, AssuranceStudy? Assurance, ActionLimits? Actions, ImmutableArray<RequalificationTrigger> Triggers)
{
    /// <summary>Parts of the measured plan.</summary>
    public const int MeasuredParts = 30;

    private const int AssuranceLifetimes = 512;

    /// <summary>True when a reading of the set-point itself would lie beyond the action limits: room to the limits is largest where the reading's guard band leaves none.</summary>
    public bool SetPointIsActedOn => Actions?.Rows[0] is { Lower: { } low, Upper: { } high } && (Map.SetPoint.X < low || Map.SetPoint.X > high);

    /// <summary>Of the judged settings inside the rectangle and between the action limits the one with the largest smallest margin; null when there are no action limits, or none lies there.</summary>
    public NodeFigures? WithinReadings => Actions?.Rows[0] is { Lower: { } low, Upper: { } high } && Map.Rectangle is { } r
        ? Map.Nodes.SelectMany(c => c).Where(n => !n.Interpolated && n.X >= low && n.X <= high && n.Y > r.FromY && n.Y < r.ToY).MaxBy(WindowMap.Unfavourable) : null;

    /// <summary>Runs the study.</summary>
    /// <param name="study">What the map is of.</param>
    /// <param name="threads">Threads; results do not depend on it.</param>
    /// <param name="progress">Told what is done and how far it is, 0 … 1.</param>
    /// <param name="mapOnly">True: the map without the qualification plan.</param>
    /// <param name="everyNode">True: every node is judged, not only those near contours.</param>
    /// <param name="cancel">Stops it.</param>
    public static WindowResult Run(WindowCase study, int threads, Action<string, double>? progress = null, bool mapOnly = false, bool everyNode = false, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(study);
        var size = MapSize.For(study.Cell.Run);
        double share = mapOnly ? 1.0 : 0.7;
        var map = WindowMap.Of(study, size, threads, (done, of) => progress?.Invoke("map", share * done / of), everyNode, cancel);
        var (confidence, reliability) = WindowStudy.PairOf(study.Study.Risk);
        var plans = SamplePlanTables.Of(confidence, reliability, MeasuredParts);
        if (mapOnly)
        {
            return new(map, size, [], null, Compare(map), [], plans, null, null, []);
        }

        progress?.Invoke("spreads halved", share);
        var (alone, two) = Opening.Of(map, size, threads, cancel);
        progress?.Invoke("challenge points", 0.8);
        var challenges = ChallengePoint.Of(map, SamplePlan.SuccessRun(confidence, reliability));
        progress?.Invoke("assurance", 0.85);
        var assurance = AssuranceStudy.Run(new RunPlan(ForAssurance(study, map, confidence, reliability)), threads, cancel: cancel);
        progress?.Invoke("requalification triggers", 0.95);
        return new(map, size, alone, two, Compare(map), challenges, plans, assurance, ActionLimits.Of(map), RequalificationTriggers.Of(map, threads, cancel));
    }

    private static Scenario ForAssurance(WindowCase study, WindowMap map, double confidence, double reliability)
    {
        var cell = study.At(map.SetPoint.X, map.SetPoint.Y);
        QualificationPlan Plan(string name, Acceptance accept, int parts) =>
            new(name, accept, parts, 0, confidence, reliability, double.NaN, 1, 1, 1, QualificationGate.AfterCheck, PartReading.TrueValue, GoodOver.Horizon);
        return cell with
        {
            Qualification = [Plan("success run", Acceptance.Attribute, (int)SamplePlan.SuccessRun(confidence, reliability)), Plan("tolerance interval", Acceptance.ToleranceInterval, MeasuredParts)],
            Run = cell.Run with { Sampling = Sampling.Independent, LifetimesPerWorld = Math.Min(AssuranceLifetimes, cell.Run.LifetimesPerWorld), PartsAStep = 1, Precision = null },
        };
    }

    private static ImmutableArray<LimitComparison> Compare(WindowMap map)
    {
        if (map.Rectangle is not { } r || !map.Case.IsUsual)
        {
            return [];
        }

        var list = ImmutableArray.CreateBuilder<LimitComparison>();
        (double X, double Y)[] corners = [(r.FromX, r.FromY), (r.FromX, r.ToY), (r.ToX, r.FromY), (r.ToX, r.ToY)];
        foreach (var limit in map.Case.Limits)
        {
            double Value((double X, double Y) c)
            {
                var cell = map.Case.At(c.X, c.Y);
                var plan = new RunPlan(WindowCase.Path(cell));
                double e = Math.Exp(NominalState.LogIrradiance(cell, plan.FirstWorld)[0]), t = c.Y + cell.Exposure.Offset.Mean + cell.Exposure.Error.Mean;
                return limit.Response switch
                {
                    Response.Irradiance => e,
                    Response.Dose => e * t,
                    _ => cell.Cure is { } k ? Core.Model.Bond.CureModel.Degree(k.Maximum, k.RateLot.Varies.Quantile(0.5) * Math.Exp(k.RatePart.Mean), k.Exponent.Mean, k.InductionDose.Mean, e, t) : 0.0,
                };
            }

            double nearest = limit.IsUpper ? corners.Max(Value) : corners.Min(Value);
            double room = limit.Response == Response.DegreeOfCure ? nearest - limit.Value : Math.Log(nearest / limit.Value);
            room = limit.IsUpper ? -room : room;

            // Two per cent of a response is within what a setting is read to.
            list.Add(new(limit, nearest, room, room > 0.02 ? "inside" : room >= -0.02 ? "touching" : "beyond"));
        }

        return list.ToImmutable();
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Core.Summaries;
using CureSim.Studies.Runs;

namespace CureSim.Reports.Runs;

/// <summary>The class of ISO 22514-2 that the dose follows over time, and what the simulation knows that makes it so.</summary>
/// <param name="Model">The class.</param>
/// <param name="Reason">One sentence.</param>
/// <remarks>
/// Location: it moves when what is not drawn anew for each part makes at least 5 % of the variance of ln dose; a cause is named from 1 %. Ageing, fouling and
/// losses move it systematically; set-ups, lots, disturbances, wander and settings (which rest on readings) at random.
/// Dispersion: errors of a part are factors, so the momentary standard deviation follows the location; it moves when the location's relative movement exceeds 10 %.
/// Shape: normal when both arms (X50 to X0.135 and to X99.865) are 3σ within 10 %. All four bounds are common practice, no source.
/// </remarks>
public sealed record TimeModelFinding(TimeDependentModel Model, string Reason)
{
    private const double LeastMovement = 0.05;
    private const double LeastCause = 0.01;
    private const double LeastDispersionMovement = 0.10;

    /// <summary>Names the class of a run's dose; null when the dose does not vary.</summary>
    public static TimeModelFinding? Of(RunAnalysis run)
    {
        ArgumentNullException.ThrowIfNull(run);
        var shares = run.Whole.Summary.Shares;
        if (!(shares.Variance > 0.0))
        {
            return null;
        }

        double Share(VarianceSource source) => shares.Covariance(source) / shares.Variance;
        double moving = Math.Max(0.0, 1.0 - Share(VarianceSource.Part));
        var (systematic, random) = Causes(run.Scenario, Share);
        var location = moving < LeastMovement || (systematic.Count == 0 && random.Count == 0) ? LocationMovement.Constant
            : random.Count == 0 ? LocationMovement.Systematic
            : systematic.Count == 0 ? LocationMovement.Random
            : LocationMovement.SystematicAndRandom;

        double movement = Math.Sqrt(shares.Variance * moving);
        bool constant = location == LocationMovement.Constant || movement < LeastDispersionMovement;
        var momentary = MomentaryShape.Of(run.Scenario);
        bool normal = momentary?.IsNormal ?? true;
        var model = TimeDependentModel.Of(location, constant, normal, ResultIsNormal(run.Whole));

        string moves = location == LocationMovement.Constant
            ? $"{Percent(1.0 - moving)} of the variance of ln dose is drawn anew for each part"
            : $"{Percent(moving)} of the variance of ln dose moves with " + string.Join(" and ", new[] { Named(systematic, "systematically"), Named(random, "at random") }.Where(t => t.Length > 0));
        string spread = constant ? "" : $"; the location's own {Percent(movement)} carries the momentary spread along";
        string shape = momentary is null ? "" : normal ? "; at one moment the dose is normal" : "; at one moment the dose is not normal";
        string caveat = model.Caveat is { } c ? $"; {c}" : "";
        return new(model, moves + spread + shape + caveat);
    }

    private static (List<string> Systematic, List<string> Random) Causes(Scenario cell, Func<VarianceSource, double> share)
    {
        List<string> systematic = [], random = [];
        void Add(List<string> list, bool applies, VarianceSource source, string words)
        {
            if (applies && share(source) >= LeastCause)
            {
                list.Add(words);
            }
        }

        bool loop = cell.Loop.Kind != LoopKind.None;
        Add(systematic, !loop, VarianceSource.SourceAsHeld, "ageing of the emitter");
        Add(systematic, loop && (cell.Loop.SensorDrift.IsVarying || cell.Loop.SensorDrift.Mean != 0.0), VarianceSource.SourceAsHeld, "drift of the sensor");
        Add(systematic, cell.Source.BandAgeing.Mean > 0.0, VarianceSource.SourceAsHeld, "ageing of the band");
        Add(systematic, cell.Guide?.Loss.Mean > 0.0, VarianceSource.Guide, "loss of the guide");
        Add(systematic, cell.Tip.Fouling.Mean > 0.0, VarianceSource.Fouling, "fouling");
        Add(random, cell.Checks is not null, VarianceSource.SourceAsHeld, "settings by the radiometer");
        Add(random, cell.Source.Wander is not null, VarianceSource.SourceAsHeld, "wander of the output");
        Add(random, true, VarianceSource.Setup, "set-ups");
        Add(random, true, VarianceSource.SubstrateLot, "substrate lots");
        Add(random, true, VarianceSource.Disturbances, "disturbances");
        return (systematic, random);
    }

    private static bool ResultIsNormal(RunPiece whole)
    {
        double sd = RunMeasures.All(whole, 0).StandardDeviation * RunMeasures.UnitOf(Response.Dose).PerSi;
        return RunMeasures.Quantile(whole, 0, PercentileCapability.LowProbability) is { } low
            && RunMeasures.Quantile(whole, 0, 0.5) is { } middle
            && RunMeasures.Quantile(whole, 0, PercentileCapability.HighProbability) is { } high
            && MomentaryShape.Agrees((middle - low) / (3.0 * sd))
            && MomentaryShape.Agrees((high - middle) / (3.0 * sd));
    }

    private static string Named(List<string> causes, string how) =>
        causes.Count == 0 ? "" : $"{(causes.Count == 1 ? causes[0] : string.Join(", ", causes[..^1]) + " and " + causes[^1])} ({how})";

    private static string Percent(double share) => Text.Format.PerCent(Math.Round(share, 2));
}

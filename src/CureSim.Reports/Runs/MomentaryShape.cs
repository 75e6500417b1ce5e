using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Reports.Runs;

/// <summary>Shape of the dose at one moment of one cell: many parts of the first step of the first lifetime, at one site.</summary>
/// <param name="Parts">Parts sampled.</param>
/// <param name="LowerArm">(X50 − X0.135)/3σ; 1 for a normal distribution.</param>
/// <param name="UpperArm">(X99.865 − X50)/3σ; 1 for a normal distribution.</param>
/// <param name="RelativeSpread">σ over the mean.</param>
public sealed record MomentaryShape(int Parts, double LowerArm, double UpperArm, double RelativeSpread)
{
    /// <summary>Parts drawn: the outer quantiles then rest on 44 parts each, which is an error of about 3 % of an arm of a normal distribution.</summary>
    private const int PartCount = 32768;

    /// <summary>True when both arms agree with a normal distribution as closely as the two methods of capability must agree.</summary>
    public bool IsNormal => Agrees(LowerArm) && Agrees(UpperArm);

    /// <summary>Draws the parts; null when the dose does not vary from part to part.</summary>
    public static MomentaryShape? Of(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var moment = scenario with
        {
            Production = scenario.Production with { StepCount = 1 },
            Window = new Window([], false),
            Run = new RunSettings(1, 1, PartCount, scenario.Run.Seed),
        };
        double[] doses = [.. LocalRunner.Trace(new RunPlan(moment), 0, 0).Bonds.Where(b => b.Site == 0).Select(b => b.Dose)];
        if (doses.Length < PercentileInterval.LeastForOuterQuantiles)
        {
            return null;
        }

        Array.Sort(doses);
        var moments = SampleMoments.Of(doses);
        double sd = moments.StandardDeviation ?? 0.0;
        if (!(sd > 1e-9 * moments.Mean))
        {
            return null;
        }

        double Quantile(double p) => SampleQuantile.OfSorted(doses, p, QuantileType.Type6);
        double middle = Quantile(0.5);
        return new(
            doses.Length,
            (middle - Quantile(PercentileCapability.LowProbability)) / (3.0 * sd),
            (Quantile(PercentileCapability.HighProbability) - middle) / (3.0 * sd),
            sd / moments.Mean);
    }

    /// <summary>True when an arm of a distribution is that of a normal one within <see cref="PercentileCapability.LargestAgreement"/>.</summary>
    public static bool Agrees(double arm) => Math.Abs(arm - 1.0) <= PercentileCapability.LargestAgreement;
}

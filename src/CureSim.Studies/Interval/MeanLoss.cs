using CureSim.Core.Cell;
using CureSim.Core.Model.Ageing;

namespace CureSim.Studies.Interval;

/// <summary>What a check is bound to find on average: losses of ln output in one interval that nothing between checks makes good.</summary>
/// <param name="Fouling">Of the tips.</param>
/// <param name="Guide">Of the guide.</param>
/// <param name="Ageing">Of the emitter, where no loop holds it.</param>
/// <param name="Sensor">Of the loop's sensor.</param>
public sealed record MeanLoss(double Fouling, double Guide, double Ageing, double Sensor)
{
    /// <summary>The largest of them with its remedy.</summary>
    public (string Name, double Loss, string Remedy) Largest => new[]
    {
        ("fouling", Fouling, "clean the tips between checks, or shield them"),
        ("guide loss", Guide, "replace the guide earlier, or re-set by the loop between checks"),
        ("ageing", Ageing, "hold the output by a loop, or check more closely while the emitter falls fastest (checks.after_replacement)"),
        ("sensor drift", Sensor, "have the loop's sensor stabilised or replaced"),
    }.MaxBy(l => l.Item2);

    /// <summary>Losses in one interval, every quantity at its mean.</summary>
    public static MeanLoss Of(Scenario cell, double intervalSeconds)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var p = cell.Production;
        double exposures = p.PartsPerSecond * intervalSeconds / p.PartsAtOnce, exposed = exposures * cell.Exposure.SettingSeconds;
        double burn = cell.Source.Lit == LitDuring.WholeShift ? intervalSeconds : exposed;
        double life = Math.Min(cell.Source.ReplaceAtBurnSeconds ?? double.PositiveInfinity, p.HorizonSeconds * burn / intervalSeconds);
        bool loop = cell.Loop.Kind != LoopKind.None;
        return new(
            cell.Tip.Fouling.Mean * exposures,
            cell.Guide is { } guide ? guide.Loss.Mean * (guide.Lit == LitDuring.Exposures ? exposed : burn) : 0.0,
            loop ? 0.0 : -Math.Log(Output(cell.Source, life)) * Math.Min(1.0, burn / life),
            loop ? Math.Abs(cell.Loop.SensorDrift.Mean) * intervalSeconds : 0.0);
    }

    // Relative output with the parameters at their means, averaged over candidate laws by weight.
    private static double Output(Source source, double burn)
    {
        double sum = 0.0;
        foreach (var alternative in source.Ageing)
        {
            var model = new AgeingModel(alternative.Law);
            double[] p = [.. model.Parameters.Select(q => q.Mean), 0.0, 0.0];
            sum += alternative.Weight * model.Output(burn, p[0], p[1], p[2]);
        }

        return sum / source.Ageing.Sum(a => a.Weight);
    }
}

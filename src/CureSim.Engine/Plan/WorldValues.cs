using CureSim.Core.Cell;
using CureSim.Core.Model.Ageing;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>What is fixed in one world: the draw of everything unknown.</summary>
public sealed class WorldValues
{
    private readonly Scenario scenario;
    private readonly RunPlan plan;
    private readonly CorrelatedScores? correlated;
    private readonly double[] scores = [];

    /// <summary>Draws the unknowns of world <paramref name="world"/>.</summary>
    public WorldValues(RunPlan plan, int world)
    {
        ArgumentNullException.ThrowIfNull(plan);
        this.plan = plan;
        scenario = plan.Scenario;
        World = world;
        AgeingForm = ChooseForm();
        Ageing = new AgeingModel(scenario.Source.Ageing[AgeingForm].Law);
        if (!scenario.UnknownCorrelations.IsEmpty)
        {
            correlated = CorrelatedScores.Of(scenario.UnknownCorrelations)
                ?? throw new ArgumentException("The correlations of unknowns cannot hold together.", nameof(scenario));
            scores = [.. correlated.Paths.Select(p => BlockMath.NormalQuantile(Uniform(StreamOf(p))))];
        }
    }

    /// <summary>Number of the world.</summary>
    public int World { get; }

    /// <summary>The ageing law of this world.</summary>
    public AgeingModel Ageing { get; }

    /// <summary>Which of the scenario's ageing laws that is, from 0.</summary>
    public int AgeingForm { get; }

    /// <summary>Standard normal score of the draw behind the unknown part of a quantity; scores of different quantities are independent, also where their factors are correlated.</summary>
    public double Score(Quantity quantity) => BlockMath.NormalQuantile(Uniform(StreamOf(quantity)));

    /// <summary>The world's factor on a quantity: 1 when nothing of it is unknown.</summary>
    public double Factor(Quantity quantity) =>
        quantity.Unknown is null
            ? 1.0
            : quantity.Unknown.Quantile(correlated?.Paths.IndexOf(quantity.Path) is { } place and >= 0 ? BlockMath.NormalCdf(correlated.At(place, scores)) : Uniform(StreamOf(quantity.Path)));

    /// <summary>Stream of what is unknown of a quantity.</summary>
    public static StreamKey StreamOf(Quantity quantity) => StreamOf(quantity.Path);

    /// <summary>Stream of the form of the ageing law.</summary>
    public static StreamKey Form { get; } = StreamKey.Of(DrawDomain.World, "source.ageing.form");

    /// <summary>Value of a quantity that does not vary within a world.</summary>
    public double Fixed(Quantity quantity) => quantity.Varies.Mean * Factor(quantity);

    private static StreamKey StreamOf(string path) => StreamKey.Of(DrawDomain.World, path + ".unknown");

    private double Uniform(StreamKey stream) => plan.Redraw?.Leading(World, 0, stream, 0) ?? Draw.Uniform(plan.SeedOf(stream), World, 0, stream, 0);

    private int ChooseForm()
    {
        var candidates = scenario.Source.Ageing;
        if (candidates.Length == 1)
        {
            return 0;
        }

        double total = candidates.Sum(c => c.Weight);
        double at = total * Uniform(Form);
        for (int i = 0; i < candidates.Length; i++)
        {
            at -= candidates[i].Weight;
            if (at < 0.0)
            {
                return i;
            }
        }

        return candidates.Length - 1;
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Model.Ageing;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>What is fixed in one world: the draw of everything unknown.</summary>
public sealed class WorldValues
{
    private readonly Scenario scenario;
    private readonly ulong seed;
    private readonly CorrelatedScores? correlated;
    private readonly double[] scores = [];

    /// <summary>Draws the unknowns of world <paramref name="world"/>.</summary>
    public WorldValues(Scenario scenario, ulong seed, int world)
    {
        this.scenario = scenario;
        this.seed = seed;
        World = world;
        Ageing = new AgeingModel(ChooseLaw());
        if (!scenario.UnknownCorrelations.IsEmpty)
        {
            correlated = CorrelatedScores.Of(scenario.UnknownCorrelations)
                ?? throw new ArgumentException("The correlations of unknowns cannot hold together.", nameof(scenario));
            scores = [.. correlated.Paths.Select(p => BlockMath.NormalQuantile(Uniform(p)))];
        }
    }

    /// <summary>Number of the world.</summary>
    public int World { get; }

    /// <summary>The ageing law of this world.</summary>
    public AgeingModel Ageing { get; }

    /// <summary>The world's factor on a quantity: 1 when nothing of it is unknown.</summary>
    public double Factor(Quantity quantity) =>
        quantity.Unknown is null
            ? 1.0
            : quantity.Unknown.Quantile(correlated?.Paths.IndexOf(quantity.Path) is { } place and >= 0 ? BlockMath.NormalCdf(correlated.At(place, scores)) : Uniform(quantity.Path));

    /// <summary>Value of a quantity that does not vary within a world.</summary>
    public double Fixed(Quantity quantity) => quantity.Varies.Mean * Factor(quantity);

    private double Uniform(string path) => Draw.Uniform(seed, World, 0, StreamKey.Of(DrawDomain.World, path + ".unknown"), 0);

    private AgeingLaw ChooseLaw()
    {
        var candidates = scenario.Source.Ageing;
        if (candidates.Length == 1)
        {
            return candidates[0].Law;
        }

        double total = candidates.Sum(c => c.Weight);
        double at = total * Draw.Uniform(seed, World, 0, StreamKey.Of(DrawDomain.World, "source.ageing.form"), 0);
        foreach (var candidate in candidates)
        {
            at -= candidate.Weight;
            if (at < 0.0)
            {
                return candidate.Law;
            }
        }

        return candidates[^1].Law;
    }
}

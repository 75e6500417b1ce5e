using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;

namespace CureSim.Studies.Drivers;

/// <summary>What is done to an input.</summary>
public enum VariantAction
{
    /// <summary>Its spread is halved about its mean; a disturbance arrives half as often.</summary>
    Halved,

    /// <summary>Its mean is one of its own standard deviations higher.</summary>
    Higher,

    /// <summary>Its mean is one of its own standard deviations lower.</summary>
    Lower,
}

/// <summary>The scenario with one input changed; everything else draws alike.</summary>
/// <param name="Input">Name of the input, as in the indices.</param>
/// <param name="Level">Its level.</param>
/// <param name="Action">What is done to it.</param>
/// <param name="Scenario">The changed scenario.</param>
public sealed record Variant(string Input, string Level, VariantAction Action, Scenario Scenario)
{
    /// <summary>The action in words.</summary>
    public string Words => Action switch
    {
        VariantAction.Halved when Level == DriverGroup.WordOf(Core.Cell.Level.Arrival) => "half as often",
        VariantAction.Halved when Level == "check" => "half as often",
        VariantAction.Halved => "spread halved",
        VariantAction.Higher => "mean one sd higher",
        _ => "mean one sd lower",
    };

    /// <summary>All variants of a scenario.</summary>
    public static ImmutableArray<Variant> Of(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var all = ImmutableArray.CreateBuilder<Variant>();
        foreach (var q in ScenarioQuantities.Of(scenario).DistinctBy(q => q.Path))
        {
            if (q.IsVarying && !scenario.Disturbances.Any(d => DriverGroup.IsOf(d, q)))
            {
                // The direction of a part's aim is drawn in another way when its mean is not 0, so nothing would be drawn alike.
                bool turns = q.Path == scenario.Fixture.AimPart.Path;
                Add(all, scenario, q, q.Path, DriverGroup.WordOf(q.Level), q.Varies, (x, v) => x with { Varies = v }, !turns);
            }

            if (q.Unknown is { } unknown)
            {
                Add(all, scenario, q, q.Path + " (unknown)", DriverGroup.WordOf(Core.Cell.Level.World), unknown, (x, v) => x with { Unknown = v }, true);
            }
        }

        if (scenario.Source.Wander is { } wander)
        {
            var halved = wander with { LogSpread = wander.LogSpread with { Varies = Times(wander.LogSpread.Varies, 0.5) } };
            all.Add(new("source.wander", DriverGroup.WordOf(Core.Cell.Level.Emitter), VariantAction.Halved, scenario with { Source = scenario.Source with { Wander = halved } }));
        }

        foreach (var d in scenario.Disturbances)
        {
            var rarer = d with { Rate = d.Rate with { Varies = Times(d.Rate.Varies, 0.5) }, ByCheck = d.ByCheck / 2.0, ByCleaning = d.ByCleaning / 2.0, ByReplacement = d.ByReplacement / 2.0 };
            all.Add(new(d.Path, DriverGroup.WordOf(Core.Cell.Level.Arrival), VariantAction.Halved, scenario with { Disturbances = scenario.Disturbances.Replace(d, rarer) }));
        }

        if (scenario.Checks is { } c && (c.MissedProbability > 0.0 || c.LateProbability > 0.0))
        {
            var better = c with { MissedProbability = c.MissedProbability / 2.0, LateProbability = c.LateProbability / 2.0 };
            all.Add(new("checks (missed and late)", "check", VariantAction.Halved, scenario with { Checks = better }));
        }

        return all.ToImmutable();
    }

    private static void Add(
        ImmutableArray<Variant>.Builder all, Scenario scenario, Quantity q, string name, string level, IDistribution x, Func<Quantity, IDistribution, Quantity> with, bool moves)
    {
        void One(VariantAction action, IDistribution? changed)
        {
            if (changed is not null)
            {
                all.Add(new(name, level, action, ScenarioQuantities.Map(scenario, other => other.Path == q.Path ? with(other, changed) : other)));
            }
        }

        One(VariantAction.Halved, Moved.Halved(x));
        if (moves)
        {
            One(VariantAction.Higher, Moved.ByDeviations(x, 1.0));
            One(VariantAction.Lower, Moved.ByDeviations(x, -1.0));
        }
    }

    private static IDistribution Times(IDistribution x, double factor) => x is FixedValue f ? new FixedValue(f.Value * factor) : new ScaledDistribution(x, factor);
}

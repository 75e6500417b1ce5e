using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Random;
using CureSim.Engine.Plan;

namespace CureSim.Studies.Drivers;

/// <summary>Inputs whose draws are exchanged together.</summary>
/// <param name="Name">Path in the scenario, or the name of a level.</param>
/// <param name="Level">Level in words.</param>
/// <param name="Streams">Every stream of its draws.</param>
/// <param name="IsWorld">True when any of them is drawn once a world.</param>
public sealed record DriverGroup(string Name, string Level, ImmutableArray<StreamKey> Streams, bool IsWorld)
{
    /// <summary>Name of the time at which the bond is made, as an input.</summary>
    public const string Time = "time of the bond";

    /// <summary>Stream of the time at which the bond is made.</summary>
    public static StreamKey TimeStream { get; } = StreamKey.Of(DrawDomain.Cell, "drivers.time");

    private static readonly string[] Suffixes = ["", ".x", ".y", ".radius", ".direction"];

    /// <summary>True for the time of the bond, which no draw of the engine hangs on.</summary>
    public bool IsTime => Name == Time;

    /// <summary>Word of a level.</summary>
    public static string WordOf(Level level) => level switch
    {
        Core.Cell.Level.AdhesiveLot => "adhesive lot",
        Core.Cell.Level.SubstrateLot => "substrate lot",
        Core.Cell.Level.Setup => "set-up",
        _ => level.ToString().ToLowerInvariant(),
    };

    /// <summary>Groups by quantity: together they hold every draw that a dose can hang on, each once. The time of the bond comes last.</summary>
    public static ImmutableArray<DriverGroup> ByQuantity(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var groups = ImmutableArray.CreateBuilder<DriverGroup>();
        foreach (var q in ScenarioQuantities.Of(scenario).DistinctBy(q => q.Path))
        {
            if (q.IsVarying && !scenario.Disturbances.Any(d => IsOf(d, q)))
            {
                groups.Add(new(q.Path, WordOf(q.Level), StreamsOf(q, scenario), false));
            }

            // Unknowns whose errors go together are one input: groups must be independent of each other for indices to share out a variance.
            if (q.Unknown is not null && !groups.Any(g => g.Name == NameOfUnknown(q, scenario)))
            {
                var together = Correlated(scenario, q.Path);
                groups.Add(new(NameOfUnknown(q, scenario), WordOf(Core.Cell.Level.World),
                    [.. ScenarioQuantities.Of(scenario).DistinctBy(o => o.Path).Where(o => o.Unknown is not null && together.Contains(o.Path)).Select(WorldValues.StreamOf)], true));
            }
        }

        if (scenario.Source.Wander is not null)
        {
            groups.Add(new("source.wander", WordOf(Core.Cell.Level.Emitter), At(scenario, DrawDomain.Cell, "source.wander.start", "source.wander.half"), false));
        }

        if (scenario.Source.Ageing.Length > 1)
        {
            groups.Add(new("source.ageing (form unknown)", WordOf(Core.Cell.Level.World), [WorldValues.Form], true));
        }

        foreach (var d in scenario.Disturbances)
        {
            string[] own = [".gap", ".aim_direction", ".by_check", ".by_cleaning", ".by_replacement"];
            var streams = At(scenario, DrawDomain.Cell, [.. own.Select(s => d.Path + s)])
                .Concat(ScenarioQuantities.Of(scenario).Where(q => IsOf(d, q)).SelectMany(q => StreamsOf(q, scenario)));
            groups.Add(new(d.Path, WordOf(Core.Cell.Level.Arrival), [.. streams], false));
        }

        if (scenario.Checks is { } checks && (checks.MissedProbability > 0.0 || checks.LateProbability > 0.0))
        {
            groups.Add(new("checks (missed and late)", "check", At(scenario, DrawDomain.Cell, "checks.missed", "checks.late"), false));
        }

        groups.Add(new(Time, "time", [TimeStream], false));
        return groups.ToImmutable();
    }

    /// <summary>Name of the input that the unknown part of a quantity belongs to: its own, or that of all unknowns it is correlated with.</summary>
    public static string NameOfUnknown(Quantity q, Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(q);
        ArgumentNullException.ThrowIfNull(scenario);
        var together = Correlated(scenario, q.Path);
        if (together.Count == 1)
        {
            return q.Path + " (unknown)";
        }

        // Siblings are named by their last word: source.ageing.two_stage.early_part + late_time.
        string parent = q.Path[..(q.Path.LastIndexOf('.') + 1)];
        return string.Join(" + ", together.Select((p, i) => i > 0 && parent.Length > 0 && together.Min!.StartsWith(parent, StringComparison.Ordinal) && p.StartsWith(parent, StringComparison.Ordinal) ? p[parent.Length..] : p)) + " (unknown, correlated)";
    }

    /// <summary>Paths of unknowns that hang together with one by correlations, itself among them, in ordinal order.</summary>
    public static SortedSet<string> Correlated(Scenario scenario, string path)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var all = new SortedSet<string>(StringComparer.Ordinal) { path };
        for (int before = 0; before < all.Count;)
        {
            before = all.Count;
            foreach (var c in scenario.UnknownCorrelations.Where(c => c.Coefficient != 0.0 && (all.Contains(c.First) || all.Contains(c.Second))).ToArray())
            {
                all.Add(c.First);
                all.Add(c.Second);
            }
        }

        return all;
    }

    /// <summary>The same groups gathered by level.</summary>
    public static ImmutableArray<DriverGroup> ByLevel(IEnumerable<DriverGroup> quantities) =>
        [.. quantities.GroupBy(g => g.Level).Select(g => new DriverGroup(g.Key, g.Key, [.. g.SelectMany(x => x.Streams)], g.Any(x => x.IsWorld)))];

    /// <summary>True when a quantity belongs to a disturbance.</summary>
    internal static bool IsOf(Disturbance d, Quantity q) => q == d.Rate || q == d.Factor || q == d.DistanceShift || q == d.AimShift;

    private static ImmutableArray<StreamKey> StreamsOf(Quantity q, Scenario scenario) =>
        At(scenario, q.Level == Core.Cell.Level.Part ? DrawDomain.Part : DrawDomain.Cell, [.. Suffixes.Select(s => q.Path + s)]);

    // Every place at which a stream of that name could stand: what no draw uses does no harm.
    private static ImmutableArray<StreamKey> At(Scenario scenario, DrawDomain domain, params string[] paths) =>
        [.. paths.SelectMany(p => Enumerable.Range(-1, scenario.Production.SiteCount + 1).Select(site => StreamKey.Of(domain, p, site)))];
}

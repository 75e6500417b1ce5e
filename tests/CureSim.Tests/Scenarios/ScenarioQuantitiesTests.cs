using System.Collections;
using CureSim.Core.Cell;
using CureSim.Scenarios;

namespace CureSim.Tests.Scenarios;

/// <summary>The list of a cell's uncertain inputs against what a walk through all its records finds.</summary>
public class ScenarioQuantitiesTests
{
    public static TheoryData<string> Files() => [.. Directory.GetFiles(ScenarioFiles.Shipped, "*.yaml").Append(Path.Combine(ScenarioFiles.Data, "every-key.yaml"))];

    [Theory]
    [MemberData(nameof(Files))]
    public void Quantities_AreAllThatTheRecordsHold(string file)
    {
        // Prices are no inputs of a lifetime.
        var cell = ScenarioFiles.Good(ScenarioReader.Read(file)).Cell! with { Costs = null, Ownership = null };
        var found = Held(cell).ToHashSet(ReferenceEqualityComparer.Instance);
        Assert.NotEmpty(found);
        Assert.Equal(found.Cast<Quantity>().Select(q => q.Path).Order(), ScenarioQuantities.Of(cell).Select(q => q.Path).Order());
    }

    private static IEnumerable<object> Held(object? part) => part switch
    {
        Quantity quantity => [quantity],
        null or string => [],
        IEnumerable list => list.Cast<object>().SelectMany(Held),
        _ when part.GetType() is { IsClass: true, Namespace: "CureSim.Core.Cell" } =>
            part.GetType().GetProperties().Where(p => p.GetIndexParameters().Length == 0 && p.Name != "EqualityContract").SelectMany(p => Held(p.GetValue(part))),
        _ => [],
    };
}

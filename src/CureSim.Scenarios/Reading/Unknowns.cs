using System.Collections;
using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Scenarios;

/// <summary>Finds all quantities of a cell.</summary>
internal static class Unknowns
{
    /// <summary>Paths of everything that is unknown, in the order of the cell.</summary>
    public static ImmutableArray<string> Of(Scenario cell) =>
    [
        .. cell.Source.Ageing.Length > 1 ? new[] { "source.ageing" } : [],
        .. Quantities(cell).Where(q => q.Unknown is not null).Select(q => q.Path),
    ];

    /// <summary>All quantities, by walking through the records of the cell.</summary>
    public static IEnumerable<Quantity> Quantities(object part)
    {
        foreach (var property in part.GetType().GetProperties().Where(p => p.GetIndexParameters().Length == 0 && p.Name != "EqualityContract"))
        {
            object? value = property.GetValue(part);
            IEnumerable<Quantity> found = value switch
            {
                Quantity quantity => [quantity],
                null or string => [],
                IEnumerable list => list.Cast<object>().Where(IsPart).SelectMany(Quantities),
                _ when IsPart(value) => Quantities(value),
                _ => [],
            };
            foreach (Quantity quantity in found)
            {
                yield return quantity;
            }
        }
    }

    private static bool IsPart(object value) => value.GetType() is { IsClass: true, Namespace: "CureSim.Core.Cell" };
}

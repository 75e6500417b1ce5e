using System.Collections;
using System.Collections.Immutable;
using System.Reflection;
using CureSim.Core.Cell;

namespace CureSim.Studies.Ownership;

/// <summary>The quantities of a scenario, found and replaced by walking through its records.</summary>
public static class ScenarioQuantities
{
    /// <summary>All quantities of the cell that are unknown, without costs and the ownership block.</summary>
    public static ImmutableArray<Quantity> Unknown(Scenario cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        return [.. In(cell with { Costs = null, Ownership = null }).Where(q => q.Unknown is not null).DistinctBy(q => q.Path)];
    }

    /// <summary>The scenario with the quantities of a path replaced.</summary>
    public static Scenario With(Scenario cell, string path, Func<Quantity, Quantity> change)
    {
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(change);
        return (Scenario)Changed(cell, q => q.Path == path ? change(q) : q);
    }

    private static IEnumerable<Quantity> In(object? part) => part switch
    {
        Quantity quantity => [quantity],
        null or string => [],
        IEnumerable list => list.Cast<object>().SelectMany(In),
        _ when IsPart(part) => Properties(part).SelectMany(p => In(p.GetValue(part))),
        _ => [],
    };

    private static object Changed(object part, Func<Quantity, Quantity> change)
    {
        if (part is Quantity quantity)
        {
            return change(quantity);
        }

        // A record's own copy, then each part that came out different is put in its place.
        object? copy = null;
        foreach (var property in Properties(part).Where(p => p.CanWrite))
        {
            object? value = property.GetValue(part), changed = value switch
            {
                Quantity or not null when value is not IEnumerable && IsPart(value) => Changed(value, change),
                IEnumerable list when IsListOfParts(value.GetType()) => ChangedList(list, value, change),
                _ => value,
            };
            if (changed is not null && !ReferenceEquals(changed, value) && !changed.Equals(value))
            {
                copy ??= part.GetType().GetMethod("<Clone>$")!.Invoke(part, null)!;
                property.SetValue(copy, changed);
            }
        }

        return copy ?? part;
    }

    private static object ChangedList(IEnumerable list, object value, Func<Quantity, Quantity> change)
    {
        object[] before = [.. list.Cast<object>()], after = [.. before.Select(p => Changed(p, change))];
        if (before.Zip(after).All(z => ReferenceEquals(z.First, z.Second)))
        {
            return value;
        }

        var element = value.GetType().GetGenericArguments()[0];
        var array = Array.CreateInstance(element, after.Length);
        after.CopyTo(array, 0);
        return typeof(ImmutableArray).GetMethods().Single(m => m.Name == "Create" && m.GetParameters() is [{ ParameterType.IsArray: true }] && m.IsGenericMethod)
            .MakeGenericMethod(element).Invoke(null, [array])!;
    }

    private static bool IsListOfParts(Type type) =>
        type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>) && type.GetGenericArguments()[0].Namespace == "CureSim.Core.Cell" && type.GetGenericArguments()[0].IsClass;

    private static IEnumerable<PropertyInfo> Properties(object part) =>
        part.GetType().GetProperties().Where(p => p.GetIndexParameters().Length == 0 && p.Name != "EqualityContract");

    private static bool IsPart(object value) => value.GetType() is { IsClass: true, Namespace: "CureSim.Core.Cell" };
}

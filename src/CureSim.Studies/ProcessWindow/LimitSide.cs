using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Studies.ProcessWindow;

/// <summary>One limit of one response: what a margin belongs to.</summary>
/// <param name="Response">The response.</param>
/// <param name="IsUpper">True for the upper limit.</param>
/// <param name="Value">SI.</param>
public sealed record LimitSide(Response Response, bool IsUpper, double Value)
{
    /// <summary>Name in tables, such as "dose_lower".</summary>
    public string Id => $"{WordOf(Response).Replace(' ', '_')}_{(IsUpper ? "upper" : "lower")}";

    /// <summary>Name in words, such as "the lower limit of dose".</summary>
    public string Name => $"{(IsUpper ? "upper" : "lower")} limit of {WordOf(Response)}";

    /// <summary>All limits of a window.</summary>
    public static ImmutableArray<LimitSide> Of(Window window) =>
    [
        .. window.Limits.SelectMany(l => new[]
        {
            l.Lower is { } lower ? new LimitSide(l.Response, false, lower) : null,
            l.Upper is { } upper ? new LimitSide(l.Response, true, upper) : null,
        }).OfType<LimitSide>(),
    ];

    /// <summary>The window with this limit alone.</summary>
    public Window Alone(Window window) => Filled(window with { Limits = [new SpecificationLimits(Response, IsUpper ? null : Value, null, IsUpper ? Value : null)] });

    /// <summary>The same window with limits on irradiance that nothing reaches where it has none.</summary>
    /// <remarks>
    /// So exposure time is never folded into a bond's own factors, whose table then serves every exposure time and every selection of limits.
    /// 10^±300 W/m² is beyond any light and within a double's logarithm.
    /// </remarks>
    public static Window Filled(Window window)
    {
        var irradiance = window.For(Response.Irradiance);
        var filled = new SpecificationLimits(Response.Irradiance, irradiance?.Lower ?? 1e-300, irradiance?.Target, irradiance?.Upper ?? 1e300);
        return window with { Limits = [filled, .. window.Limits.Where(l => l.Response != Response.Irradiance)] };
    }

    /// <summary>A response in words.</summary>
    public static string WordOf(Response response) => response switch
    {
        Response.Irradiance => "irradiance",
        Response.Dose => "dose",
        _ => "degree of cure",
    };
}

using CureSim.Core.Cell;
using CureSim.Core.Random;

namespace CureSim.Engine.Plan;

/// <summary>A disturbance of one world with its streams. Places are sites, or the whole cell as the only place.</summary>
public sealed class DisturbanceModel
{
    /// <summary>Arrival numbers of disturbances introduced by an intervention start here, apart from those that arrive by themselves.</summary>
    public const long Introduced = 1L << 40;

    internal DisturbanceModel(Disturbance disturbance, CellModel model, int siteCount)
    {
        Disturbance = disturbance;
        int[] places = disturbance.WholeCell ? [StreamKey.WholeCell] : [.. Enumerable.Range(0, siteCount)];
        PlaceCount = places.Length;
        var (values, plan, table) = (model.Values, model.Plan, model.Plan.Streams);
        RatePerSecond = values.Fixed(disturbance.Rate);
        Factor = disturbance.Factor is { } f ? new(f, values, plan, places, points: model.Points) : null;
        Distance = disturbance.DistanceShift is { } d ? new(d, values, plan, places, points: model.Points) : null;
        Aim = disturbance.AimShift is { } a ? new(a, values, plan, places, points: model.Points) : null;
        StreamKey[] Streams(string suffix) => [.. places.Select(p => table.Of(DrawDomain.Cell, disturbance.Path + suffix, p))];
        Gap = Streams(".gap");
        AimDirection = Streams(".aim_direction");
        ByCheck = Streams(".by_check");
        ByCleaning = Streams(".by_cleaning");
        ByReplacement = disturbance.WholeCell
            ? [.. Enumerable.Range(0, model.EmitterCount).Select(e => table.Of(DrawDomain.Cell, disturbance.Path + ".by_replacement", model.EmitterPlace(e)))]
            : Streams(".by_replacement");
    }

    internal Disturbance Disturbance { get; }

    internal int PlaceCount { get; }

    internal double RatePerSecond { get; }

    internal LevelDraw? Factor { get; }

    internal LevelDraw? Distance { get; }

    internal LevelDraw? Aim { get; }

    internal StreamKey[] Gap { get; }

    internal StreamKey[] AimDirection { get; }

    internal StreamKey[] ByCheck { get; }

    internal StreamKey[] ByCleaning { get; }

    /// <summary>By the site harmed; for a disturbance of the whole cell by the emitter (or guide) replaced.</summary>
    internal StreamKey[] ByReplacement { get; }
}

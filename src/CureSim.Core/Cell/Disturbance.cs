namespace CureSim.Core.Cell;

/// <summary>What puts a disturbance right.</summary>
public enum ClearedBy
{
    /// <summary>The fixture check of the check routine.</summary>
    FixtureCheck,

    /// <summary>A check whose as-found verdict is beyond the action limit, so that the cause is looked for.</summary>
    BadIndication,

    /// <summary>A new guide.</summary>
    GuideReplacement,

    /// <summary>Nothing: it stays.</summary>
    Nothing,
}

/// <summary>A knock, kink or slip that arrives at random and changes the path or the geometry until it is put right.</summary>
/// <param name="Name">The user's name for it.</param>
/// <param name="Path">Place in the scenario ("disturbances.&lt;name&gt;"); names its streams.</param>
/// <param name="WholeCell">True: one arrival moves all sites; false: each site has arrivals of its own.</param>
/// <param name="Rate">Arrivals per second; level world (fixed or unknown).</param>
/// <param name="Factor">Factor on transmission, &gt; 0; level arrival; null when it does not act on transmission.</param>
/// <param name="DistanceShift">Shift of distance, m; level arrival; or null.</param>
/// <param name="AimShift">Shift of aim, m, in a uniform direction drawn with the arrival; level arrival; or null.</param>
/// <param name="ClearedBy">What puts it right.</param>
/// <param name="ByCheck">Probability that a check introduces one (a site's own, or the cell's when WholeCell).</param>
/// <param name="ByCleaning">Probability that a cleaning introduces one.</param>
/// <param name="ByReplacement">Probability that a replacement introduces one.</param>
public sealed record Disturbance(
    string Name,
    string Path,
    bool WholeCell,
    Quantity Rate,
    Quantity? Factor,
    Quantity? DistanceShift,
    Quantity? AimShift,
    ClearedBy ClearedBy,
    double ByCheck,
    double ByCleaning,
    double ByReplacement)
{
    /// <summary>True when it moves the fixture, so that putting it right is a new set-up.</summary>
    public bool MovesFixture => DistanceShift is not null || AimShift is not null;
}

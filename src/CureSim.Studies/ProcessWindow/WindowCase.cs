using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Engine.Plan;
using CureSim.Engine.State;

namespace CureSim.Studies.ProcessWindow;

/// <summary>What a map is of: the cell, its two settings, what is required and what is held while they change.</summary>
public sealed class WindowCase
{
    /// <summary>Required state index of a cell that requires none.</summary>
    public const double UsualRequired = 1.33;

    private readonly RunPlan[] knotPlans;
    private readonly OwnFactorTable[] tables;

    /// <summary>Prepares a case.</summary>
    /// <param name="cell">The cell as the user wrote it.</param>
    /// <param name="x">The setting along the map; null: irradiance.</param>
    /// <param name="y">The setting up the map; null: exposure time.</param>
    /// <param name="at">The cell at two settings, in the units of the axes; null with the usual axes.</param>
    public WindowCase(Scenario cell, WindowAxis? x = null, WindowAxis? y = null, Func<double, double, Scenario>? at = null)
    {
        ArgumentNullException.ThrowIfNull(cell);
        Study = cell.WindowStudy ?? WindowStudy.Usual;
        Required = cell.Requalification.RequiredCapability ?? UsualRequired;
        Limits = LimitSide.Of(cell.Window);
        var plan = new RunPlan(cell);
        if (cell.Checks is { ToleranceLimit: null } checks)
        {
            ToleranceHeld = plan.FirstWorld.ToleranceLimit;
            cell = cell with { Checks = checks with { ToleranceLimit = plan.FirstWorld.ToleranceLimit } };
        }

        Cell = cell;
        IsUsual = at is null;
        X = x ?? FoundAxes.Irradiance(cell, plan);
        Y = y ?? FoundAxes.Time(cell, plan, X);
        this.at = at;
        TimesOfPath = IsUsual && PathFollowsTime(cell) ? [Y.From, Math.Sqrt(Y.From * Y.To), Y.To] : [cell.Exposure.SettingSeconds];
        knotPlans = IsUsual ? [.. TimesOfPath.Select(t => new RunPlan(Path(cell with { Exposure = cell.Exposure with { SettingSeconds = t } })))] : [];
        tables = IsUsual ? [.. Enumerable.Range(0, cell.Run.Worlds).Select(w => knotPlans[0].ModelOf(w).Judge.Table)] : [];
    }

    private readonly Func<double, double, Scenario>? at;

    /// <summary>The cell; a tolerance limit that was to be found from the window is held at its value.</summary>
    public Scenario Cell { get; }

    /// <summary>What is asked.</summary>
    public WindowStudy Study { get; }

    /// <summary>Required state index.</summary>
    public double Required { get; }

    /// <summary>Limits, each with a margin of its own.</summary>
    public ImmutableArray<LimitSide> Limits { get; }

    /// <summary>The setting along the map.</summary>
    public WindowAxis X { get; }

    /// <summary>The setting up the map.</summary>
    public WindowAxis Y { get; }

    /// <summary>True for irradiance setting and exposure time.</summary>
    public bool IsUsual { get; }

    /// <summary>Exposure times at which paths are followed, s: more than one when lit hours follow the exposure; results between two are blended.</summary>
    public ImmutableArray<double> TimesOfPath { get; }

    /// <summary>Tolerance limit that is held, found at the cell's own settings; null when the scenario states it.</summary>
    public double? ToleranceHeld { get; }

    /// <summary>Units that errors rest on: batches in one world, else worlds.</summary>
    public int Worlds => Cell.Run.Worlds;

    /// <summary>The cell at two settings.</summary>
    public Scenario At(double x, double y) => at is not null ? at(x, y) : Set(Cell, x, y);

    /// <summary>The cell's own settings in the units of the axes; null with settings of the user's choice.</summary>
    public (double X, double Y)? Own => IsUsual ? (SettingOf(Cell), Cell.Exposure.SettingSeconds) : null;

    /// <summary>Irradiance setting (W/cm²), or drive, of a cell.</summary>
    public static double SettingOf(Scenario cell) => cell.Checks is { } c ? c.TargetWattsPerSquareMetre / 1e4 : cell.Source.Drive;

    /// <summary>A cell with another irradiance setting and exposure time.</summary>
    public static Scenario Set(Scenario cell, double x, double y)
    {
        var set = cell with { Exposure = cell.Exposure with { SettingSeconds = y } };
        return set.Checks is { } checks
            ? set with { Checks = checks with { TargetWattsPerSquareMetre = x * 1e4 } }
            : set with { Source = set.Source with { Drive = x } };
    }

    /// <summary>The cell whose paths are followed: what nobody can see (the state) triggers nothing.</summary>
    /// <remarks>
    /// The index of a state depends on exposure time and limits; requalification for a state that is lost or left would make a path of its own at every node.
    /// What instruments show (out of tolerance, saturation, replacement) still acts.
    /// </remarks>
    public static Scenario Path(Scenario cell) => cell with
    {
        Requalification = cell.Requalification with
        {
            RequiredCapability = null, On = [.. cell.Requalification.On.Where(e => e is not (RequalifyEvent.StateLost or RequalifyEvent.StateLeft))],
        },
        Window = LimitSide.Filled(cell.Window),
        Qualification = [],
        Run = cell.Run with { PartsAStep = 1, Precision = null },
    };

    /// <summary>The path at an X and a number of <see cref="TimesOfPath"/>, made ready.</summary>
    internal RunPlan PathPlan(double x, int knot) => new(Path(Set(Cell, x, TimesOfPath[knot])), knotPlans[knot]);

    /// <summary>A world of such a path.</summary>
    internal CellModel ModelOf(RunPlan plan, int world) => world == 0 ? plan.FirstWorld : new CellModel(plan, world, null, tables[world]);

    /// <summary>Whether hours of light, and so ageing, follow the exposure time.</summary>
    public static bool PathFollowsTime(Scenario cell) =>
        cell.Source.Lit == LitDuring.Exposures
        || (cell.Guide is { Lit: LitDuring.Exposures } guide && (guide.ReplaceAtLitSeconds is not null || guide.Loss.Varies is not FixedValue { Value: 0.0 }));
}

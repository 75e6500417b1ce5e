using System.Collections.Immutable;
using CureSim.Core.Cell;

namespace CureSim.Studies.Interval;

/// <summary>A fault that is simulated alone.</summary>
internal sealed record Fault(string Id, string Name, Func<Scenario, bool> IsIn, Func<Scenario, Scenario, Scenario> Put)
{
    // Wide enough that a passive check never acts.
    private const double Never = 1e9;

    public static ImmutableArray<Fault> All { get; } =
    [
        new("ageing", "emitter ageing", _ => true, (quiet, cell) => quiet with { Source = quiet.Source with { Ageing = cell.Source.Ageing, BandAgeing = cell.Source.BandAgeing } }),
        new("guide", "guide loss", c => c.Guide is { Loss: var q } && Moves(q), (quiet, cell) => quiet with { Guide = quiet.Guide! with { Loss = cell.Guide!.Loss } }),
        new("fouling", "tip fouling", c => Moves(c.Tip.Fouling), (quiet, cell) => quiet with { Tip = cell.Tip }),
        new("knock", "fixture knocked (distance or aim)", c => c.Disturbances.Any(d => d.MovesFixture), (quiet, cell) => quiet with { Disturbances = [.. cell.Disturbances.Where(d => d.MovesFixture).Select(Free)] }),
        new("kink", "transmission lost at once (kink)", c => c.Disturbances.Any(d => !d.MovesFixture), (quiet, cell) => quiet with { Disturbances = [.. cell.Disturbances.Where(d => !d.MovesFixture).Select(Free)] }),
        new("sensor", "drift of the loop's sensor", c => c.Loop.Kind != LoopKind.None && Moves(c.Loop.SensorDrift), (quiet, cell) => quiet with { Loop = quiet.Loop with { SensorDrift = cell.Loop.SensorDrift } }),
        new("meter", "drift of the radiometer", c => Moves(c.Radiometer.Drift), (quiet, cell) => quiet with
        {
            // It acts only through setting, so the output is set at every check; the radiometer is recalibrated as written.
            Radiometer = quiet.Radiometer with { Drift = cell.Radiometer.Drift }, Checks = quiet.Checks! with { AdjustLimit = 0.0 },
        }),
        new("lot", "a lot that differs", c => c.Substrate is { Absorption.IsFixed: false } || c.Cure is { RateLot.IsFixed: false }, (quiet, cell) => quiet with { Substrate = cell.Substrate, Cure = cell.Cure }),
    ];

    /// <summary>The cell with this fault only, watched and not touched.</summary>
    public Scenario Alone(Scenario cell, CheckTiming timing)
    {
        var quiet = cell with
        {
            Source = Contributor.Steady(cell.Source) with { ReplaceAtBurnSeconds = null, Irradiance = Contributor.Fixed(cell.Source.Irradiance, cell.Source.Irradiance.Varies.Quantile(0.5)) },
            Loop = cell.Loop with { SensorDrift = Contributor.Fixed(cell.Loop.SensorDrift, 0.0) },
            Guide = cell.Guide is { } g ? Contributor.Lossless(g) with { ReplaceAtLitSeconds = null } : null,
            Tip = cell.Tip with { Fouling = Contributor.Fixed(cell.Tip.Fouling, 0.0) },
            Fixture = Contributor.SetUpExactly(cell.Fixture),
            Disturbances = [],
            Radiometer = Contributor.Exact(cell.Radiometer) with { NewMeterSteps = 0 },
            Downtimes = new(0.0, 0.0, 0.0, 0.0, 0.0),
            Now = null,
            Requalification = cell.Requalification with { On = [], RecordOnly = true },
            Run = cell.Run with { PartsAStep = 1 },
            Checks = cell.Checks! with
            {
                IntervalSteps = timing.IntervalSteps, AdjustLimit = Never, ActionLimit = Never, ToleranceLimit = Never, Clean = false, FixtureCheck = false, WhenShort = WhenShort.Nothing,
                MissedProbability = 0.0, LateProbability = 0.0, AfterReplacement = null, WhenDriveAbove = null, WhenAlarm = false, Tries = 1, LegLimit = null,
            },
        };
        return Put(Contributor.Alike(quiet), cell);
    }

    /// <summary>Why a control sees nothing of it, in words.</summary>
    public string Blind(string control, Scenario cell)
    {
        bool loop = cell.Loop.Kind != LoopKind.None, adapter = cell.Checks!.MeasuredAt == MeasuredAt.TipAdapter;
        return (control, Id) switch
        {
            ("check", "knock") when adapter => "the tip adapter sees neither distance nor aim",
            ("check", "ageing") when loop => "the loop makes it good until it is saturated",
            ("check", "lot") => "the radiometer reads light, not the part that it cures",
            ("check", "meter") => "it is read by the meter that drifts, and set wrong by it",
            ("check", _) => "it stays within the action limit at the place of the reading",
            ("fixture check", _) => "it looks at the fixture only",
            ("alarm" or "drive reading", "sensor") => "the loop copies its sensor's drift and believes it",
            ("alarm" or "drive reading", "guide" or "fouling" or "kink" or "knock" or "lot") => "the sensor sits before it in the light path",
            ("alarm" or "drive reading", "meter") => "the drive follows the setting by little",
            ("alarm", "ageing") => "the loop is not saturated within the horizon",
            ("recalibration", _) => "it is about the meter only",
            ("incoming test", _) => "it tests lots only",
            _ => "nothing of it reaches this control",
        };
    }

    /// <summary>What to keep in mind where a control does see it; null for nothing.</summary>
    public string? Caution(string control) => (control, Id) switch
    {
        ("drive reading", "sensor") => "the drive moves, but nothing tells it from ageing",
        ("incoming test", _) => "assumed: every lot is tested before use",
        _ => null,
    };

    private static bool Moves(Quantity q) => !q.IsFixed || q.Mean != 0.0;

    private static Disturbance Free(Disturbance d) => d with { ByCheck = 0.0, ByCleaning = 0.0, ByReplacement = 0.0 };
}

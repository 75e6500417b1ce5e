using System.Collections.Immutable;

namespace CureSim.Core.Cell;

/// <summary>How emitters and sites belong together.</summary>
public enum EmitterArrangement
{
    /// <summary>One emitter, one guide with a leg a site, one drive.</summary>
    Shared,

    /// <summary>A head, guide (if any), drive and age of its own at every site.</summary>
    OnePerSite,
}

/// <summary>When the emitter (or the light in the guide) is on.</summary>
public enum LitDuring
{
    /// <summary>Lit for the whole shift, behind a shutter between exposures.</summary>
    WholeShift,

    /// <summary>Lit during exposures only.</summary>
    Exposures,
}

/// <summary>The light source: what it emits new, how it ages, when it fails and when it is replaced.</summary>
/// <param name="Kind">Name of the kind whose defaults were used, e.g. "arc lamp"; no numbers hang on it here.</param>
/// <param name="Arrangement">Shared emitter or one a site.</param>
/// <param name="Lit">When the emitter burns.</param>
/// <param name="IgnitionSeconds">Burn time added by each ignition.</param>
/// <param name="IgnitionsPerShift">Ignitions in a shift; spread evenly over production time.</param>
/// <param name="Irradiance">E0, W/m²: full drive, new emitter, new clean optics, at the reference distance; level emitter.</param>
/// <param name="StatedLegs">Number of legs for which Irradiance is stated; n legs see E0·StatedLegs/n. Used for a shared emitter only.</param>
/// <param name="Ageing">Ageing law; more than one when the form itself is unknown (drawn once a world by weight).</param>
/// <param name="Wander">Slow wander of output, or null.</param>
/// <param name="FailureBurn">Burn seconds at sudden failure; level emitter; null when emitters do not fail suddenly.</param>
/// <param name="ReplaceAtBurnSeconds">Planned replacement at these burn seconds, or null.</param>
/// <param name="DriveStep">Grid of the drive as a ratio of full drive; 0 is continuous.</param>
/// <param name="DriveMinimum">Lowest drive, ratio.</param>
/// <param name="Drive">Drive without checks, ratio (a scenario with checks sets its own).</param>
/// <param name="BandAgeing">γ ≥ 0, 1/s of burn time: useful band lost beyond what sensor and radiometer read; level emitter.</param>
public sealed record Source(
    string Kind,
    EmitterArrangement Arrangement,
    LitDuring Lit,
    double IgnitionSeconds,
    double IgnitionsPerShift,
    Quantity Irradiance,
    int StatedLegs,
    ImmutableArray<AgeingAlternative> Ageing,
    Wander? Wander,
    Quantity? FailureBurn,
    double? ReplaceAtBurnSeconds,
    double DriveStep,
    double DriveMinimum,
    double Drive,
    Quantity BandAgeing);

/// <summary>One candidate ageing law and its weight among the candidates (weights need not sum to one).</summary>
public sealed record AgeingAlternative(double Weight, AgeingLaw Law);

/// <summary>Slow wander w = exp(x − σ²/2), x a stationary Ornstein–Uhlenbeck process; level emitter.</summary>
/// <param name="LogSpread">σ, standard deviation of ln w.</param>
/// <param name="Time">Correlation time, s.</param>
/// <param name="SeenBySensor">True when it happens before the loop's sensor.</param>
public sealed record Wander(Quantity LogSpread, Quantity Time, bool SeenBySensor);

/// <summary>Relative output r(h) at burn time h, r(0) = 1.</summary>
public abstract record AgeingLaw;

/// <summary>r = exp(−h/τ). TimeConstant in s, level emitter.</summary>
public sealed record ExponentialAgeing(Quantity TimeConstant) : AgeingLaw;

/// <summary>r = f·exp(−h/τ1) + (1 − f)·exp(−h/τ2). EarlyPart a ratio in [0, 1], times in s; level emitter.</summary>
public sealed record TwoStageAgeing(Quantity EarlyPart, Quantity EarlyTime, Quantity LateTime) : AgeingLaw;

/// <summary>r = exp(−(h/τ)^β). TimeConstant in s, Shape a number; level emitter.</summary>
public sealed record StretchedAgeing(Quantity TimeConstant, Quantity Shape) : AgeingLaw;

/// <summary>r by monotone cubic interpolation of a table (first row h = 0, output 1; flat after the last row); h is divided by HoursScale.</summary>
public sealed record TableAgeing(ImmutableArray<double> BurnSeconds, ImmutableArray<double> Output, Quantity HoursScale) : AgeingLaw;

using CureSim.Core.Cell;

namespace CureSim.Checks.Fixtures;

/// <content>Source, loop, guide and tip.</content>
public sealed partial class ScenarioBuilder
{
    /// <summary>A head, guide (if any) and drive of its own at every site.</summary>
    public ScenarioBuilder OneEmitterASite() => Source(s => s with { Arrangement = EmitterArrangement.OnePerSite });

    /// <summary>When the emitter burns; ignitions add burn time evenly over the shift.</summary>
    public ScenarioBuilder Lit(LitDuring lit, double ignitionSeconds = 0, double ignitionsPerShift = 0) =>
        Source(s => s with { Lit = lit, IgnitionSeconds = ignitionSeconds, IgnitionsPerShift = ignitionsPerShift });

    /// <summary>E0, W/m².</summary>
    public ScenarioBuilder Irradiance(Uncertain e0, int? statedLegs = null)
    {
        _statedLegs = statedLegs;
        return Source(s => s with { Irradiance = e0.At("source.irradiance", Level.Emitter) });
    }

    /// <summary>Candidate ageing laws with equal weight; one is the usual case.</summary>
    public ScenarioBuilder Ageing(params AgeingLaw[] laws) =>
        Source(s => s with { Ageing = [.. laws.Select(law => new AgeingAlternative(1, law))] });

    /// <summary>r = exp(−h/τ), τ in s.</summary>
    public ScenarioBuilder ExponentialAgeing(Uncertain timeConstant) =>
        Ageing(new ExponentialAgeing(timeConstant.At("source.ageing.time", Level.Emitter)));

    /// <summary>r = f·exp(−h/τ1) + (1 − f)·exp(−h/τ2), times in s.</summary>
    public ScenarioBuilder TwoStageAgeing(Uncertain earlyPart, Uncertain earlyTime, Uncertain lateTime) => Ageing(new TwoStageAgeing(
        earlyPart.At("source.ageing.early_part", Level.Emitter),
        earlyTime.At("source.ageing.early_time", Level.Emitter),
        lateTime.At("source.ageing.late_time", Level.Emitter)));

    /// <summary>r = exp(−(h/τ)^β), τ in s.</summary>
    public ScenarioBuilder StretchedAgeing(Uncertain timeConstant, Uncertain shape) => Ageing(new StretchedAgeing(
        timeConstant.At("source.ageing.time", Level.Emitter), shape.At("source.ageing.shape", Level.Emitter)));

    /// <summary>Slow wander of output.</summary>
    public ScenarioBuilder Wander(Uncertain logSpread, Uncertain time, bool seenBySensor) => Source(s => s with
    {
        Wander = new Wander(
            logSpread.At("source.wander.spread", Level.Emitter), time.At("source.wander.time", Level.Emitter), seenBySensor),
    });

    /// <summary>Burn seconds at sudden failure.</summary>
    public ScenarioBuilder Failure(Uncertain burnSeconds) =>
        Source(s => s with { FailureBurn = burnSeconds.At("source.failure", Level.Emitter) });

    /// <summary>Planned replacement of an emitter at these burn seconds.</summary>
    public ScenarioBuilder ReplaceEmitterAt(double? burnSeconds) => Source(s => s with { ReplaceAtBurnSeconds = burnSeconds });

    /// <summary>Drive without checks, its grid (0: continuous) and its lowest value.</summary>
    public ScenarioBuilder Drive(double drive = 1, double step = 0, double minimum = 0) =>
        Source(s => s with { Drive = drive, DriveStep = step, DriveMinimum = minimum });

    /// <summary>γ, 1/s of burn time: useful band lost beyond what sensor and radiometer read.</summary>
    public ScenarioBuilder BandAgeing(Uncertain rate) =>
        Source(s => s with { BandAgeing = rate.At("source.band_ageing", Level.Emitter) });

    /// <summary>A loop that holds the reading of a sensor inside the source; drift of its logarithm in 1/s.</summary>
    public ScenarioBuilder OutputSensor(Uncertain? drift = null, bool alarm = false) => With(s => s with
    {
        Loop = s.Loop with { Kind = LoopKind.OutputSensor, SensorDrift = (drift ?? 0.0).At("loop.drift", Level.Cell), Alarm = alarm },
    });

    /// <summary>ln of the output factor of one exposure.</summary>
    public ScenarioBuilder Ripple(Uncertain log) =>
        With(s => s with { Loop = s.Loop with { Ripple = log.At("loop.ripple", Level.Part) } });

    /// <summary>A light guide; logarithms of factors, loss in 1/s of lit time.</summary>
    public ScenarioBuilder Guide(
        Uncertain? transmission = null, Uncertain? imbalance = null, Uncertain? reseat = null, Uncertain? loss = null,
        LitDuring lit = LitDuring.Exposures, double? replaceAtLitSeconds = null) => With(s => s with
        {
            Guide = new Guide(
                (transmission ?? 0.0).At("guide.transmission", Level.Guide), (imbalance ?? 0.0).At("guide.imbalance", Level.Guide),
                (reseat ?? 0.0).At("guide.reseat", Level.Setup), (loss ?? 0.0).At("guide.loss", Level.Guide), lit, replaceAtLitSeconds),
        });

    /// <summary>Fouling of the tip, loss of ln transmission for each exposure, and what of N a cleaning takes away.</summary>
    public ScenarioBuilder Tip(Uncertain fouling, Uncertain? cleaningEffect = null) => With(s => s with
    {
        Tip = new Tip(fouling.At("tip.fouling", Level.Cleaning), (cleaningEffect ?? 1.0).At("tip.cleaning_effect", Level.Cleaning)),
    });

    private ScenarioBuilder Source(Func<Source, Source> change) => With(s => s with { Source = change(s.Source) });
}

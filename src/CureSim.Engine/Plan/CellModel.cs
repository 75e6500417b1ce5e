using CureSim.Core.Cell;
using CureSim.Core.Model.Ageing;
using CureSim.Core.Model.Geometry;
using CureSim.Core.Model.Loop;
using CureSim.Core.Random;
using CureSim.Engine.State;

namespace CureSim.Engine.Plan;

/// <summary>A scenario in one world, ready to simulate: model parts, draws with their streams, and the judge of states.</summary>
public sealed class CellModel
{
    private readonly bool shared;

    /// <summary>Prepares world <paramref name="world"/> of a plan. A judge of another world, or its table, may be passed on when nothing that it rests on is unknown.</summary>
    public CellModel(RunPlan plan, int world, StateJudge? judge = null, OwnFactorTable? ownTable = null)
    {
        Plan = plan;
        var scenario = plan.Scenario;
        Values = new WorldValues(plan, world);
        Points = new CellPoints(plan, world, plan.StratifiedBy);
        int n = scenario.Production.SiteCount;
        shared = scenario.Source.Arrangement == EmitterArrangement.Shared;
        EmitterCount = shared ? 1 : n;
        GuideCount = scenario.Guide is null ? 0 : EmitterCount;
        int[] sites = [.. Enumerable.Range(0, n)];
        int[] emitters = shared ? [StreamKey.WholeCell] : sites;
        int[] cell = [StreamKey.WholeCell];
        int[] groups = [.. Enumerable.Range(0, scenario.Production.PartsAtOnce)];
        var table = plan.Streams;

        LevelDraw At(Quantity q, int[] places, DrawDomain domain = DrawDomain.Cell, string suffix = "", long stratified = CellPoints.Indices) =>
            new(q, Values, plan, places, domain, suffix, Points, stratified);

        var source = scenario.Source;
        Irradiance = At(source.Irradiance, emitters);
        Ageing = Values.Ageing;
        AgeingDraws = [.. Ageing.Parameters.Select(q => At(q, emitters))];
        BandAgeing = At(source.BandAgeing, emitters);
        Failure = source.FailureBurn is { } failure ? At(failure, emitters) : null;
        if (source.Wander is { } wander)
        {
            WanderSpread = At(wander.LogSpread, emitters);
            WanderTime = At(wander.Time, emitters);
            WanderStart = [.. emitters.Select(e => table.Of(DrawDomain.Cell, "source.wander.start", e))];
            WanderHalf = [.. emitters.Select(e => table.Of(DrawDomain.Cell, "source.wander.half", e))];
        }

        Drive = new DriveModel(source.DriveStep, source.DriveMinimum);
        SensorDrift = At(scenario.Loop.SensorDrift, emitters);
        Ripple = At(scenario.Loop.Ripple, emitters, DrawDomain.Part);

        if (scenario.Guide is { } guide)
        {
            Transmission = At(guide.Transmission, emitters);
            GuideLoss = At(guide.Loss, emitters);
            Imbalance = At(guide.Imbalance, sites);
            Reseat = At(guide.Reseat, sites);
        }

        Fouling = At(scenario.Tip.Fouling, sites, stratified: 1);
        CleaningEffect = At(scenario.Tip.CleaningEffect, sites);
        var fixture = scenario.Fixture;
        Spread = new SpreadModel(fixture.Spread, fixture.ReferenceDistanceMetres);
        Beam = new BeamModel(fixture.Beam, fixture.BondRadiusMetres, fixture.JudgeAtWorstPoint);
        DistanceSetup = At(fixture.DistanceSetup, sites);
        AimSetupX = At(fixture.AimSetup, sites, DrawDomain.Cell, ".x");
        AimSetupY = At(fixture.AimSetup, sites, DrawDomain.Cell, ".y");
        DistancePart = At(fixture.DistancePart, sites, DrawDomain.Part);
        AimRadius = At(fixture.AimPart, sites, DrawDomain.Part, ".radius");
        AimDirection = At(fixture.AimPart, sites, DrawDomain.Part, ".direction");
        AimPartX = At(fixture.AimPart, sites, DrawDomain.Part, ".x");
        AimPartY = At(fixture.AimPart, sites, DrawDomain.Part, ".y");
        Tilt = At(fixture.Tilt, sites, DrawDomain.Part);
        if (scenario.Substrate is { } substrate)
        {
            Thickness = At(substrate.Thickness, sites, DrawDomain.Part);
            Absorption = At(substrate.Absorption, cell);
        }

        TimeOffset = At(scenario.Exposure.Offset, cell);
        TimeError = At(scenario.Exposure.Error, groups, DrawDomain.Part);
        PartTime = [.. groups.Select(g => table.Of(DrawDomain.Part, "production.part_time", g))];
        if (scenario.Cure is { } cure)
        {
            RateLot = At(cure.RateLot, cell);
            RatePart = At(cure.RatePart, sites, DrawDomain.Part);
            Exponent = Values.Fixed(cure.Exponent);
            InductionDose = Values.Fixed(cure.InductionDose);
        }

        var radiometer = scenario.Radiometer;
        Meter = At(radiometer.Meter, cell);
        Calibration = At(radiometer.Calibration, cell);
        MeterDrift = At(radiometer.Drift, cell);
        Session = At(radiometer.Session, cell, stratified: 1);
        Repeatability = At(radiometer.Repeatability, sites, stratified: 1);
        PartReading = At(radiometer.Repeatability, sites, DrawDomain.Part, ".qualification");
        Missed = table.Of(DrawDomain.Cell, "checks.missed");
        Late = table.Of(DrawDomain.Cell, "checks.late");
        Conditional = table.Of(DrawDomain.Cell, "engine.conditional_step");
        Disturbances = [.. scenario.Disturbances.Select(d => new DisturbanceModel(d, this, n))];
        Judge = judge ?? new StateJudge(scenario, Values, ownTable);
        ToleranceLimit = scenario.Checks is { } checks ? checks.ToleranceLimit ?? ToleranceFromWindow.Find(scenario, this, checks) : double.NaN;
    }

    /// <summary>The run it belongs to.</summary>
    public RunPlan Plan { get; }

    /// <summary>Unknowns of this world.</summary>
    public WorldValues Values { get; }

    /// <summary>Uniforms of draws above part level.</summary>
    public CellPoints Points { get; }

    /// <summary>Emitters in the cell.</summary>
    public int EmitterCount { get; }

    /// <summary>Place of an emitter in stream names: the whole cell for a shared one, else its site.</summary>
    public int EmitterPlace(int e) => shared ? StreamKey.WholeCell : e;

    /// <summary>Guides in the cell.</summary>
    public int GuideCount { get; }

    internal LevelDraw Irradiance { get; }

    internal AgeingModel Ageing { get; }

    internal LevelDraw[] AgeingDraws { get; }

    internal LevelDraw BandAgeing { get; }

    internal LevelDraw? Failure { get; }

    internal LevelDraw? WanderSpread { get; }

    internal LevelDraw? WanderTime { get; }

    internal StreamKey[] WanderStart { get; } = [];

    internal StreamKey[] WanderHalf { get; } = [];

    internal DriveModel Drive { get; }

    internal LevelDraw SensorDrift { get; }

    internal LevelDraw Ripple { get; }

    internal LevelDraw? Transmission { get; }

    internal LevelDraw? GuideLoss { get; }

    internal LevelDraw? Imbalance { get; }

    internal LevelDraw? Reseat { get; }

    internal LevelDraw Fouling { get; }

    internal LevelDraw CleaningEffect { get; }

    internal SpreadModel Spread { get; }

    internal BeamModel Beam { get; }

    internal LevelDraw DistanceSetup { get; }

    internal LevelDraw AimSetupX { get; }

    internal LevelDraw AimSetupY { get; }

    internal LevelDraw DistancePart { get; }

    internal LevelDraw AimRadius { get; }

    internal LevelDraw AimDirection { get; }

    internal LevelDraw AimPartX { get; }

    internal LevelDraw AimPartY { get; }

    internal LevelDraw Tilt { get; }

    internal LevelDraw? Thickness { get; }

    internal LevelDraw? Absorption { get; }

    internal LevelDraw TimeOffset { get; }

    internal LevelDraw TimeError { get; }

    internal StreamKey[] PartTime { get; }

    internal LevelDraw? RateLot { get; }

    internal LevelDraw? RatePart { get; }

    internal double Exponent { get; }

    internal double InductionDose { get; }

    internal LevelDraw Meter { get; }

    internal LevelDraw Calibration { get; }

    internal LevelDraw MeterDrift { get; }

    internal LevelDraw Session { get; }

    internal LevelDraw Repeatability { get; }

    /// <summary>Repeatability of a reading of a part that a qualification takes; streams of its own, so that it moves no other reading.</summary>
    internal LevelDraw PartReading { get; }

    internal StreamKey Missed { get; }

    internal StreamKey Late { get; }

    internal StreamKey Conditional { get; }

    internal DisturbanceModel[] Disturbances { get; }

    /// <summary>The judge of states.</summary>
    public StateJudge Judge { get; }

    /// <summary>Tolerance limit of checks in this world (given, or found from the window).</summary>
    public double ToleranceLimit { get; }
}

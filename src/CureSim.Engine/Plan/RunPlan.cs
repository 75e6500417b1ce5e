using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Summaries;

namespace CureSim.Engine.Plan;

/// <summary>
/// What a run is, before any lifetime is simulated: scenario, sizes, streams and the layout of what is kept. A pure function of the scenario,
/// so a worker on another machine makes the same plan from the same scenario.
/// </summary>
public sealed class RunPlan
{
    /// <summary>Stride of the conditional fraction: one step in this many, chosen at random in each stretch and lifetime.</summary>
    public const int ConditionalStride = 4;

    private readonly RunPlan? like;
    private readonly Dictionary<int, State.StateJudge> judges = [];

    /// <summary>Plans the run of a scenario with its own run settings.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="like">
    /// A plan already made, such as that of another candidate of a study: its table of a bond's own factors is used when it rests on the same quantities. This
    /// saves time and changes no number.
    /// </param>
    public RunPlan(Scenario scenario, RunPlan? like = null)
    {
        Scenario = scenario;
        Seed = scenario.Run.Seed;
        LeafSize = Leaves.Size(scenario.Run.LifetimesPerWorld);
        IsStratified = SamplingRule.IsStratified(scenario.Run);
        var first = new CellModel(this, 0, ownTable: like is not null && HasSameOwnFactors(like.Scenario) ? like.FirstWorld.Judge.Table : null);
        FirstWorld = first;
        Layout = MakeLayout(scenario, first);
    }

    private RunPlan(RunPlan other, Redraw redraw, bool ownWorlds)
    {
        Scenario = other.Scenario;
        Seed = other.Seed;
        Streams = other.Streams;
        LeafSize = other.LeafSize;
        Layout = other.Layout;
        Redraw = redraw;
        like = ownWorlds ? null : other;
        FirstWorld = ModelAs(0, like?.FirstWorld.Judge, AllKnown(OwnQuantities()) ? other.FirstWorld.Judge.Table : null);
    }

    private RunPlan(RunPlan other, Scenario scenario)
    {
        Scenario = scenario;
        Seed = other.Seed;
        Streams = other.Streams;
        LeafSize = other.LeafSize;
        IsStratified = other.IsStratified;
        Layout = other.Layout;
        FirstWorld = other.FirstWorld;
    }

    /// <summary>The scenario.</summary>
    public Scenario Scenario { get; }

    /// <summary>Key of every draw.</summary>
    public ulong Seed { get; }

    /// <summary>Streams in use.</summary>
    public StreamTable Streams { get; } = new();

    /// <summary>Lifetimes in a leaf.</summary>
    public int LeafSize { get; }

    /// <summary>The design whose draws the run takes; null: its own.</summary>
    public Redraw? Redraw { get; }

    /// <summary>True when the lifetimes of a leaf share out the strata of draws above part level, so that batches, and not lifetimes, are independent of each other.</summary>
    public bool IsStratified { get; }

    /// <summary>Lifetimes that share out the strata; 0 when every lifetime draws for itself.</summary>
    internal int StratifiedBy => IsStratified ? LeafSize : 0;

    /// <summary>Shape of every summary of the run.</summary>
    public SummaryLayout Layout { get; }

    /// <summary>World 0, already prepared.</summary>
    public CellModel FirstWorld { get; }

    /// <summary>The same plan for another number of worlds or lifetimes, whose leaves must be as large.</summary>
    /// <exception cref="ArgumentOutOfRangeException">So many lifetimes are cut into leaves of another size.</exception>
    internal RunPlan WithSize(int worlds, int lifetimesPerWorld)
    {
        var run = Scenario.Run;
        if (run.Worlds == worlds && run.LifetimesPerWorld == lifetimesPerWorld)
        {
            return this;
        }

        return Leaves.Size(lifetimesPerWorld) == LeafSize
            ? new RunPlan(this, Scenario with { Run = run with { Worlds = worlds, LifetimesPerWorld = lifetimesPerWorld } })
            : throw new ArgumentOutOfRangeException(nameof(lifetimesPerWorld), lifetimesPerWorld, $"leaves of {LeafSize} lifetimes");
    }

    /// <summary>The same plan with the draws of a design in the place of its own. Its lifetimes must not share out strata.</summary>
    /// <param name="redraw">The design's run.</param>
    /// <param name="ownWorlds">False: the worlds are those of this plan, which is a run of the design too, so judges of states can be shared.</param>
    public RunPlan With(Redraw redraw, bool ownWorlds) => IsStratified
        ? throw new InvalidOperationException("a design's points take the place of strata: plan the run with independent sampling")
        : new RunPlan(this, redraw, ownWorlds);

    /// <summary>Key of a stream's draws.</summary>
    internal ulong SeedOf(StreamKey stream) => Redraw?.KeyOf(stream) ?? Seed;

    /// <summary>Model of a world.</summary>
    public CellModel ModelOf(int world) => world == 0 ? FirstWorld : ModelAs(
        world, AllKnown(OwnQuantities().Concat(SharedQuantities())) ? FirstWorld.Judge : like?.JudgeOf(world), AllKnown(OwnQuantities()) ? FirstWorld.Judge.Table : null);

    private CellModel ModelAs(int world, State.StateJudge? judge, State.OwnFactorTable? table)
    {
        var model = new CellModel(this, world, judge, table);
        if (Redraw is not null)
        {
            judges[world] = model.Judge;
        }

        return model;
    }

    private State.StateJudge? JudgeOf(int world) => judges.GetValueOrDefault(world);

    private static bool AllKnown(IEnumerable<Quantity?> quantities) => quantities.All(q => q?.Unknown is null);

    /// <summary>What the table of a bond's own factors rests on.</summary>
    private IEnumerable<Quantity?> OwnQuantities() =>
    [
        Scenario.Fixture.DistancePart, Scenario.Fixture.AimPart, Scenario.Fixture.Tilt, Scenario.Fixture.DistanceSetup, Scenario.Fixture.AimSetup,
        Scenario.Loop.Ripple, Scenario.Exposure.Error, Scenario.Exposure.Offset, Scenario.Substrate?.Thickness, Scenario.Substrate?.Absorption,
        .. Scenario.Disturbances.SelectMany(d => (Quantity?[])[d.DistanceShift, d.AimShift]),
    ];

    /// <summary>Whether the own factors of a bond, and the states at which they are tabulated, are those of another scenario.</summary>
    private bool HasSameOwnFactors(Scenario other) =>
        AllKnown(OwnQuantities()) && Scenario.Fixture == other.Fixture && Scenario.Substrate == other.Substrate && Scenario.Exposure == other.Exposure
        && Scenario.Loop.Ripple == other.Loop.Ripple && Scenario.Production.SitesPerPart == other.Production.SitesPerPart
        && Scenario.Source.Arrangement == other.Source.Arrangement && Scenario.Disturbances.SequenceEqual(other.Disturbances)
        && Limited(Response.DegreeOfCure) == (other.Window.For(Response.DegreeOfCure) is not null)
        && Limited(Response.Irradiance) == (other.Window.For(Response.Irradiance) is not null);

    private bool Limited(Response response) => Scenario.Window.For(response) is not null;

    /// <summary>What the limits in terms of ln irradiance rest on beside it.</summary>
    private IEnumerable<Quantity?> SharedQuantities() =>
        [Scenario.Cure?.RatePart, Scenario.Cure?.RateLot, Scenario.Cure?.Exponent, Scenario.Cure?.InductionDose];

    private static SummaryLayout MakeLayout(Scenario scenario, CellModel model)
    {
        double logE = NominalState.LogIrradiance(scenario, model)[0];
        double e = BlockMath.Exp(logE);
        double t = scenario.Exposure.SettingSeconds + model.TimeOffset.Mean + model.TimeError.Mean;
        var responses = new List<ResponseLayout>
        {
            // The dose is always summarised; ten octaves about the nominal hold a factor of 64 down and 16 up.
            new(Response.Dose, e * t, new LogBins(e * t / 64.0, e * t * 16.0, 10), new LogBins(e * t / 64.0, e * t * 16.0, 7)),
        };
        if (scenario.Window.For(Response.Irradiance) is not null)
        {
            responses.Add(new(Response.Irradiance, e, new LogBins(e / 64.0, e * 16.0, 10), new LogBins(e / 64.0, e * 16.0, 7)));
        }

        if (scenario.Cure is { } cure)
        {
            double rate = cure.RateLot.Varies.Quantile(0.5) * model.RateLot!.Factor;
            double degree = CureModel.Degree(cure.Maximum, rate, model.Exponent, model.InductionDose, e, t);
            responses.Add(new(Response.DegreeOfCure, degree, new LogBins(1e-7, 2.0, 10), new LogBins(1e-7, 2.0, 7)));
        }

        int steps = scenario.Production.StepCount, every = scenario.Checks?.IntervalSteps ?? 0;
        int[] edges = TimeBins.Edges(steps, every);
        return new(
            [.. responses],
            scenario.Production.SiteCount,
            [.. edges],
            [.. edges.Select(end => every > 0 && end % every == 0)]);
    }
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Model.Bond;
using CureSim.Core.Model.Geometry;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Statistics;
using CureSim.Engine.Plan;
using SampleQuantile = CureSim.Core.Statistics.SampleQuantile;

namespace CureSim.Studies.ProcessWindow;

/// <summary>What is predicted of one response at a challenge point, SI.</summary>
/// <param name="Response">The response.</param>
/// <param name="Mean">Mean over parts, settings and worlds.</param>
/// <param name="MeanLower95">2.5 % of the means that a challenge would show: the radiometer's error at setting and what is unknown.</param>
/// <param name="MeanUpper95">97.5 %.</param>
/// <param name="PartLower95">2.5 % of single parts.</param>
/// <param name="PartUpper95">97.5 %.</param>
/// <param name="Lower">Lower limit; null for none.</param>
/// <param name="Upper">Upper limit.</param>
public sealed record PredictedResponse(Response Response, double Mean, double MeanLower95, double MeanUpper95, double PartLower95, double PartUpper95, double? Lower, double? Upper);

/// <summary>A point at which the process is challenged.</summary>
/// <param name="Name">Such as "lowest dose".</param>
/// <param name="X">Setting along the map.</param>
/// <param name="Y">Setting up the map.</param>
/// <param name="State">Conditions to make.</param>
/// <param name="Responses">Predicted results.</param>
/// <param name="Conforming">Fraction of parts that conform, with the Monte-Carlo interval.</param>
/// <param name="Pass">Chance that so many parts all conform, over settings and worlds.</param>
/// <param name="Parts">How many parts.</param>
public sealed record ChallengePoint(string Name, double X, double Y, FrozenState State, ImmutableArray<PredictedResponse> Responses, Estimate Conforming, Estimate Pass, long Parts)
{
    private const int Settings = 400;
    private const int FewestParts = 64;

    /// <summary>Points at the corners of a rectangle and at the set-point.</summary>
    public static ImmutableArray<ChallengePoint> Of(WindowMap map, long parts)
    {
        ArgumentNullException.ThrowIfNull(map);
        var study = map.Case;
        var list = ImmutableArray.CreateBuilder<ChallengePoint>();
        double level = study.Study.Challenge;
        var set = map.SetPoint;
        list.Add(Point(study, "set-point, nominal", set.X, set.Y, FrozenState.Nominal(study.At(set.X, set.Y)), parts));
        var (x1, x2, y1, y2) = map.Rectangle is { } r ? (r.FromX, r.ToX, r.FromY, r.ToY) : (set.X, set.X, set.Y, set.Y);
        list.Add(Point(study, "lowest dose", x1, y1, FrozenState.Extreme(study.At(x1, y1), high: false, level), parts));
        list.Add(Point(study, "highest dose", x2, y2, FrozenState.Extreme(study.At(x2, y2), high: true, level), parts));
        if (map.Rectangle is not null)
        {
            list.Add(Point(study, "low irradiance, long time", x1, y2, FrozenState.Nominal(study.At(x1, y2)), parts));
            list.Add(Point(study, "high irradiance, short time", x2, y1, FrozenState.Nominal(study.At(x2, y1)), parts));
        }

        return list.ToImmutable();
    }

    /// <summary>Simulates parts made in a frozen state: the setting's error is drawn once a setting, what is unknown once a world, the rest part by part.</summary>
    public static ChallengePoint Point(WindowCase study, string name, double x, double y, FrozenState state, long parts)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(state);
        var cell = study.At(x, y);
        var plan = new RunPlan(WindowCase.Path(cell));
        int worlds = cell.Run.Worlds, responses = Enum.GetValues<Response>().Length, each = (int)Math.Max(FewestParts, parts);
        var values = Enumerable.Range(0, responses).Select(_ => new double[Settings * each]).ToArray();
        var means = Enumerable.Range(0, responses).Select(_ => new double[Settings]).ToArray();
        var good = new double[Settings];
        var pass = new double[Settings];
        for (int s = 0; s < Settings; s++)
        {
            int w = s % worlds;
            var draws = new FrozenDraws(cell, w == 0 ? plan.FirstWorld.Values : new WorldValues(plan, w), plan, state, s);
            int conforming = 0;
            for (int k = 0; k < each; k++)
            {
                var (e, h, c) = draws.Part(k);
                int at = (s * each) + k;
                (values[0][at], values[1][at], values[2][at]) = (e, h, c);
                bool conforms = cell.Window.Limits.All(l =>
                {
                    double v = l.Response switch { Response.Irradiance => e, Response.Dose => h, _ => c };
                    double shift = l.Response != Response.DegreeOfCure ? draws.LimitFactor : 1.0;
                    return !(v < l.Lower * shift) && !(v > l.Upper * shift);
                });
                conforming += conforms ? 1 : 0;
            }

            for (int r = 0; r < responses; r++)
            {
                means[r][s] = values[r].AsSpan(s * each, each).ToArray().Average();
            }

            good[s] = (double)conforming / each;
            pass[s] = AllOf(conforming, each, parts);
        }

        PredictedResponse Predicted(Response r)
        {
            int i = (int)r;
            var limits = cell.Window.For(r);
            return new(r, means[i].Average(), SampleQuantile.Of(means[i], 0.025), SampleQuantile.Of(means[i], 0.975), SampleQuantile.Of(values[i], 0.025), SampleQuantile.Of(values[i], 0.975), limits?.Lower, limits?.Upper);
        }

        var shown = new[] { Response.Irradiance, Response.Dose, Response.DegreeOfCure }.Where(r => r != Response.DegreeOfCure || cell.Cure is not null);
        return new(name, x, y, state, [.. shown.Select(Predicted)], MeanOf(good, worlds), MeanOf(pass, worlds), parts);
    }

    /// <summary>Chance that a selection of parts without replacement holds conforming ones only: C(conforming, n)/C(made, n).</summary>
    /// <remarks>The unbiased estimate of gⁿ from a number of conforming parts that is binomial with g; the share raised to n is biased upwards, and says the more too much the rarer a nonconforming part is.</remarks>
    internal static double AllOf(long conforming, long made, long parts)
    {
        double chance = 1.0;
        for (long i = 0; i < parts && chance > 0.0; i++)
        {
            chance *= Math.Max(0.0, (double)(conforming - i) / (made - i));
        }

        return chance;
    }

    private static Estimate MeanOf(double[] shares, int worlds)
    {
        // Settings of one world share what is unknown: then worlds, not settings, are independent.
        double[] units = worlds > 1 ? [.. shares.Index().GroupBy(v => v.Index % worlds).Select(g => g.Average(v => v.Item))] : shares;
        double mean = shares.Average(), between = units.Average(), error = Math.Sqrt(units.Sum(v => (v - between) * (v - between)) / (units.Length - 1) / units.Length);
        if (error == 0.0)
        {
            // All alike, mostly all or none: what so many settings could not have missed with 95 % confidence (exact binomial).
            var exact = BinomialInterval.Counted((long)Math.Round(mean * shares.Length), shares.Length);
            return Estimate.Bounded(mean, 0.0, Math.Min(mean, exact.Lower95 ?? 0.0), Math.Max(mean, exact.Upper95 ?? 1.0), shares.Length);
        }

        double half = new StudentTDistribution(units.Length - 1).Quantile(0.975);
        return Estimate.Bounded(mean, error, Math.Max(0.0, mean - (half * error)), Math.Min(1.0, mean + (half * error)), shares.Length);
    }
}

/// <summary>Draws of the parts of one setting in a frozen state.</summary>
internal sealed class FrozenDraws
{
    private readonly Scenario cell;
    private readonly WorldValues world;
    private readonly FrozenState state;
    private readonly SpreadModel spread;
    private readonly BeamModel beam;
    private readonly double logLight;
    private readonly int setting;

    public FrozenDraws(Scenario cell, WorldValues world, RunPlan plan, FrozenState state, int setting)
    {
        (this.cell, this.world, this.state, this.setting) = (cell, world, state, setting);
        var f = cell.Fixture;
        spread = new SpreadModel(f.Spread, f.ReferenceDistanceMetres);
        beam = new BeamModel(f.Beam, f.BondRadiusMetres, f.JudgeAtWorstPoint);

        // Nominal light without geometry and substrate, which this state has its own of.
        double distance = NominalState.Distance(cell, plan.FirstWorld);
        double nominal = NominalState.LogIrradiance(cell, plan.FirstWorld)[0] - Math.Log(spread.At(distance)) - beam.Log(0.0) - Math.Log(Cosine(f.Tilt.Mean)) - cell.Loop.Ripple.Mean;
        if (cell.Substrate is { } s)
        {
            nominal -= Math.Log(SubstrateModel.Transmission(s.Reflectance, NominalState.Absorption(cell, plan.FirstWorld), s.Thickness.Mean));
        }

        var radiometer = cell.Radiometer;
        double persistent = Drawn(radiometer.Meter, setting), reading = cell.Checks is null ? 0.0
            : persistent + Drawn(radiometer.Calibration, setting) + Drawn(radiometer.Session, setting) + Drawn(radiometer.Repeatability, setting);
        LimitFactor = cell.Window.InStudyMeterUnits ? Math.Exp(-persistent) : 1.0;
        logLight = nominal + state.LogShift - reading;
    }

    /// <summary>What limits on irradiance and dose are multiplied by: those of a study meter move with its persistent error.</summary>
    public double LimitFactor { get; }

    /// <summary>Irradiance (W/m²), dose (J/m²) and degree of cure of a part.</summary>
    public (double Irradiance, double Dose, double Cure) Part(int k)
    {
        var f = cell.Fixture;
        long at = ((long)setting << 16) + k;
        double d = Math.Max(SpreadModel.SmallestDistance, state.Distance + Drawn(f.DistancePart, at));
        double ax = state.Offset + Drawn(f.AimPart, at, ".x"), ay = Drawn(f.AimPart, at, ".y");
        double log = logLight + Math.Log(spread.At(d)) + beam.LogOfSquare((ax * ax) + (ay * ay)) + Math.Log(Cosine(Drawn(f.Tilt, at))) + Drawn(cell.Loop.Ripple, at);
        if (cell.Substrate is { } s)
        {
            log += Math.Log(SubstrateModel.Transmission(s.Reflectance, state.Absorption, state.Thickness ?? Drawn(s.Thickness, at)));
        }

        double e = Math.Exp(log), t = Math.Max(1e-6, cell.Exposure.SettingSeconds + world.Fixed(cell.Exposure.Offset) + Drawn(cell.Exposure.Error, at));
        double x = cell.Cure is { } c ? CureModel.Degree(c.Maximum, state.Rate * world.Factor(c.RateLot) * Math.Exp(Drawn(c.RatePart, at)), world.Fixed(c.Exponent), world.Fixed(c.InductionDose), e, t) : 0.0;
        return (e, e * t, x);
    }

    private static double Cosine(double angle) => Math.Max(1e-6, Math.Cos(angle));

    private double Drawn(Quantity q, long index, string axis = "")
    {
        double factor = world.Factor(q);
        return factor * (q.Varies is FixedValue v ? v.Value : q.Varies.Quantile(Draw.Uniform(cell.Run.Seed, world.World, 0, StreamKey.Of(DrawDomain.Reserved, "window_study.challenge." + q.Path + axis), index)));
    }
}

using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Block;

/// <content>The parts of a step: part-level draws, irradiance, dose and degree of cure of every bond. Most of a run's time is spent here.</content>
public sealed partial class LifetimeBlock
{
    private bool distanceVaries;
    private bool aimVaries;
    private bool aimIsotropic;
    private bool aimOffsets;
    private bool tiltVaries;
    private bool thicknessVaries;
    private bool rippleVaries;
    private bool timeVaries;
    private bool rateVaries;
    private double fixedTime;
    private double fixedRippleFactor;
    private double fixedRateFactor;
    private double aimVariance;
    private int groups;
    private PairBuffer[] timeDraws = [];
    private PairBuffer[] rippleDraws = [];
    private double[][] times = [];
    private double[] irradiance = [];
    private double[] dose = [];
    private double[] degree = [];
    private double[] bufferA = [];
    private double[] bufferB = [];
    private double[] bufferC = [];
    private double[] madeMask = [];
    private double[] partBad = [];
    private double[] partTimes = [];
    private readonly PairDraws draws = new();

    /// <summary>Values of a stream for two neighbouring parts, from one Philox block a lane.</summary>
    private sealed record PairBuffer(double[] Even, double[] Odd)
    {
        public double[] Of(int part) => (part & 1) == 0 ? Even : Odd;
    }

    /// <summary>Draws of the sites: one pair buffer a site for each quantity that varies.</summary>
    private sealed class PairDraws
    {
        public PairBuffer[] Distance = [];
        public PairBuffer[] AimRadius = [];
        public PairBuffer[] AimDirection = [];
        public PairBuffer[] Tilt = [];
        public PairBuffer[] Thickness = [];
        public PairBuffer[] Rate = [];
    }

    private void AllocateParts()
    {
        distanceVaries = model.DistancePart.Varies && !model.Spread.IsConstant;
        aimVaries = model.AimRadius.Varies && !model.Beam.IsFlat;
        aimIsotropic = model.AimRadius.Distribution is NormalDistribution { Mean: 0.0 };
        aimOffsets = model.AimSetupX.Varies || model.AimSetupX.Mean != 0.0 || model.Disturbances.Any(d => d.Aim is not null);
        tiltVaries = model.Tilt.Varies;
        thicknessVaries = model.Thickness is { Varies: true };
        rippleVaries = model.Ripple.Varies;
        timeVaries = model.TimeError.Varies;
        rateVaries = model.RatePart is { Varies: true };
        double sigma = model.AimRadius.Distribution.StandardDeviation * model.AimRadius.Factor;
        aimVariance = sigma * sigma;
        groups = scenario.Production.PartsAtOnce;
        fixedTime = scenario.Exposure.SettingSeconds + model.TimeOffset.Mean + model.TimeError.Mean;
        fixedRippleFactor = rippleVaries ? 1.0 : BlockMath.Exp(model.Ripple.Mean);
        fixedRateFactor = rateVaries || model.RatePart is null ? 1.0 : BlockMath.Exp(model.RatePart.Mean);
        timeDraws = Pairs(timeVaries, groups);
        rippleDraws = Pairs(rippleVaries, emitters);
        draws.Distance = Pairs(distanceVaries, sites);
        draws.AimRadius = Pairs(aimVaries, sites);
        draws.AimDirection = Pairs(aimVaries && (aimOffsets || !aimIsotropic), sites);
        draws.Tilt = Pairs(tiltVaries, sites);
        draws.Thickness = Pairs(thicknessVaries, sites);
        draws.Rate = Pairs(rateVaries, sites);
        times = NewArrays(groups);
        irradiance = new double[lanes];
        dose = new double[lanes];
        degree = new double[lanes];
        bufferA = new double[lanes];
        bufferB = new double[lanes];
        bufferC = new double[lanes];
        madeMask = new double[lanes];
        partBad = new double[lanes];
        partTimes = new double[lanes];
        for (int g = 0; g < groups; g++)
        {
            times[g].AsSpan().Fill(Math.Max(1e-6, fixedTime));
        }
    }

    private PairBuffer[] Pairs(bool wanted, int places) =>
        wanted ? [.. Enumerable.Range(0, places).Select(_ => new PairBuffer(new double[lanes], new double[lanes]))] : [];

    private void MakeParts()
    {
        int parts = scenario.Run.PartsAStep;
        BeginPartSums();
        for (int part = 0; part < parts; part++)
        {
            if ((part & 1) == 0)
            {
                DrawPair(part, part + 1 < parts);
            }

            FillTimes(part);
            for (int g = 0; g < groups; g++)
            {
                partBad.AsSpan().Clear();
                bool special = anyDown || walkers.Count > 0;
                FillMade(g, part, special);
                for (int i = g * scenario.Production.SitesPerPart; i < (g + 1) * scenario.Production.SitesPerPart; i++)
                {
                    ExposeBond(i, g, part);
                    Summarise(i, part);
                }

                SummarisePart(g, part);
                if (walkers.Count > 0)
                {
                    RestoreLastSegments(g);
                }
            }
        }

        EndPartSums();
    }

    /// <summary>Draws all part-level quantities of two neighbouring parts, as values (distance in m, ripple as ln factor, …).</summary>
    private void DrawPair(int part, bool both)
    {
        long index = Draw.PartIndex(step, part);
        Fill(timeDraws, model.TimeError, index, both, asScore: false);
        Fill(rippleDraws, model.Ripple, index, both, asScore: false);
        Fill(draws.Distance, model.DistancePart, index, both, asScore: false);
        Fill(draws.Tilt, model.Tilt, index, both, asScore: false);
        if (model.Thickness is not null)
        {
            Fill(draws.Thickness, model.Thickness, index, both, asScore: false);
        }

        if (model.RatePart is not null)
        {
            Fill(draws.Rate, model.RatePart, index, both, asScore: false);
        }

        if (aimVaries)
        {
            Fill(draws.AimRadius, aimIsotropic ? model.AimRadius : model.AimPartX, index, both, asScore: aimIsotropic);
            Fill(draws.AimDirection, aimIsotropic ? model.AimDirection : model.AimPartY, index, both, asScore: aimIsotropic);
        }
    }

    /// <summary>Fills pair buffers with uniforms (<paramref name="asScore"/>) or with values: normals come in pairs, everything else by the quantile map.</summary>
    private void Fill(PairBuffer[] buffers, LevelDraw draw, long index, bool both, bool asScore)
    {
        for (int place = 0; place < buffers.Length; place++)
        {
            var pair = buffers[place];
            UniformBlock.FillPair(plan.SeedOf(draw.Stream(place)), model.Values.World, first, draw.Stream(place), index, pair.Even, pair.Odd);
            if (asScore)
            {
                continue;
            }

            if (draw.ComesInPairs)
            {
                BlockMath.NormalPairs(pair.Even, pair.Odd);
                ScoresToValues(draw, pair.Even);
                if (both)
                {
                    ScoresToValues(draw, pair.Odd);
                }

                continue;
            }

            ToValues(draw, pair.Even);
            if (both)
            {
                ToValues(draw, pair.Odd);
            }
        }
    }

    private static void ToValues(LevelDraw draw, double[] values)
    {
        draw.Distribution.Quantiles(values, values);
        Scale(draw, values);
    }

    private static void ScoresToValues(LevelDraw draw, double[] values)
    {
        BlockMath.Affine(values, draw.Distribution.StandardDeviation, draw.Distribution.Mean, values);
        Scale(draw, values);
    }

    [MethodImpl(Kernel.Options)]
    private static void Scale(LevelDraw draw, double[] values)
    {
        if (draw.Factor != 1.0)
        {
            var v = Lanes.AsVectors(values);
            var factor = Vector512.Create(draw.Factor);
            for (int i = 0; i < v.Length; i++)
            {
                v[i] *= factor;
            }
        }
    }

    [MethodImpl(Kernel.Options)]
    private void FillTimes(int part)
    {
        if (!timeVaries)
        {
            return;
        }

        double set = scenario.Exposure.SettingSeconds + model.TimeOffset.Mean;
        for (int g = 0; g < groups; g++)
        {
            var t = Lanes.AsVectors(times[g]);
            var error = Lanes.AsVectors(timeDraws[g].Of(part));
            var (setting, least) = (Vector512.Create(set), Vector512.Create(1e-6));
            for (int i = 0; i < t.Length; i++)
            {
                t[i] = Vector512.Max(least, setting + error[i]);
            }
        }
    }

    /// <summary>Which lanes make this part, and what their walk lets it see.</summary>
    private void FillMade(int g, int part, bool special)
    {
        allMade = true;
        if (!special)
        {
            return;
        }

        UniformBlock.Fill(plan.Seed, model.Values.World, first, model.PartTime[g], Draw.PartIndex(step, part), partTimes);
        Lanes.AsVectors(madeMask).Fill(Vector512<double>.AllBitsSet);
        for (int lane = 0; lane < count; lane++)
        {
            if (!walks[lane] && downAtStart[lane] <= 0.0)
            {
                continue;
            }

            double time = (step + partTimes[lane]) * stepSeconds;
            if (!LineIsUp(lane, time))
            {
                madeMask[lane] = 0.0;
                allMade = false;
            }

            if (walks[lane])
            {
                var segment = SegmentAt(lane, time);
                for (int i = 0; i < sites; i++)
                {
                    light[i][lane] = segment.Light[i];
                    distance[i][lane] = segment.Distance[i];
                    aimX[i][lane] = segment.X[i];
                    aimY[i][lane] = segment.Y[i];
                }
            }
        }

        if (part == 0 && g == 0)
        {
            AddConditional(special: true);
        }
    }

    private void RestoreLastSegments(int g)
    {
        foreach (int lane in walkers)
        {
            var segment = SegmentAt(lane, double.PositiveInfinity);
            for (int i = 0; i < sites; i++)
            {
                light[i][lane] = segment.Light[i];
                distance[i][lane] = segment.Distance[i];
                aimX[i][lane] = segment.X[i];
                aimY[i][lane] = segment.Y[i];
            }
        }
    }

    /// <summary>E, H and X of one bond in every lane, into <see cref="irradiance"/>, <see cref="dose"/>, <see cref="degree"/>.</summary>
    [MethodImpl(Kernel.Options)]
    private void ExposeBond(int i, int g, int part)
    {
        light[i].CopyTo(irradiance, 0);
        if (distanceVaries)
        {
            var d = Lanes.AsVectors(bufferA);
            var nominal = Lanes.AsVectors(distance[i]);
            var deviation = Lanes.AsVectors(draws.Distance[i].Of(part));
            for (int v = 0; v < d.Length; v++)
            {
                d[v] = nominal[v] + deviation[v];
            }

            model.Spread.At(bufferA);
            Multiply(irradiance, bufferA);
        }

        if (aimVaries)
        {
            SquaredAim(i, part, bufferB);
            model.Beam.LogOfSquare(bufferB);
            if (rippleVaries)
            {
                AddTo(bufferB, rippleDraws[EmitterOf(i)].Of(part));
            }

            BlockMath.Exp(bufferB, bufferB);
            Multiply(irradiance, bufferB);
        }
        else if (rippleVaries)
        {
            BlockMath.Exp(rippleDraws[EmitterOf(i)].Of(part), bufferB);
            Multiply(irradiance, bufferB);
        }

        if (!rippleVaries && fixedRippleFactor != 1.0)
        {
            bufferB.AsSpan().Fill(fixedRippleFactor);
            Multiply(irradiance, bufferB);
        }

        if (tiltVaries)
        {
            CosinesOf(draws.Tilt[i].Of(part), bufferB);
            Multiply(irradiance, bufferB);
        }

        if (thicknessVaries)
        {
            draws.Thickness[i].Of(part).CopyTo(bufferB, 0);
            SubstrateModel.Transmission(scenario.Substrate!.Reflectance, absorption, bufferB);
            Multiply(irradiance, bufferB);
        }

        var e = Lanes.AsVectors(irradiance);
        var t = Lanes.AsVectors(times[g]);
        var h = Lanes.AsVectors(dose);
        for (int v = 0; v < h.Length; v++)
        {
            h[v] = e[v] * t[v];
        }

        if (scenario.Cure is { } cure)
        {
            CureOf(cure, i, g, part);
        }
    }

    [MethodImpl(Kernel.Options)]
    private void CureOf(Cure cure, int i, int g, int part)
    {
        var x = Lanes.AsVectors(degree);
        var lot = Lanes.AsVectors(lotRate);
        if (rateVaries)
        {
            BlockMath.Exp(draws.Rate[i].Of(part), degree);
            for (int v = 0; v < x.Length; v++)
            {
                x[v] *= lot[v];
            }
        }
        else
        {
            var factor = Vector512.Create(fixedRateFactor);
            for (int v = 0; v < x.Length; v++)
            {
                x[v] = lot[v] * factor;
            }
        }

        CureModel.Degree(cure.Maximum, model.Exponent, model.InductionDose, irradiance, times[g], degree);
    }

    /// <summary>ρ² of a part's aim about the beam's axis, m².</summary>
    [MethodImpl(Kernel.Options)]
    private void SquaredAim(int i, int part, double[] into)
    {
        var r2 = Lanes.AsVectors(into);
        if (!aimIsotropic)
        {
            var px = Lanes.AsVectors(draws.AimRadius[i].Of(part));
            var py = Lanes.AsVectors(draws.AimDirection[i].Of(part));
            var sx = Lanes.AsVectors(aimX[i]);
            var sy = Lanes.AsVectors(aimY[i]);
            for (int v = 0; v < r2.Length; v++)
            {
                var (x, y) = (px[v] + sx[v], py[v] + sy[v]);
                r2[v] = (x * x) + (y * y);
            }

            return;
        }

        BlockMath.Log(draws.AimRadius[i].Of(part), into);
        var scale = Vector512.Create(-2.0 * aimVariance);
        for (int v = 0; v < r2.Length; v++)
        {
            r2[v] *= scale;
        }

        if (!aimOffsets)
        {
            return;
        }

        BlockMath.SinCos2Pi(draws.AimDirection[i].Of(part), bufferA, bufferC);
        var sin = Lanes.AsVectors(bufferA);
        var cos = Lanes.AsVectors(bufferC);
        var ox = Lanes.AsVectors(aimX[i]);
        var oy = Lanes.AsVectors(aimY[i]);
        for (int v = 0; v < r2.Length; v++)
        {
            var rho = Vector512.Sqrt(r2[v]);
            var (x, y) = ((rho * cos[v]) + ox[v], (rho * sin[v]) + oy[v]);
            r2[v] = (x * x) + (y * y);
        }
    }

    [MethodImpl(Kernel.Options)]
    private void CosinesOf(double[] angle, double[] into)
    {
        var a = Lanes.AsVectors(angle);
        var c = Lanes.AsVectors(into);
        var (turn, least) = (Vector512.Create(0.5 / Math.PI), Vector512.Create(1e-6));
        for (int v = 0; v < c.Length; v++)
        {
            c[v] = Vector512.Max(least, BlockMath.SinCos2Pi(a[v] * turn).Cos);
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void Multiply(double[] into, double[] by)
    {
        var a = Lanes.AsVectors(into);
        var b = Lanes.AsVectors(by);
        for (int v = 0; v < a.Length; v++)
        {
            a[v] *= b[v];
        }
    }
}

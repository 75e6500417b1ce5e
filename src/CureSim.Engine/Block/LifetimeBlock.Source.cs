using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using CureSim.Core.Cell;
using CureSim.Core.Distributions;
using CureSim.Core.Model.Loop;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Engine.Block;

/// <content>The source: emitters, their ageing and wander, drive and loop. Arrays by emitter and lane.</content>
public sealed partial class LifetimeBlock
{
    private double[][] newOutput = [];
    private double[][] ageing0 = [];
    private double[][] ageing1 = [];
    private double[][] ageing2 = [];
    private double[][] bandRate = [];
    private double[][] burn = [];
    private double[][] burnHalf = [];
    private double[][] failAt = [];
    private double[][] wanderX = [];
    private double[][] wanderSigma = [];
    private double[][] wanderKeep = [];
    private double[][] wanderKick = [];
    private double[][] sensorDrift = [];
    private double[][] sensorAge = [];
    private double[][] setPoint = [];
    private double[][] drive = [];
    private double[][] saturated = [];
    private int[][] emitterNumber = [];

    // Values of the present moment: r, sensed output and useful output at full drive.
    private double[][] relative = [];
    private double[][] sensedFull = [];
    private double[][] emittedFull = [];

    private double legScale;
    private double burnRateShift;
    private double exposureDuty;
    private bool hasLoop;
    private bool hasWander;
    private bool wanderSeen;
    private bool hasBandAgeing;
    private bool hasDrift;

    private void AllocateSource()
    {
        var source = scenario.Source;
        newOutput = NewArrays(emitters);
        ageing0 = NewArrays(emitters);
        ageing1 = NewArrays(emitters);
        ageing2 = NewArrays(emitters);
        bandRate = NewArrays(emitters);
        burn = NewArrays(emitters);
        burnHalf = NewArrays(emitters);
        failAt = NewArrays(emitters);
        sensorDrift = NewArrays(emitters);
        sensorAge = NewArrays(emitters);
        setPoint = NewArrays(emitters);
        drive = NewArrays(emitters);
        saturated = NewArrays(emitters);
        relative = NewArrays(emitters);
        sensedFull = NewArrays(emitters);
        emittedFull = NewArrays(emitters);
        emitterNumber = NewCounters(emitters, lanes);
        hasWander = source.Wander is not null;
        wanderSeen = source.Wander is { SeenBySensor: true };
        if (hasWander)
        {
            wanderX = NewArrays(emitters);
            wanderSigma = NewArrays(emitters);
            wanderKeep = NewArrays(emitters);
            wanderKick = NewArrays(emitters);
        }

        hasLoop = scenario.Loop.Kind == LoopKind.OutputSensor;
        hasDrift = hasLoop && (model.SensorDrift.Varies || model.SensorDrift.Mean != 0.0);
        hasBandAgeing = model.BandAgeing.Varies || model.BandAgeing.Mean != 0.0;
        legScale = shared ? (double)source.StatedLegs / sites : 1.0;
        burnRateShift = 1.0 + (source.IgnitionsPerShift * source.IgnitionSeconds / scenario.Production.ShiftSeconds);
        double time = scenario.Exposure.SettingSeconds + model.TimeOffset.Mean + model.TimeError.Mean;
        exposureDuty = Math.Min(1.0, scenario.Production.PartsPerSecond * time / scenario.Production.PartsAtOnce);
    }

    /// <summary>Draws what belongs to an emitter when it is installed; its age starts at 0.</summary>
    private void InstallEmitter(int e, int lane)
    {
        installedEnd[e][lane] = commissioning ? 0 : step + 1;
        alarmAnswered[lane] = false;
        uint lifetime = Lifetime(lane);
        int number = emitterNumber[e][lane];
        newOutput[e][lane] = model.Irradiance.At(lifetime, e, number) * legScale;
        var draws = model.AgeingDraws;
        ageing0[e][lane] = draws[0].At(lifetime, e, number);
        ageing1[e][lane] = draws.Length > 1 ? draws[1].At(lifetime, e, number) : 1.0;
        ageing2[e][lane] = draws.Length > 2 ? draws[2].At(lifetime, e, number) : 1.0;
        bandRate[e][lane] = model.BandAgeing.At(lifetime, e, number);
        failAt[e][lane] = model.Failure?.At(lifetime, e, number) ?? double.PositiveInfinity;
        burn[e][lane] = 0.0;
        if (hasWander)
        {
            double sigma = model.WanderSpread!.At(lifetime, e, number), tau = model.WanderTime!.At(lifetime, e, number);
            double half = 0.5 * stepSeconds / tau;
            wanderSigma[e][lane] = sigma;
            wanderKeep[e][lane] = BlockMath.Exp(-half);
            wanderKick[e][lane] = sigma * Math.Sqrt(1.0 - BlockMath.Exp(-2.0 * half));
            wanderX[e][lane] = sigma * BlockMath.NormalQuantile(model.Points.Uniform(lifetime, model.WanderStart[e], number));
        }
    }

    /// <summary>r, sensed and useful output of an emitter in one lane, from its present burn time and wander.</summary>
    private void RefreshEmitter(int e, int lane, double burnTime)
    {
        double r = model.Ageing.Output(burnTime, ageing0[e][lane], ageing1[e][lane], ageing2[e][lane]);
        double clean = newOutput[e][lane] * r;
        double w = hasWander ? BlockMath.Exp(wanderX[e][lane] - (0.5 * wanderSigma[e][lane] * wanderSigma[e][lane])) : 1.0;
        relative[e][lane] = r;
        emittedFull[e][lane] = clean * w;
        sensedFull[e][lane] = wanderSeen ? clean * w : clean;
    }

    /// <summary>Lets the drive of one emitter settle: the loop holds its set-point, without a loop nothing moves.</summary>
    private void SettleDrive(int e, int lane)
    {
        if (!hasLoop)
        {
            return;
        }

        double g = hasDrift ? BlockMath.Exp(sensorDrift[e][lane] * sensorAge[e][lane]) : 1.0;
        double wanted = setPoint[e][lane] / (g * sensedFull[e][lane]);
        saturated[e][lane] = wanted > 1.0 + DriveModel.SaturationMargin ? 1.0 : 0.0;
        drive[e][lane] = model.Drive.Grid(wanted);
    }

    /// <summary>Useful light at full path, W/m²: drive × output × what the useful band has lost beyond what is read.</summary>
    private double Useful(int e, int lane, double burnTime)
    {
        double light = emittedFull[e][lane] * drive[e][lane];
        return hasBandAgeing ? light * BlockMath.Exp(-(bandRate[e][lane] * burnTime)) : light;
    }

    [MethodImpl(Kernel.Options)]
    private void AdvanceEmitters(int halfOfStep)
    {
        for (int e = 0; e < emitters; e++)
        {
            AddTo(burn[e], burnHalf[e]);
            if (hasDrift)
            {
                AddConstant(sensorAge[e], 0.5 * stepSeconds);
            }

            if (hasWander)
            {
                UniformBlock.Fill(plan.SeedOf(model.WanderHalf[e]), model.Values.World, first, model.WanderHalf[e], (2L * step) + halfOfStep, scratch);
                BlockMath.NormalQuantile(scratch, scratch);
                var x = Lanes.AsVectors(wanderX[e]);
                var keep = Lanes.AsVectors(wanderKeep[e]);
                var kick = Lanes.AsVectors(wanderKick[e]);
                var z = Lanes.AsVectors(scratch);
                for (int i = 0; i < x.Length; i++)
                {
                    x[i] = (x[i] * keep[i]) + (kick[i] * z[i]);
                }
            }
        }
    }

    [MethodImpl(Kernel.Options)]
    private void RefreshEmitters()
    {
        for (int e = 0; e < emitters; e++)
        {
            model.Ageing.Outputs(burn[e], ageing0[e], ageing1[e], ageing2[e], relative[e]);
            var r = Lanes.AsVectors(relative[e]);
            var output = Lanes.AsVectors(newOutput[e]);
            var clean = Lanes.AsVectors(sensedFull[e]);
            var all = Lanes.AsVectors(emittedFull[e]);
            if (!hasWander)
            {
                for (int i = 0; i < r.Length; i++)
                {
                    clean[i] = output[i] * r[i];
                    all[i] = clean[i];
                }

                continue;
            }

            var x = Lanes.AsVectors(wanderX[e]);
            var sigma = Lanes.AsVectors(wanderSigma[e]);
            var half = Vector512.Create(0.5);
            for (int i = 0; i < r.Length; i++)
            {
                var w = BlockMath.Exp(x[i] - (half * sigma[i] * sigma[i]));
                var fresh = output[i] * r[i];
                all[i] = fresh * w;
                clean[i] = wanderSeen ? all[i] : fresh;
            }
        }
    }

    [MethodImpl(Kernel.Options)]
    private void SettleDrives()
    {
        if (!hasLoop)
        {
            return;
        }

        for (int e = 0; e < emitters; e++)
        {
            var s = Lanes.AsVectors(setPoint[e]);
            var v = Lanes.AsVectors(sensedFull[e]);
            var u = Lanes.AsVectors(drive[e]);
            var full = Lanes.AsVectors(saturated[e]);
            var drift = Lanes.AsVectors(sensorDrift[e]);
            var age = Lanes.AsVectors(sensorAge[e]);
            var limit = Vector512.Create(1.0 + DriveModel.SaturationMargin);
            for (int i = 0; i < s.Length; i++)
            {
                var g = hasDrift ? BlockMath.Exp(drift[i] * age[i]) : Vector512<double>.One;
                var wanted = s[i] / (g * v[i]);
                full[i] = Vector512.ConditionalSelect(Vector512.GreaterThan(wanted, limit), Vector512<double>.One, Vector512<double>.Zero);
                u[i] = model.Drive.Grid(wanted);
            }
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void AddTo(Span<double> into, ReadOnlySpan<double> from)
    {
        var a = Lanes.AsVectors(into);
        var b = Lanes.AsVectors(from);
        for (int i = 0; i < a.Length; i++)
        {
            a[i] += b[i];
        }
    }

    [MethodImpl(Kernel.Options)]
    private static void AddConstant(Span<double> into, double value)
    {
        var a = Lanes.AsVectors(into);
        var v = Vector512.Create(value);
        for (int i = 0; i < a.Length; i++)
        {
            a[i] += v;
        }
    }
}

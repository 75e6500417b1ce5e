using CureSim.Core.Cell;
using CureSim.Core.Model.Bond;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Engine.Plan;
using CureSim.Engine.Runs;

namespace CureSim.Engine.Block;

/// <content>One part that a qualification takes, by the scalar twins of the block functions: true and indicated values of its bonds, outside or not.</content>
public sealed partial class LifetimeBlock
{
    private void LookAt(TakenSample sample, int lane, int group, int part, double time, Segment? seen)
    {
        uint lifetime = Lifetime(lane);
        long index = Draw.PartIndex(step, part);
        double exposure = TakenTime(lane, lifetime, group, index);
        bool outside = false, outsideRead = false;
        for (int position = 0; position < sample.Positions; position++)
        {
            int i = (group * sample.Positions) + position;
            double e = TakenIrradiance(i, lane, lifetime, index, seen);
            double degree = scenario.Cure is { } cure ? TakenDegree(cure, i, lane, lifetime, index, e, exposure) : double.NaN;

            // The window's own terms: a study meter's persistent error is part of them.
            double own = BlockMath.Exp(-limitShift[lane]), indicated = Indicated(i, lane, lifetime, index, time, e);
            for (int r = 0; r < scenario.Window.Limits.Length; r++)
            {
                var limits = scenario.Window.Limits[r];
                var (value, read) = limits.Response switch
                {
                    Response.Irradiance => (e * own, indicated),
                    Response.Dose => (e * exposure * own, indicated * exposure),
                    _ => (degree, degree),
                };
                if (!double.IsFinite(value + read))
                {
                    throw new NotANumberException("a part of a qualification", model.Values.World, lifetime, step, i);
                }

                sample.True[(r * sample.Positions) + position].Add(value);
                sample.Read[(r * sample.Positions) + position].Add(read);
                outside |= value < limits.Lower || value > limits.Upper;
                outsideRead |= read < limits.Lower || read > limits.Upper;
            }
        }

        sample.Nonconforming += outside ? 1 : 0;
        sample.NonconformingRead += outsideRead ? 1 : 0;
    }

    private double TakenTime(int lane, uint lifetime, int group, long index) => timeVaries
        ? Math.Max(1e-6, scenario.Exposure.SettingSeconds + model.TimeOffset.Mean + model.TimeError.At(lifetime, group, index))
        : times[group][lane];

    private double TakenIrradiance(int i, int lane, uint lifetime, long index, Segment? seen)
    {
        double e = seen?.Light[i] ?? light[i][lane];
        if (distanceVaries)
        {
            e *= model.Spread.At((seen?.Distance[i] ?? distance[i][lane]) + model.DistancePart.At(lifetime, i, index));
        }

        double ripple = rippleVaries ? model.Ripple.At(lifetime, EmitterOf(i), index) : 0.0;
        if (aimVaries)
        {
            e *= BlockMath.Exp(model.Beam.LogOfSquare(TakenSquaredAim(i, lifetime, index, seen?.X[i] ?? aimX[i][lane], seen?.Y[i] ?? aimY[i][lane])) + ripple);
        }
        else if (rippleVaries)
        {
            e *= BlockMath.Exp(ripple);
        }

        if (!rippleVaries)
        {
            e *= fixedRippleFactor;
        }

        if (tiltVaries)
        {
            e *= Cosine(model.Tilt.At(lifetime, i, index));
        }

        return thicknessVaries ? e * SubstrateModel.Transmission(scenario.Substrate!.Reflectance, absorption[lane], model.Thickness!.At(lifetime, i, index)) : e;
    }

    private double TakenSquaredAim(int i, uint lifetime, long index, double atX, double atY)
    {
        if (!aimIsotropic)
        {
            double px = model.AimPartX.At(lifetime, i, index) + atX, py = model.AimPartY.At(lifetime, i, index) + atY;
            return (px * px) + (py * py);
        }

        double Uniform(LevelDraw draw) => draw.OfPart(lifetime, i, index);
        double square = -2.0 * aimVariance * BlockMath.Log(Uniform(model.AimRadius));
        if (!aimOffsets)
        {
            return square;
        }

        double rho = Math.Sqrt(square);
        var (sin, cos) = BlockMath.SinCos2Pi(Uniform(model.AimDirection));
        double x = (rho * cos) + atX, y = (rho * sin) + atY;
        return (x * x) + (y * y);
    }

    private double TakenDegree(Cure cure, int i, int lane, uint lifetime, long index, double e, double exposure)
    {
        double rate = lotRate[lane] * (rateVaries ? BlockMath.Exp(model.RatePart!.At(lifetime, i, index)) : fixedRateFactor);
        return CureModel.Degree(cure.Maximum, rate, model.Exponent, model.InductionDose, e, exposure);
    }

    /// <summary>Irradiance at the bond as the cell's radiometer indicates it, W/m²: the same meter, calibration and shift as in its checks, a reading for each bond.</summary>
    private double Indicated(int i, int lane, uint lifetime, long index, double time, double truth)
    {
        long session = 1 + (long)Math.Floor((step * stepSeconds / scenario.Production.ShiftSeconds) + 1e-9);
        double error = meterError[lane] + calibrationError[lane] + (meterDriftRate[lane] * (time - calibratedAt[lane]))
            + model.Session.At(lifetime, 0, session) + model.PartReading.At(lifetime, i, index);
        double indication = truth * BlockMath.Exp(error), resolution = scenario.Radiometer.ResolutionWattsPerSquareMetre;
        return resolution > 0.0 ? Math.Round(indication / resolution, MidpointRounding.ToEven) * resolution : indication;
    }
}

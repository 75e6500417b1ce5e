using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;
using CureSim.Core.Summaries;
using CureSim.Engine.Plan;

namespace CureSim.Engine.Block;

/// <content>Disturbances: arrivals, effects, clearing, and harm done by interventions. Arrays by disturbance, place and lane.</content>
public sealed partial class LifetimeBlock
{
    private double[][][] nextArrival = [];
    private int[][][] arrivalNumber = [];
    private int[][][] introducedNumber = [];
    private double[][][] activeFactor = [];
    private double[][][] activeDistance = [];
    private double[][][] activeX = [];
    private double[][][] activeY = [];
    private int[][][] activeCount = [];

    // Sums over disturbances, by site and lane.
    private double[][] factorLog = [];
    private double[][] shiftDistance = [];
    private double[][] shiftX = [];
    private double[][] shiftY = [];

    private void AllocateDisturbances()
    {
        int n = model.Disturbances.Length;
        nextArrival = new double[n][][];
        arrivalNumber = new int[n][][];
        introducedNumber = new int[n][][];
        activeFactor = new double[n][][];
        activeDistance = new double[n][][];
        activeX = new double[n][][];
        activeY = new double[n][][];
        activeCount = new int[n][][];
        for (int d = 0; d < n; d++)
        {
            int places = model.Disturbances[d].PlaceCount;
            nextArrival[d] = NewArrays(places);
            arrivalNumber[d] = NewCounters(places, lanes);
            introducedNumber[d] = NewCounters(places, lanes);
            activeFactor[d] = NewArrays(places);
            activeDistance[d] = NewArrays(places);
            activeX[d] = NewArrays(places);
            activeY[d] = NewArrays(places);
            activeCount[d] = NewCounters(places, lanes);
        }

        factorLog = NewArrays(sites);
        shiftDistance = NewArrays(sites);
        shiftX = NewArrays(sites);
        shiftY = NewArrays(sites);
    }

    /// <summary>Time of the next arrival: exponential gaps from commissioning on, by arrival number.</summary>
    private void NextArrival(int d, int place, int lane)
    {
        var disturbance = model.Disturbances[d];
        if (!(disturbance.RatePerSecond > 0.0))
        {
            nextArrival[d][place][lane] = double.PositiveInfinity;
            return;
        }

        double u = Draw.Uniform(plan.Seed, model.Values.World, Lifetime(lane), disturbance.Gap[place], arrivalNumber[d][place][lane]);
        nextArrival[d][place][lane] += -BlockMath.Log(u) / disturbance.RatePerSecond;
    }

    private void Arrive(int d, int place, int lane, double time)
    {
        Strike(d, place, lane, arrivalNumber[d][place][lane], time);
        arrivalNumber[d][place][lane]++;
        NextArrival(d, place, lane);
    }

    /// <summary>The effect of arrival number <paramref name="number"/> at a place.</summary>
    private void Strike(int d, int place, int lane, long number, double time)
    {
        var disturbance = model.Disturbances[d];
        uint lifetime = Lifetime(lane);
        if (disturbance.Factor is { } factor)
        {
            activeFactor[d][place][lane] += BlockMath.Log(factor.At(lifetime, place, number));
        }

        if (disturbance.Distance is { } shift)
        {
            activeDistance[d][place][lane] += shift.At(lifetime, place, number);
        }

        if (disturbance.Aim is { } aim)
        {
            double length = aim.At(lifetime, place, number);
            var (sin, cos) = BlockMath.SinCos2Pi(Draw.Uniform(plan.Seed, model.Values.World, lifetime, disturbance.AimDirection[place], number));
            activeX[d][place][lane] += length * cos;
            activeY[d][place][lane] += length * sin;
        }

        activeCount[d][place][lane]++;
        if (lane < count)
        {
            records[lane].Disturbances++;
            Count(lane, CountedEvent.Disturbance);
        }

        if (Traced(lane))
        {
            trace!.Add(time, "disturbance", disturbance.Disturbance.Name, disturbance.Disturbance.WholeCell ? null : place, null);
        }

        RefreshDisturbed(d, place, lane);
    }

    /// <summary>Puts a disturbance at a place right; true when there was something to put right and it had moved the fixture.</summary>
    private bool Clear(int d, int place, int lane, double time)
    {
        if (activeCount[d][place][lane] == 0)
        {
            return false;
        }

        activeFactor[d][place][lane] = 0.0;
        activeDistance[d][place][lane] = 0.0;
        activeX[d][place][lane] = 0.0;
        activeY[d][place][lane] = 0.0;
        activeCount[d][place][lane] = 0;
        var disturbance = model.Disturbances[d].Disturbance;
        if (Traced(lane))
        {
            trace!.Add(time, "put right", disturbance.Name, disturbance.WholeCell ? null : place, null);
        }

        RefreshDisturbed(d, place, lane);
        return disturbance.MovesFixture;
    }

    /// <summary>Clears what <paramref name="cleared"/> selects at the places that touch a site range; sets up again the sites whose fixture was moved.</summary>
    private void ClearAt(int from, int to, int lane, double time, Func<Disturbance, int, bool> cleared)
    {
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            var disturbance = model.Disturbances[d].Disturbance;
            if (disturbance.WholeCell)
            {
                if (cleared(disturbance, -1) && Clear(d, 0, lane, time))
                {
                    for (int i = 0; i < sites; i++)
                    {
                        PutBack(i, lane);
                    }
                }

                continue;
            }

            for (int i = from; i < to; i++)
            {
                if (cleared(disturbance, i) && Clear(d, i, lane, time))
                {
                    PutBack(i, lane);
                }
            }
        }
    }

    private void PutBack(int i, int lane)
    {
        SetUpAgain(i, lane);
        RefreshGeometry(i, lane);
        RefreshPath(i, lane);
    }

    private void RefreshDisturbed(int d, int place, int lane)
    {
        bool whole = model.Disturbances[d].Disturbance.WholeCell;
        for (int i = whole ? 0 : place; i < (whole ? sites : place + 1); i++)
        {
            double factor = 0.0, shift = 0.0, x = 0.0, y = 0.0;
            for (int j = 0; j < model.Disturbances.Length; j++)
            {
                int at = model.Disturbances[j].Disturbance.WholeCell ? 0 : i;
                factor += activeFactor[j][at][lane];
                shift += activeDistance[j][at][lane];
                x += activeX[j][at][lane];
                y += activeY[j][at][lane];
            }

            factorLog[i][lane] = factor;
            shiftDistance[i][lane] = shift;
            shiftX[i][lane] = x;
            shiftY[i][lane] = y;
            RefreshGeometry(i, lane);
            RefreshPath(i, lane);
        }
    }

    /// <summary>Harm by an intervention: each disturbance with a probability for it may be introduced, at each place it touches.</summary>
    private void Harm(int lane, double time, Func<Disturbance, double> probability, Func<DisturbanceModel, StreamKey[]> stream, int from, int to, Func<int, long> index)
    {
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            var disturbance = model.Disturbances[d];
            double chance = probability(disturbance.Disturbance);
            if (chance <= 0.0)
            {
                continue;
            }

            bool whole = disturbance.Disturbance.WholeCell;
            for (int place = whole ? 0 : from; place < (whole ? 1 : to); place++)
            {
                double u = Draw.Uniform(plan.Seed, model.Values.World, Lifetime(lane), stream(disturbance)[place], index(whole ? -1 : place));
                if (u < chance)
                {
                    Strike(d, place, lane, DisturbanceModel.Introduced + introducedNumber[d][place][lane]++, time);
                }
            }
        }
    }
}

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

    private readonly List<(int Lane, int Disturbance, int Place)> harm = [];
    private bool[] toSetUp = [];

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

        toSetUp = new bool[sites];
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

        double u = model.Points.Uniform(Lifetime(lane), disturbance.Gap[place], arrivalNumber[d][place][lane]);
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
            var (sin, cos) = BlockMath.SinCos2Pi(model.Points.Uniform(lifetime, disturbance.AimDirection[place], number));
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

    /// <summary>Clears what <paramref name="cleared"/> selects at the places that touch a site range; marks the sites whose fixture had been moved for a new set-up.</summary>
    private void ClearAt(int from, int to, int lane, double time, Func<Disturbance, int, bool> cleared)
    {
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            var disturbance = model.Disturbances[d].Disturbance;
            if (disturbance.WholeCell)
            {
                if (cleared(disturbance, -1) && Clear(d, 0, lane, time))
                {
                    toSetUp.AsSpan().Fill(true);
                }

                continue;
            }

            for (int i = from; i < to; i++)
            {
                if (cleared(disturbance, i) && Clear(d, i, lane, time))
                {
                    toSetUp[i] = true;
                }
            }
        }
    }

    /// <summary>Sets up the marked sites, each once whatever was put right there.</summary>
    private void SetUpMarked(int lane)
    {
        for (int i = 0; i < sites; i++)
        {
            if (toSetUp[i])
            {
                toSetUp[i] = false;
                SetUpAgain(i, lane);
                RefreshGeometry(i, lane);
                RefreshPath(i, lane);
            }
        }
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

    /// <summary>Decides the harm of a check or a cleaning: each disturbance with a probability for it may be introduced, at each of its places.</summary>
    private void DecideHarm(int lane, long number, Func<Disturbance, double> probability, Func<DisturbanceModel, StreamKey[]> streams)
    {
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            var disturbance = model.Disturbances[d];
            double chance = probability(disturbance.Disturbance);
            for (int place = 0; chance > 0.0 && place < disturbance.PlaceCount; place++)
            {
                Decide(lane, d, place, chance, streams(disturbance)[place], number);
            }
        }
    }

    /// <summary>Decides the harm of a replacement at an emitter's (or guide's) place: to its own sites, or to the whole cell.</summary>
    private void DecideHarmByReplacement(int e, int lane)
    {
        long number = replacementNumber[e][lane]++;
        var (from, to) = SitesOf(e);
        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            var disturbance = model.Disturbances[d];
            double chance = disturbance.Disturbance.ByReplacement;
            if (chance <= 0.0)
            {
                continue;
            }

            if (disturbance.Disturbance.WholeCell)
            {
                Decide(lane, d, 0, chance, disturbance.ByReplacement[e], number);
                continue;
            }

            for (int i = from; i < to; i++)
            {
                Decide(lane, d, i, chance, disturbance.ByReplacement[i], number);
            }
        }
    }

    private void Decide(int lane, int d, int place, double chance, StreamKey stream, long number)
    {
        if (Draw.Uniform(plan.SeedOf(stream), model.Values.World, Lifetime(lane), stream, number) < chance)
        {
            harm.Add((lane, d, place));
        }
    }

    /// <summary>Does the harm that was decided, when its routine is over.</summary>
    private void DoHarm(int lane, double time)
    {
        if (harm.Count == 0)
        {
            return;
        }

        judgedAsLeft = false;
        foreach (var (whose, d, place) in harm)
        {
            if (whose == lane)
            {
                Strike(d, place, lane, DisturbanceModel.Introduced + introducedNumber[d][place][lane]++, time);
            }
        }

        harm.RemoveAll(h => h.Lane == lane);
    }
}

using CureSim.Core.Cell;
using CureSim.Core.Numerics;
using CureSim.Core.Random;

namespace CureSim.Engine.Block;

/// <content>The radiometer, reading a site, and setting an emitter. Arrays by lane or by site and lane.</content>
public sealed partial class LifetimeBlock
{
    private double[] meterError = [];
    private double[] calibrationScore = [];
    private double[] calibrationError = [];
    private double[] meterDriftRate = [];
    private double[] calibratedAt = [];
    private int[] meterNumber = [];
    private int[] calibrationNumber = [];
    private int[][] readingStep = [];
    private int[][] readingNumber = [];
    private double[][] reference = [];
    private double[][] asLeft = [];
    private double[][] bracketParts = [];
    private int[] checkNumber = [];
    private int[] dueCheck = [];
    private int[] lateCheck = [];
    private int[][] replacementNumber = [];
    private int[] cleaningTotal = [];
    private bool commissioning;
    private bool requalifying;

    private void AllocateChecks()
    {
        AllocateInside();
        meterError = new double[lanes];
        calibrationScore = new double[lanes];
        calibrationError = new double[lanes];
        meterDriftRate = new double[lanes];
        calibratedAt = new double[lanes];
        meterNumber = new int[lanes];
        calibrationNumber = new int[lanes];
        readingStep = NewCounters(sites, lanes);
        readingNumber = NewCounters(sites, lanes);
        reference = NewArrays(sites);
        asLeft = NewArrays(sites);
        bracketParts = NewArrays(sites);
        checkNumber = new int[lanes];
        dueCheck = new int[lanes];
        lateCheck = new int[lanes];
        replacementNumber = NewCounters(emitters, lanes);
        cleaningTotal = new int[lanes];
        dueLanes = new int[lanes];
        installedEnd = NewCounters(emitters, lanes);
        driveWasAbove = new bool[emitters, lanes];
        checkAsked = new bool[lanes];
        alarmAnswered = new bool[lanes];
        AllocateAhead();
    }

    /// <summary>Another radiometer: a new persistent error and a first calibration of its own.</summary>
    private void BuyMeter(int lane, double time)
    {
        meterError[lane] = model.Meter.At(Lifetime(lane), 0, meterNumber[lane]);
        calibrationScore[lane] = CalibrationScore(lane);
        TakeCalibration(lane, time);
    }

    /// <summary>Back from calibration: the error is correlated with the one before, because laboratories and standards persist.</summary>
    private void Calibrate(int lane, double time)
    {
        double rho = scenario.Radiometer.Persistence;
        calibrationScore[lane] = (rho * calibrationScore[lane]) + (Math.Sqrt(1.0 - (rho * rho)) * CalibrationScore(lane));
        TakeCalibration(lane, time);
        if (Traced(lane))
        {
            trace!.Add(time, "calibration", null, null, calibrationError[lane]);
        }
    }

    private double CalibrationScore(int lane) => BlockMath.NormalQuantile(
        model.Calibration.Uniform(Lifetime(lane), 0, calibrationNumber[lane]));

    private void TakeCalibration(int lane, double time)
    {
        calibrationError[lane] = model.Calibration.Varies
            ? model.Calibration.Distribution.Quantile(BlockMath.NormalCdf(calibrationScore[lane])) * model.Calibration.Factor
            : model.Calibration.Mean;
        meterDriftRate[lane] = model.MeterDrift.At(Lifetime(lane), 0, calibrationNumber[lane]);
        calibratedAt[lane] = time;
    }

    /// <summary>Indication of the radiometer at a site, W/m².</summary>
    private double Read(int i, int lane, double time)
    {
        int e = EmitterOf(i);
        double truth = emittedFull[e][lane] * drive[e][lane] * Transmitted(i, lane);
        if (scenario.Checks!.MeasuredAt == MeasuredAt.BondFixture)
        {
            truth *= readingGeometry[i][lane];
        }

        int now = commissioning ? -1 : step;
        if (readingStep[i][lane] != now)
        {
            readingStep[i][lane] = now;
            readingNumber[i][lane] = 0;
        }

        long session = commissioning ? 0 : 1 + (long)Math.Floor((step * stepSeconds / scenario.Production.ShiftSeconds) + 1e-9);
        double error = meterError[lane] + calibrationError[lane] + (meterDriftRate[lane] * (time - calibratedAt[lane]))
            + SessionError(lane, session)
            + RepeatabilityError(i, lane, now, readingNumber[i][lane]++);
        double indication = truth * BlockMath.Exp(error);
        double resolution = scenario.Radiometer.ResolutionWattsPerSquareMetre;
        return resolution > 0.0 ? Math.Round(indication / resolution, MidpointRounding.ToEven) * resolution : indication;
    }

    /// <summary>Sets an emitter to the target; after an installation the first reading is at full drive.</summary>
    private void SetEmitter(int e, int lane, double time, bool afterInstallation)
    {
        var (from, to) = SitesOf(e);
        alarmed[e][lane] = false;
        if (scenario.Checks is not { } checks)
        {
            drive[e][lane] = scenario.Source.Drive;
            setPoint[e][lane] = sensedFull[e][lane] * drive[e][lane];
            sensorAge[e][lane] = 0.0;
            saturated[e][lane] = 0.0;
            for (int i = from; i < to; i++)
            {
                bracketParts[i][lane] = PartsAt(lane, time);
            }

            return;
        }

        double target = checks.TargetWattsPerSquareMetre;
        for (int attempt = 0; attempt < checks.Tries; attempt++)
        {
            if (afterInstallation && attempt == 0)
            {
                drive[e][lane] = 1.0;
            }
            else
            {
                SettleDrive(e, lane);
            }

            double indication = Indication(from, to, lane, time, null);
            double full = sensedFull[e][lane];
            if (hasLoop)
            {
                setPoint[e][lane] = Math.Min(full, full * drive[e][lane] * target / indication);
                drive[e][lane] = model.Drive.Grid(setPoint[e][lane] / full);
            }
            else
            {
                drive[e][lane] = model.Drive.Grid(drive[e][lane] * target / indication);
            }

            sensorAge[e][lane] = 0.0;
            saturated[e][lane] = 0.0;
            double left = Indication(from, to, lane, time, asLeft);
            if (!(Math.Abs((left / target) - 1.0) > checks.AdjustLimit))
            {
                break;
            }
        }

        bool legsOut = false;
        for (int i = from; i < to; i++)
        {
            reference[i][lane] = shared && sites > 1 ? asLeft[i][lane] : target;
            bracketParts[i][lane] = PartsAt(lane, time);
            legsOut |= checks.LegLimit is { } limit && Math.Abs((asLeft[i][lane] / target) - 1.0) > limit;
        }

        if (legsOut)
        {
            Record(lane).LegsOutOfLimit++;
        }

        if (Traced(lane))
        {
            trace!.Add(time, "set", hasLoop ? "set-point" : "drive", shared ? null : e, drive[e][lane]);
        }
    }

    /// <summary>Reads the sites of an emitter; the indication to set by is their mean or the weakest.</summary>
    private double Indication(int from, int to, int lane, double time, double[][]? keep)
    {
        double sum = 0.0, least = double.PositiveInfinity;
        for (int i = from; i < to; i++)
        {
            double reading = Read(i, lane, time);
            sum += reading;
            least = Math.Min(least, reading);
            if (keep is not null)
            {
                keep[i][lane] = reading;
            }

            if (Traced(lane))
            {
                trace!.Add(time, keep is null ? "read" : "as left", null, i, reading);
                if (keep is not null)
                {
                    NoteReading(i, lane, time, reading, asFound: false);
                }
            }
        }

        return scenario.Checks!.SetBy == LegIndication.Weakest ? least : sum / (to - from);
    }

    private void SetUpSites(int e, int lane)
    {
        var (from, to) = SitesOf(e);
        for (int i = from; i < to; i++)
        {
            SetUpAgain(i, lane);
            RefreshGeometry(i, lane);
            RefreshPath(i, lane);
        }
    }

    /// <summary>t = 0: draws, cleaning, set-up, setting; or the plant's present state.</summary>
    private void Commission()
    {
        commissioning = true;
        step = 0;
        StartLots();
        var now = scenario.Now;
        for (int lane = 0; lane < lanes; lane++)
        {
            CommissionLane(lane, now);
        }

        commissioning = false;
    }

    private void CommissionLane(int lane, PresentState? now)
    {
        BuyMeter(lane, 0.0);
        limitShift[lane] = scenario.Window.InStudyMeterUnits ? -meterError[lane] : 0.0;
        for (int e = 0; e < emitters; e++)
        {
            InstallEmitter(e, lane);
            sensorDrift[e][lane] = model.SensorDrift.At(Lifetime(lane), e, 0);
            burn[e][lane] = At(now?.EmitterBurnSeconds, e) ?? 0.0;
        }

        for (int g = 0; g < guides; g++)
        {
            InstallGuide(g, lane);
            guideLit[g][lane] = At(now?.GuideLitSeconds, g) ?? 0.0;
        }

        if (now?.LegShares is { } shares && shared)
        {
            double sum = 0.0;
            for (int i = 0; i < sites; i++)
            {
                legLog[i][lane] = BlockMath.Log(shares[i]);
                sum += shares[i];
            }

            NormaliseLegs(lane, sum);
        }

        for (int i = 0; i < sites; i++)
        {
            DrawFouling(i, lane);
            exposures[i][lane] = At(now?.ExposuresSinceCleaning, i) ?? 0.0;
            SetUp(i, lane);
            RefreshGeometry(i, lane);
            RefreshPath(i, lane);
        }

        for (int d = 0; d < model.Disturbances.Length; d++)
        {
            for (int place = 0; place < model.Disturbances[d].PlaceCount; place++)
            {
                NextArrival(d, place, lane);
            }
        }

        FailEarlierInstallations(lane);
        for (int e = 0; e < emitters; e++)
        {
            RefreshEmitter(e, lane, burn[e][lane]);
            if (now?.Drive is { } given)
            {
                drive[e][lane] = given[e];
                setPoint[e][lane] = sensedFull[e][lane] * given[e];
            }
            else
            {
                SetEmitter(e, lane, 0.0, afterInstallation: true);
            }
        }

        for (int i = 0; i < sites; i++)
        {
            if (now?.Drive is not null && scenario.Checks is { } checks)
            {
                reference[i][lane] = shared && sites > 1 ? At(now.LastAsLeftWattsPerSquareMetre, i) ?? checks.TargetWattsPerSquareMetre : checks.TargetWattsPerSquareMetre;
            }

            RefreshLight(i, lane, burn[EmitterOf(i)][lane]);
        }

        if (scenario.Checks is { } routine)
        {
            ScheduleCheck(lane, routine);
        }

        StartJudging(lane);
    }

    /// <summary>An emitter whose present age is already given has survived to it: its failure time is drawn on condition of that.</summary>
    private void FailEarlierInstallations(int lane)
    {
        if (model.Failure is not { Varies: true } failure)
        {
            return;
        }

        for (int e = 0; e < emitters; e++)
        {
            double age = burn[e][lane];
            if (age > 0.0)
            {
                double u = failure.Uniform(Lifetime(lane), e, 0);
                double alive = failure.Distribution.Survival(age / failure.Factor);
                failAt[e][lane] = failure.Factor * failure.Distribution.Quantile(1.0 - (alive * (1.0 - u)));
            }
        }
    }

    /// <summary>The first judgement, at t = 0: not qualified here is never qualified.</summary>
    private void StartJudging(int lane)
    {
        ref var record = ref Record(lane);
        record.RequalifySeconds = record.FirstExcursionSeconds = record.FirstDetectionSeconds = double.NaN;
        qualified[lane] = true;
        inside[lane] = true;
        detectedAt[lane] = outsideDetectedAt[lane] = double.NaN;
        for (int i = 0; i < sites; i++)
        {
            siteLog[i] = judgedLog[i][lane] = logNominal[i][lane];
        }

        double margin = model.Judge.NominalMargin(siteLog, lotRateLog[lane], limitShift[lane]);
        double part = ProbabilityNow(lane).Part;
        bool ok = model.Judge.Verdict(part, margin);
        partProbability[lane] = part;
        Invalidate(lane);
        qualified[lane] = verdictQualified[lane] = ok;
        inside[lane] = verdictInside[lane] = margin >= 0.0;
        record.NeverQualified = !ok;
        if (Traced(lane))
        {
            trace!.Add(0.0, ok ? "commissioned" : "commissioned, never qualified", null, null, part);
        }

        if (lane < count)
        {
            LeafOf(lane).IndexAt[0][SummaryLayoutIndex(part)]++;
        }
    }

    private static double? At(System.Collections.Immutable.ImmutableArray<double>? values, int i) =>
        values is { } given && i < given.Length ? given[i] : null;
}

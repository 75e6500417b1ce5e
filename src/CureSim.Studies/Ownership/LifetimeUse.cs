using CureSim.Core.Cell;
using CureSim.Core.Summaries;

namespace CureSim.Studies.Ownership;

/// <summary>What a lifetime uses and makes, each with a price of its own.</summary>
public enum UseKind
{
    /// <summary>Parts made.</summary>
    Parts,

    /// <summary>Nonconforming parts: parts made times the conditional fraction of the year.</summary>
    NonconformingParts,

    /// <summary>Suspect parts.</summary>
    SuspectParts,

    /// <summary>Checks.</summary>
    Checks,

    /// <summary>Emitters taken out: failed, planned, short.</summary>
    Emitters,

    /// <summary>… of them failed.</summary>
    Failures,

    /// <summary>Guides.</summary>
    Guides,

    /// <summary>Requalifications.</summary>
    Requalifications,

    /// <summary>Calibrations.</summary>
    Calibrations,

    /// <summary>Radiometers bought after the start.</summary>
    Radiometers,

    /// <summary>Hours lost in checks.</summary>
    LostInChecks,

    /// <summary>Hours lost in failures and requalifications.</summary>
    LostUnplanned,

    /// <summary>Hours lost in planned replacements.</summary>
    LostPlanned,

    /// <summary>Electricity of the source, kWh.</summary>
    SourceEnergy,

    /// <summary>Electricity with that of the cooling, kWh.</summary>
    Energy,

    /// <summary>Seconds of exposure, one for each part.</summary>
    ExposureSeconds,
}

/// <summary>Running totals of what a lifetime uses, at the start and at the end of each year.</summary>
/// <remarks>
/// Lit hours: whole shift — all scheduled hours; exposures only — exposures times the set exposure time; with the warm-up of each ignition. Standby: scheduled hours that are not lit.
/// kWh = emitters·(P_lit·(h_lit + h_warm) + P_standby·h_standby); cooling adds its share over its COP. Source: C13.2, C13.3 (common practice, no source).
/// </remarks>
public sealed class LifetimeUse
{
    /// <summary>Number of kinds.</summary>
    public const int Kinds = 16;

    private readonly double[] totals;

    /// <summary>Totals that are known already, by kind and year: kind·(years + 1) + year.</summary>
    public LifetimeUse(int years, double[] totals)
    {
        ArgumentNullException.ThrowIfNull(totals);
        if (totals.Length != Kinds * (years + 1))
        {
            throw new ArgumentException($"{Kinds} kinds of {years + 1} totals are needed", nameof(totals));
        }

        Years = years;
        this.totals = totals;
    }

    /// <summary>Years.</summary>
    public int Years { get; }

    /// <summary>A total at a time in years, straight between ends of years; nothing before the start or after the horizon.</summary>
    public double At(UseKind kind, double years)
    {
        double t = Math.Clamp(years, 0.0, Years);
        int from = Math.Min((int)t, Years - 1), place = ((int)kind * (Years + 1)) + from;
        double part = t - from;
        return part == 0.0 ? totals[place] : part == 1.0 ? totals[place + 1] : totals[place] + (part * (totals[place + 1] - totals[place]));
    }

    /// <summary>Over the whole horizon.</summary>
    public double Whole(UseKind kind) => totals[((int)kind * (Years + 1)) + Years];

    /// <summary>What a scenario's lifetime uses, from its yearly lines.</summary>
    public static LifetimeUse Of(Scenario cell, ReadOnlySpan<YearLine> lines)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var option = cell.Ownership ?? throw new ArgumentException("The scenario is no option of the ownership study.", nameof(cell));
        int years = lines.Length;
        var totals = new double[Kinds * (years + 1)];
        var (p, d, r) = (cell.Production, cell.Downtimes, cell.Radiometer);
        int emitters = EmitterCount(cell);
        double hoursAYear = p.YearSeconds / 3600.0, shiftsAYear = p.YearSeconds / p.ShiftSeconds;
        double warmUp = cell.Source.IgnitionsPerShift * shiftsAYear * option.WarmUpSeconds / 3600.0;
        double cooling = 1.0 + (option.CooledShare / option.CoolingPerformance);
        YearLine before = default;
        for (int y = 1; y <= years; y++)
        {
            ref readonly var line = ref lines[y - 1];
            void Set(UseKind kind, double own) => totals[((int)kind * (years + 1)) + y] = totals[((int)kind * (years + 1)) + y - 1] + own;
            double parts = line.PartsMade - before.PartsMade, states = line.ConditionalStates - before.ConditionalStates;
            double fraction = states > 0.0 ? (line.ConditionalParts - before.ConditionalParts) / states : 0.0;
            int failed = line.EmittersFailed - before.EmittersFailed, checks = line.Checks - before.Checks, requalifications = line.Requalifications - before.Requalifications;
            double inChecks = checks * d.CheckSeconds, unplanned = (failed * d.FailureSeconds) + (requalifications * d.RequalificationSeconds);
            double lit = cell.Source.Lit == LitDuring.WholeShift ? hoursAYear : parts / p.PartsAtOnce * cell.Exposure.SettingSeconds / 3600.0;
            double energy = emitters * ((option.LitWatts * (lit + warmUp)) + (option.StandbyWatts * Math.Max(0.0, hoursAYear - lit))) / 1000.0;
            Set(UseKind.Parts, parts);
            Set(UseKind.NonconformingParts, parts * fraction);
            Set(UseKind.SuspectParts, line.SuspectParts - before.SuspectParts);
            Set(UseKind.Checks, checks);
            Set(UseKind.Emitters, failed + line.EmittersReplaced - before.EmittersReplaced);
            Set(UseKind.Failures, failed);
            Set(UseKind.Guides, line.Guides - before.Guides);
            Set(UseKind.Requalifications, requalifications);
            int bought = Times(p, r.NewMeterSteps, y) - Times(p, r.NewMeterSteps, y - 1);
            Set(UseKind.Radiometers, bought);

            // A radiometer that is bought comes calibrated: the calibration due at that moment is not made.
            Set(UseKind.Calibrations, Math.Max(0, Times(p, r.CalibrationSteps, y) - Times(p, r.CalibrationSteps, y - 1) - Together(p, r, y)));
            Set(UseKind.LostInChecks, inChecks / 3600.0);
            Set(UseKind.LostUnplanned, unplanned / 3600.0);
            Set(UseKind.LostPlanned, Math.Max(0.0, line.DowntimeSeconds - before.DowntimeSeconds - inChecks - unplanned) / 3600.0);
            Set(UseKind.SourceEnergy, energy);
            Set(UseKind.Energy, energy * cooling);
            Set(UseKind.ExposureSeconds, parts * cell.Exposure.SettingSeconds);
            before = line;
        }

        return new(years, totals);
    }

    /// <summary>Emitters of a cell.</summary>
    public static int EmitterCount(Scenario cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        return cell.Source.Arrangement == EmitterArrangement.Shared ? 1 : cell.Production.SiteCount;
    }

    private static int LastStep(Production p, int year) => (int)Math.Round(year * p.YearSeconds / p.StepSeconds);

    private static int Times(Production p, int every, int year) => every > 0 ? LastStep(p, year) / every : 0;

    // Steps of a year at which a calibration and a purchase fall together.
    private static int Together(Production p, Radiometer r, int year)
    {
        if (r.NewMeterSteps <= 0 || r.CalibrationSteps <= 0)
        {
            return 0;
        }

        int together = 0;
        for (int n = Times(p, r.NewMeterSteps, year - 1) + 1; n <= Times(p, r.NewMeterSteps, year); n++)
        {
            together += n * (long)r.NewMeterSteps % r.CalibrationSteps == 0 ? 1 : 0;
        }

        return together;
    }
}

using CureSim.Core.Cell;

namespace CureSim.StatisticalTests.Reference;

/// <summary>An emitter's place and the emitter that is installed there now.</summary>
internal sealed class EmitterPlace(int number, int place, int[] sites)
{
    public int Number { get; } = number;

    public int Place { get; } = place;

    public int[] Sites { get; } = sites;

    public int Installation { get; set; } = -1;

    /// <summary>Steps since the end of the step in which it was installed are counted from here; null: it was there before t = 0.</summary>
    public int? NewSince { get; set; }

    /// <summary>Its drive was above the limit of the check routine in the last step.</summary>
    public bool DriveWasAbove { get; set; }

    /// <summary>E0 for one leg, W/m².</summary>
    public double FullIrradiance { get; set; }

    public Func<double, double> Ageing { get; set; } = _ => 1.0;

    public double BandAgeing { get; set; }

    public double FailureBurn { get; set; } = double.PositiveInfinity;

    public double WanderSpread { get; set; }

    public double WanderTime { get; set; } = 1.0;

    /// <summary>x of the wander.</summary>
    public double WanderScore { get; set; }

    public double BurnSeconds { get; set; }

    /// <summary>Burn time of a successor of this step at the end of the step; null otherwise.</summary>
    public double? BurnAtEndOfStep { get; set; }

    public double Drive { get; set; } = 1.0;

    /// <summary>S.</summary>
    public double SetPoint { get; set; }

    /// <summary>u*, the drive that the loop asks for.</summary>
    public double WantedDrive { get; set; }

    public double SensorDrift { get; set; }

    /// <summary>Time since the emitter was last set, s.</summary>
    public double SensorAge { get; set; }

    /// <summary>Saturated at the middle of the last step and not set since.</summary>
    public bool KnownSaturated { get; set; }

    /// <summary>Mean or weakest as-left reading of the last setting.</summary>
    public double AsLeft { get; set; } = double.NaN;
}

/// <summary>A guide's place and the guide that is installed there now.</summary>
internal sealed class GuidePlace(int number, int place, int[] sites)
{
    public int Number { get; } = number;

    public int Place { get; } = place;

    public int[] Sites { get; } = sites;

    public int Installation { get; set; } = -1;

    public double LogTransmission { get; set; }

    public double LossRate { get; set; }

    public double LitSeconds { get; set; }
}

/// <summary>A site: its tip and fixture.</summary>
internal sealed class SitePlace(int number, EmitterPlace emitter, GuidePlace? guide, int group)
{
    public int Number { get; } = number;

    public EmitterPlace Emitter { get; } = emitter;

    public GuidePlace? Guide { get; } = guide;

    public int Group { get; } = group;

    public int SetUpNumber { get; set; } = -1;

    public double DistanceOffset { get; set; }

    public double AimX { get; set; }

    public double AimY { get; set; }

    public double LogReseat { get; set; }

    public double LegFactor { get; set; } = 1.0;

    public int CleaningNumber { get; set; } = -1;

    public double Fouling { get; set; }

    /// <summary>N, exposures since cleaning.</summary>
    public double Exposures { get; set; }

    /// <summary>What an as-found reading is compared with, W/m².</summary>
    public double Reference { get; set; }

    /// <summary>Parts made by the cell when the present suspect bracket was opened.</summary>
    public double BracketParts { get; set; }

    /// <summary>Readings of this site so far in the step.</summary>
    public int ReadingsInStep { get; set; }
}

/// <summary>What one arrival did and has not been put right.</summary>
internal readonly record struct DisturbanceEffect(double Factor, double Distance, double AimX, double AimY);

/// <summary>One disturbance at one place: its next arrival and the effects in force.</summary>
internal sealed class DisturbancePlace(Disturbance kind, int place, int[] sites)
{
    public Disturbance Kind { get; } = kind;

    public int Place { get; } = place;

    public int[] Sites { get; } = sites;

    public double Rate { get; set; }

    public long Arrivals { get; set; }

    public long Introduced { get; set; }

    public double NextArrival { get; set; } = double.PositiveInfinity;

    public List<DisturbanceEffect> Effects { get; } = [];
}

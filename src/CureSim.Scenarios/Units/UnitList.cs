using UnitsNet;
using UnitsNet.Units;

namespace CureSim.Scenarios;

/// <summary>The unit words of scenario files. Plain physical units are converted by UnitsNet; calendar words and percent are our own.</summary>
internal static class UnitList
{
    public static readonly Unit[] Lengths =
    [
        Plain("mm", v => Length.From(v, LengthUnit.Millimeter).Meters, "millimetre"),
        Plain("um", v => Length.From(v, LengthUnit.Micrometer).Meters, "µm", "μm"),
        Plain("cm", v => Length.From(v, LengthUnit.Centimeter).Meters),
        Plain("m", v => Length.From(v, LengthUnit.Meter).Meters),
    ];

    public static readonly Unit[] Clock =
    [
        Plain("s", v => Duration.From(v, DurationUnit.Second).Seconds),
        Plain("ms", v => Duration.From(v, DurationUnit.Millisecond).Seconds),
        Plain("min", v => Duration.From(v, DurationUnit.Minute).Seconds),
        Plain("h", v => Duration.From(v, DurationUnit.Hour).Seconds, "hour", "hours"),
    ];

    public static readonly Unit[] Hours =
    [
        Clock[3],
        Clock[2],
        Clock[0],
    ];

    public static readonly Unit[] Calendar =
    [
        Word("shift", CalendarWord.Shift, "shifts"),
        Word("day", CalendarWord.Day, "days"),
        Word("week", CalendarWord.Week, "weeks"),
        Word("month", CalendarWord.Month, "months"),
        Word("quarter", CalendarWord.Quarter, "quarters"),
        Word("half year", CalendarWord.HalfYear, "half years"),
        Word("yr", CalendarWord.Year, "year", "years"),
    ];

    public static readonly Unit[] Irradiances =
    [
        Plain("W/cm2", v => Irradiance.From(v, IrradianceUnit.WattPerSquareCentimeter).WattsPerSquareMeter, "W/cm^2"),
        Plain("mW/cm2", v => Irradiance.From(v, IrradianceUnit.MilliwattPerSquareCentimeter).WattsPerSquareMeter, "mW/cm^2"),
        Plain("W/m2", v => Irradiance.From(v, IrradianceUnit.WattPerSquareMeter).WattsPerSquareMeter, "W/m^2"),
    ];

    public static readonly Unit[] Doses =
    [
        Plain("J/cm2", v => Irradiation.From(v, IrradiationUnit.JoulePerSquareCentimeter).JoulesPerSquareMeter, "J/cm^2"),
        Plain("mJ/cm2", v => v * 10, "mJ/cm^2"),
        Plain("J/m2", v => Irradiation.From(v, IrradiationUnit.JoulePerSquareMeter).JoulesPerSquareMeter, "J/m^2"),
    ];

    public static readonly Unit[] Angles =
    [
        Plain("deg", v => Angle.From(v, AngleUnit.Degree).Radians, "°", "degrees"),
        Plain("rad", v => Angle.From(v, AngleUnit.Radian).Radians),
        Plain("mrad", v => Angle.From(v, AngleUnit.Milliradian).Radians),
    ];

    public static readonly Unit[] Attenuations =
    [
        Plain("/mm", v => ReciprocalLength.From(v, ReciprocalLengthUnit.InverseMillimeter).InverseMeters),
        Plain("/cm", v => ReciprocalLength.From(v, ReciprocalLengthUnit.InverseCentimeter).InverseMeters),
        Plain("/m", v => ReciprocalLength.From(v, ReciprocalLengthUnit.InverseMeter).InverseMeters),
    ];

    public static readonly Unit[] Powers =
    [
        Plain("W", v => (double)Power.From(v, PowerUnit.Watt).Watts),
        Plain("kW", v => (double)Power.From(v, PowerUnit.Kilowatt).Watts),
    ];

    public static readonly Unit[] Percents = [Plain("%", v => v / 100, "percent")];

    public static readonly Unit[] Proportions = [Percents[0], Plain("ppm", v => v / 1e6)];

    private static Unit Plain(string symbol, Func<double, double> toSi, params string[] spellings) => new(symbol, spellings, (v, _) => toSi(v));

    private static Unit Word(string symbol, CalendarWord word, params string[] spellings) =>
        new(symbol, spellings, (v, clock) => v * clock.Seconds(word), word);
}

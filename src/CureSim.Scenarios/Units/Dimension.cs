using System.Text.RegularExpressions;

namespace CureSim.Scenarios;

/// <summary>What a value is (a length, an irradiance …): the units it may be written in and how they are named to the user.</summary>
/// <param name="Key">One word of its own, for the schema.</param>
/// <param name="Name">With its article, for messages.</param>
/// <param name="Example">A value that is accepted.</param>
/// <param name="Units">Units that stand after the number; of a rate, the units below the stroke.</param>
/// <param name="Form">How number and unit stand together.</param>
internal sealed record Dimension(string Key, string Name, string Example, Unit[] Units, DimensionForm Form = DimensionForm.NumberAndUnit)
{
    public static readonly Dimension Length = new("length", "a length", "12 mm", UnitList.Lengths);
    public static readonly Dimension Time = new("time", "a time", "3 s", UnitList.Clock);
    public static readonly Dimension LitTime = new("lit_time", "a number of lit hours", "2400 h", UnitList.Hours);
    public static readonly Dimension Hours = new("hours", "a number of production hours", "8 h", UnitList.Hours);
    public static readonly Dimension ProductionTime = new("production_time", "a production time", "6000 h", [.. UnitList.Hours, .. UnitList.Calendar]);
    public static readonly Dimension Interval = new("interval", "an interval", "1 week", [.. UnitList.Hours, .. UnitList.Calendar]);
    public static readonly Dimension Irradiance = new("irradiance", "an irradiance", "6.5 W/cm2", UnitList.Irradiances);
    public static readonly Dimension Dose = new("dose", "a dose", "7 J/cm2", UnitList.Doses);
    public static readonly Dimension Angle = new("angle", "an angle", "17 deg", UnitList.Angles);
    public static readonly Dimension Attenuation = new("attenuation", "an absorption coefficient", "0.25 /mm", UnitList.Attenuations);
    public static readonly Dimension Ratio = new("ratio", "a percentage", "70 %", UnitList.Percents);
    public static readonly Dimension Proportion = new("proportion", "a proportion", "100 ppm", UnitList.Proportions);
    public static readonly Dimension Number = new("number", "a number", "1.3", [], DimensionForm.Bare);
    public static readonly Dimension CureRate = new("cure_rate", "a rate", "0.9 /s", [UnitList.Clock[0], UnitList.Clock[2]], DimensionForm.Rate);
    public static readonly Dimension PartRate = new("part_rate", "a rate", "240 /h", [UnitList.Clock[3], UnitList.Clock[2], UnitList.Clock[0]], DimensionForm.Rate);
    public static readonly Dimension EventRate = new("event_rate", "a rate of events", "1 /1000 h", [UnitList.Clock[3], .. UnitList.Calendar], DimensionForm.Rate);
    public static readonly Dimension Drift = new("drift", "a drift", "0.3 %/1000 h", [UnitList.Clock[3], .. UnitList.Calendar], DimensionForm.PercentRate);
    public static readonly Dimension LitLoss = new("lit_loss", "a loss", "2 %/1000 h", [UnitList.Clock[3]], DimensionForm.PercentRate);
    public static readonly Dimension Fouling = new("fouling", "a loss for each exposure", "1.2 %/10000", [], DimensionForm.PercentPerCount);

    public static readonly Dimension Power = new("power", "an electric power", "300 W", UnitList.Powers);

    /// <summary>All of them, for the documentation.</summary>
    public static IReadOnlyList<Dimension> All =>
    [
        Length, Time, LitTime, Hours, ProductionTime, Interval, Irradiance, Dose, Angle, Attenuation, Ratio, Proportion, Number, CureRate, PartRate, EventRate, Drift, LitLoss, Fouling, Power,
    ];

    /// <summary>The units as they are listed to the user.</summary>
    public string UnitsListed => Form switch
    {
        DimensionForm.Bare => "",
        DimensionForm.Rate => string.Join(", ", Units.Select(u => "/" + u.Symbol)),
        DimensionForm.PercentRate => string.Join(", ", Units.Select(u => "%/" + u.Symbol)),
        DimensionForm.PercentPerCount => "%/exposure, %/10000 exposures, %/10000",
        _ => string.Join(", ", Units.Select(u => u.Symbol)),
    };

    /// <summary>What is accepted, for a message.</summary>
    public string Accepted => Form == DimensionForm.Bare
        ? $"{Name} such as {Example}"
        : $"{Name} with its unit, such as \"{Example}\" ({UnitsListed})";

    /// <summary>The unit that values are shown in.</summary>
    public string ShownUnit => Form switch
    {
        DimensionForm.Bare => "",
        DimensionForm.Rate => "/" + Units[0].Symbol,
        DimensionForm.PercentRate => "%/1000 h",
        DimensionForm.PercentPerCount => "%/10000",
        _ => Units[0].Symbol,
    };

    /// <summary>True when the unit itself is a percentage, so that a spread in % is of the same kind and not relative.</summary>
    public bool IsPercent => ReferenceEquals(this, Ratio);

    /// <summary>Regular expression for a value of this dimension, for editors (without calendar arithmetic).</summary>
    public string Pattern
    {
        get
        {
            const string number = @"[±+-]?\d+(\.\d*)?([eE][+-]?\d+)?";
            string per = @"(\d+(\.\d+)?\s*)?";
            string units = string.Join('|', Units.SelectMany(u => u.Spellings.Prepend(u.Symbol)).Select(Regex.Escape)).Replace(@"\ ", " ");
            return Form switch
            {
                DimensionForm.Bare => $"^{number}$",
                DimensionForm.Rate => $@"^{number}\s*/\s*{per}({units})$",
                DimensionForm.PercentRate => $@"^{number}\s*%\s*/\s*{per}({units})$",
                DimensionForm.PercentPerCount => $@"^{number}\s*%\s*/\s*{per}(exposures?)?$",
                _ => $@"^({number}\s*)?({units})$",
            };
        }
    }
}

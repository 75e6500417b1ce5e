namespace CureSim.Scenarios;

/// <summary>What a column of a log holds.</summary>
internal enum LogRole
{
    Hours,
    Time,
    EmitterHours,
    Reading,
    AsLeft,
    Emitter,
    Site,
    Moment,
    Drive,
    Event,
    Meter,
    Warm,
}

/// <summary>The words for a column's role on the command line, and the headers that are taken for it when nothing is said.</summary>
/// <param name="Role">The role.</param>
/// <param name="Word">On the command line.</param>
/// <param name="Meaning">For messages and help.</param>
/// <param name="Headers">Headers as <see cref="LogHeader.Plain"/> makes them, without unit; the first that heads a column is taken. Empty: a header that is a unit of irradiance and nothing else.</param>
internal sealed record LogRoleWords(LogRole Role, string Word, string Meaning, string[] Headers)
{
    public static readonly LogRoleWords[] All =
    [
        new(LogRole.Hours, "hours", "clock of the log in hours",
            ["hours", "hour", "clock", "clock hours", "production hours", "production time", "elapsed hours", "elapsed time", "elapsed", "run hours", "run time", "running hours", "running time", "run", "hours run", "operating hours", "operating time", "machine hours", "cell hours", "total hours", "time"]),
        new(LogRole.Time, "time", "date and time", ["timestamp", "time stamp", "date", "datetime", "date time", "date and time", "time and date", "when", "check date", "reading date", "date of check", "date of reading", "read on", "time"]),
        new(LogRole.EmitterHours, "emitter-hours", "hours of the emitter",
            ["emitter hours", "lamp hours", "burn hours", "bulb hours", "head hours", "led hours", "source hours", "hours of lamp", "hours on lamp", "hour meter", "emitter time", "lamp time", "burn time", "lamp burn hours", "lamp run time", "lamp age", "emitter age", "emitter", "lamp", "bulb", "burn", "source"]),
        new(LogRole.Reading, "reading", "the reading, as found where both are given",
            ["as found", "reading as found", "irradiance as found", "as found reading", "as found irradiance", "found", "before", "before cleaning", "reading before", "reading", "irradiance", "indication", "uv", "uv reading", "uv irradiance", "uv intensity", "uv output", "irr", "intensity", "output",
                "peak irradiance", "meter reading", "radiometer reading", "radiometer", "measured irradiance", "measured value", "measured", "measurement", "value", ""]),
        new(LogRole.AsLeft, "as-left", "the reading as left", ["as left", "reading as left", "irradiance as left", "as left reading", "as left irradiance", "left", "after", "after cleaning", "after setting", "after adjustment", "reading after"]),
        new(LogRole.Emitter, "emitter", "name of the emitter",
            ["emitter", "emitter id", "emitter no", "emitter name", "lamp", "lamp id", "lamp no", "lamp name", "lamp serial", "lamp serial no", "lamp s n", "lamp sn", "bulb", "bulb id", "bulb no", "source", "source id", "source no", "head", "head id", "head no", "led head", "serial", "serial no", "s n", "sn"]),
        new(LogRole.Site, "site", "name of the site", ["site", "site no", "leg", "leg no", "position", "position no", "pos", "lane", "station", "station no", "channel"]),
        new(LogRole.Moment, "moment", "as found or as left", ["moment", "reading kind", "reading type", "kind", "state", "before after", "as found as left", "found left"]),
        new(LogRole.Drive, "drive", "drive in % of full drive", ["drive", "drive level", "power", "power setting", "power level", "drive setting", "output setting", "setting"]),
        new(LogRole.Event, "event", "what happened", ["event", "events", "action", "actions", "note", "notes", "remark", "remarks", "comment", "comments", "work done", "maintenance", "what was done"]),
        new(LogRole.Meter, "meter", "name of the radiometer", ["meter", "meter id", "meter no", "meter s n", "meter sn", "radiometer", "radiometer id", "radiometer no", "radiometer s n", "radiometer sn", "instrument", "instrument id", "instrument no"]),
        new(LogRole.Warm, "warm", "warm or cold", ["warm", "warm or cold", "warm cold", "warmed up"]),
    ];

    /// <summary>All words, for messages.</summary>
    public static string Listed { get; } = string.Join(", ", All.Select(r => r.Word));

    public static LogRoleWords Of(LogRole role) => All.First(r => r.Role == role);
}

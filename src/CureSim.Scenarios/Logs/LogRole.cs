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
/// <param name="Headers">Headers, in lower case, without unit, words parted by single spaces.</param>
internal sealed record LogRoleWords(LogRole Role, string Word, string Meaning, string[] Headers)
{
    public static readonly LogRoleWords[] All =
    [
        new(LogRole.Hours, "hours", "clock of the log in hours", ["hours", "clock", "clock hours", "production hours", "elapsed hours", "elapsed", "run hours", "time"]),
        new(LogRole.Time, "time", "date and time", ["timestamp", "time stamp", "date", "datetime", "date time", "date and time", "when", "time"]),
        new(LogRole.EmitterHours, "emitter-hours", "hours of the emitter", ["emitter hours", "lamp hours", "burn hours", "bulb hours", "head hours", "led hours", "source hours", "hour meter", "emitter", "lamp", "burn"]),
        new(LogRole.Reading, "reading", "the reading, as found where both are given", ["reading", "irradiance", "indication", "as found", "found", "before", "uv", "intensity", "output", "value", "measured"]),
        new(LogRole.AsLeft, "as-left", "the reading as left", ["as left", "left", "after", "after cleaning", "after setting"]),
        new(LogRole.Emitter, "emitter", "name of the emitter", ["emitter", "emitter id", "emitter no", "lamp", "lamp id", "lamp no", "bulb", "bulb id", "source", "source id", "head", "head id", "serial", "serial no"]),
        new(LogRole.Site, "site", "name of the site", ["site", "leg", "position", "lane", "station"]),
        new(LogRole.Moment, "moment", "as found or as left", ["moment", "reading kind", "kind", "state"]),
        new(LogRole.Drive, "drive", "drive in % of full drive", ["drive", "power", "power setting", "drive setting"]),
        new(LogRole.Event, "event", "what happened", ["event", "events", "action", "note", "notes", "remark", "remarks", "comment"]),
        new(LogRole.Meter, "meter", "name of the radiometer", ["meter", "meter id", "radiometer", "radiometer id", "instrument"]),
        new(LogRole.Warm, "warm", "warm or cold", ["warm", "warm or cold", "warmed up"]),
    ];

    /// <summary>All words, for messages.</summary>
    public static string Listed { get; } = string.Join(", ", All.Select(r => r.Word));

    public static LogRoleWords Of(LogRole role) => All.First(r => r.Role == role);
}

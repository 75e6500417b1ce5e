using System.Collections.Immutable;

namespace CureSim.Core.Logs;

/// <summary>When a reading was taken within a check.</summary>
public enum ReadingMoment
{
    /// <summary>The log does not say.</summary>
    Unsaid,

    /// <summary>Before anything was cleaned or set.</summary>
    AsFound,

    /// <summary>After cleaning and setting.</summary>
    AsLeft,
}

/// <summary>What happened, as far as a fit must know.</summary>
public enum LogEventKind
{
    /// <summary>A new emitter for a reason other than its failure: planned, short, precaution.</summary>
    EmitterReplaced,

    /// <summary>The emitter failed; the next row has another one.</summary>
    EmitterFailed,

    /// <summary>A new guide.</summary>
    GuideReplaced,

    /// <summary>A tip was cleaned.</summary>
    Cleaned,

    /// <summary>The output was set.</summary>
    Set,

    /// <summary>The radiometer came back from calibration, or another one came into use.</summary>
    Calibrated,

    /// <summary>The cell was set up again.</summary>
    Requalified,

    /// <summary>Anything else: it may explain a step of the readings.</summary>
    Other,
}

/// <summary>One event of a log.</summary>
/// <param name="Kind">What it is taken for.</param>
/// <param name="Words">As written, on one line.</param>
public sealed record LogEvent(LogEventKind Kind, string Words);

/// <summary>One row of a log.</summary>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Hours">Clock of the log, h; in order within a file.</param>
/// <param name="EmitterHours">Hours of the emitter; NaN when the log does not say.</param>
/// <param name="Emitter">Name of the emitter; empty when the log does not say.</param>
/// <param name="Site">Name of the site; empty when the log does not say.</param>
/// <param name="Moment">As found or as left.</param>
/// <param name="Reading">In the log's unit; NaN for a row that tells an event only.</param>
/// <param name="Drive">Drive as a ratio of full drive; NaN when the log does not say.</param>
/// <param name="Cold">True when the source had not warmed up.</param>
/// <param name="Meter">Name of the radiometer; empty when the log does not say.</param>
/// <param name="Events">What happened at or just before the row.</param>
public sealed record LogRow(
    int Line, double Hours, double EmitterHours, string Emitter, string Site, ReadingMoment Moment, double Reading, double Drive, bool Cold, string Meter, ImmutableArray<LogEvent> Events);

/// <summary>A radiometer log.</summary>
/// <param name="Unit">Unit of the readings as shown, such as "W/cm²"; null without one.</param>
/// <param name="ToWattsPerSquareMetre">Factor on a reading that gives W/m²; null when the unit is not an irradiance.</param>
/// <param name="Rows">Rows in order.</param>
/// <param name="StartsNew">True when the first emitter is known to start at 0 h.</param>
public sealed record ReadingLog(string? Unit, double? ToWattsPerSquareMetre, ImmutableArray<LogRow> Rows, bool StartsNew)
{
    /// <summary>Rows that hold a reading.</summary>
    public IEnumerable<LogRow> Readings => Rows.Where(r => !double.IsNaN(r.Reading));
}

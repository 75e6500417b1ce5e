using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Logs;

namespace CureSim.Scenarios;

/// <summary>Makes the rows of a log from cells.</summary>
internal sealed class LogRows
{
    private const double HoursOfWeek = 168.0;
    private static readonly string[] Dates = ["yyyy-MM-dd HH:mm:ss", "yyyy-MM-dd HH:mm", "yyyy-MM-ddTHH:mm:ss", "yyyy-MM-ddTHH:mm", "yyyy-MM-ddTHH:mm:ssK", "yyyy-MM-dd", "dd.MM.yyyy HH:mm:ss", "dd.MM.yyyy HH:mm", "dd.MM.yyyy"];

    private readonly SampleRows rows;
    private readonly LogColumns columns;
    private readonly SampleFindings findings;
    private readonly double hoursPerUnit = 1.0, emitterHoursPerUnit = 1.0;

    private LogRows(SampleRows rows, LogColumns columns, SampleFindings findings)
    {
        this.rows = rows;
        this.columns = columns;
        this.findings = findings;
        hoursPerUnit = columns[LogRole.Hours] is null ? 1.0 : columns.Unit(LogRole.Hours)?.FactorTo("h") ?? 1.0;
        emitterHoursPerUnit = columns[LogRole.EmitterHours] is null ? 1.0 : columns.Unit(LogRole.EmitterHours)?.FactorTo("h") ?? 1.0;
    }

    public required ReadingLog Log { get; init; }

    public ImmutableArray<LogColumnNote> Columns => columns.Notes;

    public ImmutableArray<string> Notes { get; private set; } = [];

    /// <summary>The rows; null when the columns cannot be told.</summary>
    public static LogRows? Take(SampleRows rows, LogChoice choice, SampleFindings findings)
    {
        if (LogColumns.Find(rows, choice, findings) is not { } columns)
        {
            return null;
        }

        var unit = columns.Unit(LogRole.Reading);
        if (choice.Unit is { } given)
        {
            var option = SampleUnit.Find(given);
            if (option is null)
            {
                findings.Add(0, 0, "--unit", $"\"{SampleText.Shown(given)}\"", "W/cm2, mW/cm2, W/m2 or another unit", NearestWord.Question(given, SampleUnit.Listed.Split(", ")));
            }
            else if (unit is not null && unit.Suffix != option.Suffix)
            {
                findings.Add(rows.HeaderLine, 1, "--unit", $"\"{SampleText.Shown(given)}\" for a column whose header says {unit.Shown}", "the header's unit, or no --unit");
            }

            unit ??= option;
        }

        if (columns[LogRole.Hours] is null && columns[LogRole.EmitterHours] is null && choice.HoursAWeek is null)
        {
            findings.Add(rows.HeaderLine, 1, "", "dates only, which do not say how long the emitter was lit", "a column of hours, or --hours-a-week N: the lit hours in a calendar week");
        }

        var read = new LogRows(rows, columns, findings) { Log = null! };
        var list = new List<LogRow>();
        int empty = 0;
        for (int i = 0; i < rows.Cells.Count; i++)
        {
            empty += read.Add(i, list, choice) ? 0 : 1;
        }

        read.CheckDrive(list);
        read.CheckOrder(list);
        int readings = list.Count(r => !double.IsNaN(r.Reading));
        if (!findings.Any && readings < 4)
        {
            findings.Add(rows.Lines[^1], 1, "", FormattableString.Invariant($"{readings} reading{(readings == 1 ? "" : "s")}"), "at least four readings: fewer show no course of time");
        }

        bool startsNew = choice.StartHours == 0.0 || list.TakeWhile(r => list.Count > 0 && r.Hours == list[0].Hours).Any(r => r.Events.Any(LogEventWords.StartsNew));
        if (choice.StartHours is { } hours && columns[LogRole.EmitterHours] is not null)
        {
            findings.Add(0, 0, "--start-hours", FormattableString.Invariant($"{hours} h, although the log has a column of emitter hours"), "the column alone");
        }

        string[] aside = [.. columns.Aside()];
        return new LogRows(rows, columns, findings)
        {
            Log = new(unit?.Shown, unit?.FactorTo("W/m2"), [.. list], startsNew),
            Notes =
            [
                .. empty > 0 ? new[] { FormattableString.Invariant($"{empty} row{(empty == 1 ? "" : "s")} without reading and event left out") } : [],
                .. aside.Length > 0 ? new[] { $"columns left aside: {string.Join(", ", aside)}" } : [],
            ],
        };
    }

    // False for a row that says nothing.
    private bool Add(int i, List<LogRow> list, LogChoice choice)
    {
        string Cell(LogRole role) => columns[role] is { } at ? rows.Cells[i][at] : "";
        LogEvent[] events = [.. LogEventWords.Read(Cell(LogRole.Event))];
        double reading = Positive(i, LogRole.Reading), left = Positive(i, LogRole.AsLeft);
        if (double.IsNaN(reading) && double.IsNaN(left) && events.Length == 0 && Cell(LogRole.Reading).Length == 0)
        {
            return false;
        }

        var moment = Moment(i, Cell(LogRole.Moment));
        if (columns[LogRole.AsLeft] is not null && moment == ReadingMoment.Unsaid)
        {
            moment = ReadingMoment.AsFound;
        }

        double emitterHours = NotNegative(i, LogRole.EmitterHours) * emitterHoursPerUnit;
        double hours = columns[LogRole.Hours] is not null ? NotNegative(i, LogRole.Hours) * hoursPerUnit
            : columns[LogRole.Time] is not null ? Calendar(i, Cell(LogRole.Time)) * (choice.HoursAWeek ?? HoursOfWeek) / HoursOfWeek
            : double.NaN;
        LogRow Row(double value, ReadingMoment when, params LogEvent[] what) => new(
            rows.Lines[i], hours, emitterHours, SampleText.OneLine(Cell(LogRole.Emitter)).Trim(), SampleText.OneLine(Cell(LogRole.Site)).Trim(), when, value,
            Drive(i), Cold(i, Cell(LogRole.Warm)), SampleText.OneLine(Cell(LogRole.Meter)).Trim(), [.. what]);

        // What was found was there before anything was done; any other reading comes after.
        if (moment == ReadingMoment.AsFound)
        {
            if (Cell(LogRole.Reading).Length > 0)
            {
                list.Add(Row(reading, moment));
            }

            if (!double.IsNaN(left) || events.Length > 0)
            {
                list.Add(Row(left, ReadingMoment.AsLeft, events));
            }
        }
        else
        {
            list.Add(Row(reading, moment, events));
        }

        return true;
    }

    private double Number(int i, LogRole role, Func<double, bool> allowed, string accepted)
    {
        if (columns[role] is not { } at || rows.Cells[i][at] is not { Length: > 0 } cell)
        {
            return double.NaN;
        }

        if (SampleColumns.IsNumber(cell) && double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture) is var value)
        {
            if (allowed(value) && SampleFile.HasUsableSize(value))
            {
                return value;
            }

            findings.Add(rows.Lines[i], at + 1, columns.Header(role), $"\"{SampleText.Shown(cell)}\"", accepted);
            return double.NaN;
        }

        if (SampleColumns.CommaNumber().IsMatch(cell))
        {
            findings.AddComma(rows.Lines[i], at + 1, columns.Header(role), cell, "a number (decimal point, no unit), or an empty cell");
            return double.NaN;
        }

        findings.Add(rows.Lines[i], at + 1, columns.Header(role), $"\"{SampleText.Shown(cell)}\"", "a number (decimal point, no unit), or an empty cell");
        return double.NaN;
    }

    private double Positive(int i, LogRole role) => Number(i, role, v => v > 0.0, "a reading above zero, or an empty cell");

    private double NotNegative(int i, LogRole role) => Number(i, role, v => v >= 0.0, "hours of zero or more");

    private double Drive(int i) => Number(i, LogRole.Drive, v => v > 0.0, "a drive above zero, or an empty cell");

    private ReadingMoment Moment(int i, string cell)
    {
        string words = cell.ToLowerInvariant();
        if (words.Contains("found", StringComparison.Ordinal) || words.Contains("before", StringComparison.Ordinal))
        {
            return ReadingMoment.AsFound;
        }

        if (words.Contains("left", StringComparison.Ordinal) || words.Contains("after", StringComparison.Ordinal))
        {
            return ReadingMoment.AsLeft;
        }

        if (words.Length > 0)
        {
            findings.Add(rows.Lines[i], columns[LogRole.Moment]!.Value + 1, columns.Header(LogRole.Moment), $"\"{SampleText.Shown(cell)}\"", "as found, as left, before, after, or an empty cell");
        }

        return ReadingMoment.Unsaid;
    }

    private bool Cold(int i, string cell)
    {
        switch (cell.ToLowerInvariant())
        {
            case "" or "warm" or "yes" or "y" or "1" or "true":
                return false;
            case "cold" or "no" or "n" or "0" or "false":
                return true;
            default:
                findings.Add(rows.Lines[i], columns[LogRole.Warm]!.Value + 1, columns.Header(LogRole.Warm), $"\"{SampleText.Shown(cell)}\"", "warm, cold, yes, no, or an empty cell");
                return false;
        }
    }

    private double Calendar(int i, string cell)
    {
        if (DateTime.TryParseExact(cell, Dates, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal, out DateTime at))
        {
            return (at - DateTime.UnixEpoch).TotalHours;
        }

        findings.Add(rows.Lines[i], columns[LogRole.Time]!.Value + 1, columns.Header(LogRole.Time), $"\"{SampleText.Shown(cell)}\"", "a date such as 2026-03-05 14:30 or 05.03.2026",
            cell.Contains('/') ? "dates with slashes mean different things to different people" : null);
        return double.NaN;
    }

    // Percent unless the header says nothing and all values are ratios.
    private void CheckDrive(List<LogRow> list)
    {
        if (columns[LogRole.Drive] is not { } at)
        {
            return;
        }

        double most = list.Select(r => r.Drive).Where(d => !double.IsNaN(d)).DefaultIfEmpty(double.NaN).Max();
        double factor = columns.Unit(LogRole.Drive) is null && most <= 1.0 ? 1.0 : 0.01;
        if (most * factor > 1.0 + 1e-9)
        {
            findings.Add(rows.HeaderLine, at + 1, columns.Header(LogRole.Drive), FormattableString.Invariant($"drives up to {most}"), "0 to 100 %, or 0 to 1 throughout");
        }

        for (int i = 0; i < list.Count; i++)
        {
            list[i] = list[i] with { Drive = list[i].Drive * factor };
        }
    }

    private void CheckOrder(List<LogRow> list)
    {
        bool clock = columns[LogRole.Hours] is not null || columns[LogRole.Time] is not null;
        var (role, at) = columns[LogRole.Hours] is { } h ? (LogRole.Hours, h) : columns[LogRole.Time] is { } t ? (LogRole.Time, t) : (LogRole.EmitterHours, columns[LogRole.EmitterHours] ?? 0);
        double last = double.NegativeInfinity, first = double.NaN;
        for (int i = 0; i < list.Count; i++)
        {
            var row = list[i];
            double hours = clock ? row.Hours : row.EmitterHours;
            if (double.IsNaN(hours))
            {
                if (!findings.Any)
                {
                    findings.Add(row.Line, at + 1, columns.Header(role), "an empty cell", "hours, or a date, in every row");
                }

                continue;
            }

            if (clock)
            {
                if (hours < last)
                {
                    findings.Add(row.Line, at + 1, columns.Header(role), role == LogRole.Time ? "a date before that of the row above" : FormattableString.Invariant($"{hours:0.###} h after {last:0.###} h"),
                        "time that does not run backwards", "sort the file by time; hours that start again with a new emitter belong in a column of emitter hours");
                }

                first = double.IsNaN(first) ? hours : first;
                last = Math.Max(last, hours);
            }

            // Dates count from the first row.
            list[i] = role == LogRole.Time ? row with { Hours = hours - first } : clock ? row : row with { Hours = double.NaN };
        }
    }
}

using System.Collections.Immutable;
using System.Globalization;
using CureSim.Core.Logs;
using CureSim.Reports.Fit;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

namespace CureSim.Cli;

/// <summary>A log as a command line names it: the file and how its columns are to be taken. All problems of file and options are told at once.</summary>
internal static class LogInput
{
    public static readonly OptionInfo Column = new("--column", "ROLE=HEADER", $"Which column holds what; roles: {LogFile.Roles}. Left out: guessed from the headers, and shown.", Repeatable: true);
    public static readonly OptionInfo UnitOfReading = new("--unit", "UNIT", "Unit of the readings where their header has none, such as mW/cm2.");
    public static readonly OptionInfo HoursAWeek = new("--hours-a-week", "N", "Lit hours in a calendar week, for a log with dates and no hours.");
    public static readonly OptionInfo StartHours = new("--start-hours", "TIME", "Hours of the first emitter where the log begins, such as \"350 h\"; for a log without emitter hours that begins mid-life.");

    /// <summary>Name of a log's copy in a folder of results.</summary>
    public const string Copy = "log.csv";

    /// <summary>The options.</summary>
    public static OptionInfo[] All { get; } = [Column, UnitOfReading, HoursAWeek, StartHours];

    /// <summary>Reads the log of an argument.</summary>
    /// <exception cref="InputException">All problems.</exception>
    public static (ReadingLog Log, FitContext Context, double? StartHours) Read(Call call, int argument)
    {
        string path = call.Argument(argument)!;
        var problems = new List<string>();
        var columns = ImmutableDictionary.CreateBuilder<string, string>();
        foreach (string text in call.Texts(Column))
        {
            int at = text.IndexOf('=', StringComparison.Ordinal);
            if (at <= 0 || at == text.Length - 1)
            {
                problems.Add($"--column: found \"{text}\"; accepted: ROLE=HEADER, such as \"reading=UV power\"; roles: {LogFile.Roles}");
            }
            else
            {
                columns[text[..at].Trim()] = text[(at + 1)..].Trim();
            }
        }

        double? week = null, start = null;
        if (call.Text(HoursAWeek) is { } lit)
        {
            if (double.TryParse(lit, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double hours) && hours is > 0.0 and <= 168.0)
            {
                week = hours;
            }
            else
            {
                problems.Add($"--hours-a-week: found \"{lit}\"; accepted: a number above 0 and at most 168");
            }
        }

        try
        {
            start = Hours(call, StartHours, zero: true);
        }
        catch (InputException e)
        {
            problems.AddRange(e.Problems);
        }

        var reading = LogFile.Read(path, new(columns.ToImmutable(), call.Text(UnitOfReading), week, start));
        if (reading.Log is not { } log || problems.Count > 0)
        {
            throw new InputException([.. reading.Problems.Select(p => p.ToString()), .. problems]) { IsLocated = !reading.Problems.IsEmpty };
        }

        return (log, new(ScenarioInput.StemOf(path), Path.GetFileName(reading.File), reading.Sha256, [.. reading.Columns.Select(c => (c.Role, c.Meaning, c.Header, c.Guessed))], reading.Notes), start);
    }

    /// <summary>A time in hours; null when the option was not given.</summary>
    /// <exception cref="InputException">It is none.</exception>
    public static double? Hours(Call call, OptionInfo option, bool zero = false)
    {
        if (call.Text(option) is not { } text)
        {
            return null;
        }

        var unit = SampleUnit.Find("h")!;
        return unit.TryRead(text, out double hours, out _) && (hours > 0.0 || (zero && hours == 0.0)) ? hours
            : throw new InputException($"{option.Name}: found \"{text}\"; accepted: a time with its unit, such as \"1500 h\"");
    }
}

using System.Collections.Immutable;

namespace CureSim.Scenarios;

/// <summary>Which column of a log holds what: as the command line says, else by its header.</summary>
internal sealed class LogColumns
{
    private readonly Dictionary<LogRole, int> places = [];
    private readonly SampleRows rows;

    private LogColumns(SampleRows rows) => this.rows = rows;

    public ImmutableArray<LogColumnNote> Notes { get; private set; } = [];

    public int? this[LogRole role] => places.TryGetValue(role, out int at) ? at : null;

    public string Header(LogRole role) => SampleText.OneLine(rows.Headers[places[role]]);

    public SampleUnit? Unit(LogRole role) => LogHeader.Of(rows.Headers[places[role]]).Unit;

    /// <summary>The columns; null when what is needed cannot be found.</summary>
    public static LogColumns? Find(SampleRows rows, LogChoice choice, SampleFindings findings)
    {
        var columns = new LogColumns(rows);
        LogHeader[] headers = [.. rows.Headers.Select(LogHeader.Of)];

        // What stands in brackets belongs to the name where that makes it plain: "reading (as left)".
        string[] names = [.. headers.Select(h => LogRoleWords.All.Any(r => r.Headers.Contains(h.Whole)) ? h.Whole : h.Name)];
        string?[] units = [.. headers.Select(UnitWord)];
        foreach (var (word, header) in choice.Columns)
        {
            var role = LogRoleWords.All.FirstOrDefault(r => r.Word == word);
            if (role is null)
            {
                findings.Add(0, 0, "--column", $"\"{SampleText.Shown(word)}\"", LogRoleWords.Listed, NearestWord.Question(word, LogRoleWords.All.Select(r => r.Word)));
                continue;
            }

            int[] found = [.. Enumerable.Range(0, names.Length).Where(i => rows.Headers[i] == header || names[i] == LogHeader.Plain(header) || headers[i].Whole == LogHeader.Plain(header))];
            if (found.Length == 1)
            {
                columns.places[role.Role] = found[0];
            }
            else
            {
                findings.Add(rows.HeaderLine, 1, $"--column {word}", $"\"{SampleText.Shown(header)}\", {(found.Length == 0 ? "of which there is no column" : "which heads several columns")}",
                    string.Join(", ", rows.Headers.Select(SampleText.Shown)), NearestWord.Question(header, rows.Headers));
            }
        }

        foreach (var role in LogRoleWords.All.Where(r => !columns.places.ContainsKey(r.Role)))
        {
            int[] free = [.. Enumerable.Range(0, names.Length).Where(i => !columns.places.ContainsValue(i) && Fits(role.Role, units[i]))];

            // The first word of the list that heads a column wins: it is the plainest.
            int[]? found = role.Headers.Select(h => free.Where(i => names[i] == h).ToArray()).FirstOrDefault(f => f.Length > 0);
            if (found is { Length: > 1 })
            {
                findings.Add(rows.HeaderLine, 1, "", $"{found.Length} columns that may hold {role.Meaning}: {string.Join(", ", found.Select(i => SampleText.Shown(rows.Headers[i])))}", $"one of them, said with --column \"{role.Word}=HEADER\"");
            }
            else if (found is [var at])
            {
                columns.places[role.Role] = at;
            }
        }

        string all = string.Join(", ", rows.Headers.Select(SampleText.Shown));
        if (columns[LogRole.Reading] is null)
        {
            findings.Add(rows.HeaderLine, 1, "", $"no column that is plainly the reading among {all}", "one, said with --column \"reading=HEADER\"");
        }

        if (columns[LogRole.Hours] is null && columns[LogRole.Time] is null && columns[LogRole.EmitterHours] is null)
        {
            findings.Add(rows.HeaderLine, 1, "", $"no column of hours or dates among {all}", "one, said with --column \"hours=HEADER\", \"time=HEADER\" or \"emitter-hours=HEADER\"");
        }

        columns.Notes = [.. LogRoleWords.All.Where(r => columns.places.ContainsKey(r.Role)).Select(r => new LogColumnNote(r.Word, r.Meaning, columns.Header(r.Role), !choice.Columns.ContainsKey(r.Word)))];
        return columns[LogRole.Reading] is null ? null : columns;
    }

    /// <summary>Headers that no role took.</summary>
    public IEnumerable<string> Aside() => Enumerable.Range(0, rows.Headers.Length).Where(i => !places.ContainsValue(i)).Select(i => SampleText.Shown(rows.Headers[i]));

    // A unit in the header rules out what it cannot be: "emitter_h" counts hours, "emitter" is a name; "time [h]" is a clock, "time" a date.
    private static bool Fits(LogRole role, string? unit) => role switch
    {
        LogRole.Hours => unit is "time",
        LogRole.Time => unit is null,
        LogRole.EmitterHours => unit is "time",
        LogRole.Reading or LogRole.AsLeft => unit is not "time" and not "%",
        LogRole.Drive => unit is null or "%",
        _ => unit is null or "unknown",
    };

    private static string? UnitWord(LogHeader header) =>
        header.Unit is { } unit ? unit.FactorTo("h") is not null ? "time" : unit.FactorTo("%") is not null ? "%" : "other"
        : header.CountsHours || header.Name is "hour meter" ? "time" : header.Written is not null ? "unknown" : null;
}

using System.Collections.Immutable;
using CureSim.Core.Logs;

namespace CureSim.Studies.Fit;

/// <summary>What is fitted against the emitter's hours.</summary>
public enum FittedQuantity
{
    /// <summary>The reading, where the drive does not change.</summary>
    Reading,

    /// <summary>Reading over drive: output at full drive as read. Guide and meter are in it.</summary>
    ReadingOverDrive,

    /// <summary>One over the drive: under a loop the reading is flat and the drive tells what the emitter lost. Steps of the drive by a setting are taken out.</summary>
    Drive,
}

/// <summary>Cuts a log at its replacements.</summary>
internal sealed class EmitterRuns
{
    private sealed class Open
    {
        public required string Name { get; set; }

        public double Clock0 { get; init; }

        public double Age0 { get; init; }

        public List<LogRow> Rows { get; } = [];
    }

    private readonly List<EmitterRun> runs = [];
    private readonly ReadingLog log;
    private readonly double? startHours;
    private readonly List<string> notes = [];
    private int numbered;

    private EmitterRuns(ReadingLog log, double? startHours)
    {
        this.log = log;
        this.startHours = startHours;
    }

    /// <summary>The emitters in the order in which they end, without observations; and what a reader should know.</summary>
    public static (ImmutableArray<EmitterRun> Runs, ImmutableArray<string> Notes) Cut(ReadingLog log, double? startHours)
    {
        var cut = new EmitterRuns(log, startHours);
        cut.Run();
        return ([.. cut.runs], [.. cut.notes]);
    }

    private void Run()
    {
        bool named = log.Rows.Any(r => r.Emitter.Length > 0), own = log.Rows.Any(r => !double.IsNaN(r.EmitterHours));

        // Without names a replacement event belongs to its row's site, and without a site to the one emitter of the cell.
        bool bySite = !named && log.Rows.Any(r => r.Site.Length > 0 && r.Events.Any(e => e.Kind is LogEventKind.EmitterReplaced or LogEventKind.EmitterFailed));
        var open = new Dictionary<string, Open>();
        string KeyOf(LogRow r) => bySite ? r.Site : "";
        double clock = 0.0;
        foreach (var row in log.Rows)
        {
            clock = double.IsNaN(row.Hours) ? clock : row.Hours;
            string key = KeyOf(row);
            open.TryGetValue(key, out var now);
            bool failed = row.Events.Any(e => e.Kind == LogEventKind.EmitterFailed), replaced = failed || row.Events.Any(e => e.Kind == LogEventKind.EmitterReplaced);
            bool other = named && row.Emitter.Length > 0 && now is { Name.Length: > 0 } && row.Emitter != now.Name && now.Rows.Count > 0;
            bool again = own && now is { Rows.Count: > 0 } && row.EmitterHours < 0.5 * now.Rows.Max(r => double.IsNaN(r.EmitterHours) ? 0.0 : r.EmitterHours);
            if (now is not null && now.Rows.Count > 0 && (replaced || other || again))
            {
                if (again && !replaced && !other)
                {
                    notes.Add(FormattableString.Invariant($"line {row.Line}: emitter hours start again at {row.EmitterHours:0.#} h without an event: taken as a replacement"));
                }

                Close(now, clock, failed ? EmitterEnd.Failed : EmitterEnd.Replaced);
                open[key] = now = new Open { Name = row.Emitter, Clock0 = clock, Age0 = 0.0 };
            }
            else if (now is null)
            {
                open[key] = now = new Open { Name = row.Emitter, Clock0 = clock, Age0 = replaced || log.StartsNew ? 0.0 : startHours ?? double.NaN };
            }

            if (now.Name.Length == 0)
            {
                now.Name = row.Emitter;
            }

            now.Rows.Add(row);
        }

        foreach (var rest in open.Values.Where(o => o.Rows.Count > 0))
        {
            Close(rest, clock, EmitterEnd.StillRunning);
        }
    }

    private void Close(Open o, double clock, EmitterEnd end)
    {
        string name = o.Name.Length > 0 ? o.Name : FormattableString.Invariant($"emitter {++numbered}");
        LogRow[] rows = [.. o.Rows.Select(r => r with { EmitterHours = double.IsNaN(r.EmitterHours) ? o.Age0 + r.Hours - o.Clock0 : r.EmitterHours })];
        double[] hours = [.. rows.Select(r => r.EmitterHours).Where(h => !double.IsNaN(h))];
        bool own = o.Rows.Any(r => !double.IsNaN(r.EmitterHours));
        double first = hours.Length == 0 ? double.NaN : own ? hours[0] : o.Age0;
        double last = hours.Length == 0 ? double.NaN : own ? hours.Max() : Math.Max(hours.Max(), o.Age0 + clock - o.Clock0);
        if (hours.Length == 0)
        {
            notes.Add($"{name}: its hours when the log begins are not known, so it is left out of the ageing fits (left-truncated); --start-hours says them");
        }
        else if (first > 0.0)
        {
            notes.Add(FormattableString.Invariant($"{name}: the log meets it at {first:0} h; its life counts from there only (left-truncated)"));
        }

        runs.Add(new(name, first, last, end, [], [.. rows]));
    }
}

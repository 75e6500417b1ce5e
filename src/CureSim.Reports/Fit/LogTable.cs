using System.Text;
using CureSim.Core.Logs;
using CureSim.Reports.Tables;

namespace CureSim.Reports.Fit;

/// <summary>A log as a CSV file that fit reads.</summary>
public static class LogTable
{
    /// <summary>The rows, readings in W/cm².</summary>
    public static Table Of(ReadingLog log)
    {
        ArgumentNullException.ThrowIfNull(log);
        var table = new Table("log",
            Number("clock_h"), Number("emitter_h"), Text("emitter"), Text("site"), Text("moment"), Number("irradiance_w_per_cm2"), Number("drive_percent"), Text("meter"), Text("event"));
        foreach (var row in log.Rows)
        {
            table.Add(
                row.Hours, Some(row.EmitterHours), row.Emitter, row.Site, row.Moment switch { ReadingMoment.AsFound => "as found", ReadingMoment.AsLeft => "as left", _ => "" }, Some(row.Reading),
                Some(100.0 * row.Drive), row.Meter, string.Join("; ", row.Events.Select(e => e.Words)));
        }

        return table;
    }

    /// <summary>The file, with remarks on its first lines.</summary>
    public static byte[] Bytes(ReadingLog log, params IEnumerable<string> remarks)
    {
        byte[] head = Encoding.UTF8.GetBytes(string.Concat(remarks.Select(r => "# " + r + "\n"))), rows = CsvText.Bytes(Runs.MachineDigits.Of(Of(log)));
        ReadOnlySpan<byte> mark = Encoding.UTF8.Preamble;

        // A byte order mark stands at the beginning of a file or nowhere.
        return rows.AsSpan().StartsWith(mark) ? [.. mark, .. head, .. rows.AsSpan(mark.Length)] : [.. head, .. rows];
    }

    private static double? Some(double value) => double.IsNaN(value) ? null : value;

    private static Column Text(string header) => new(header, ColumnKind.Text);

    private static Column Number(string header) => new(header, ColumnKind.Number);
}

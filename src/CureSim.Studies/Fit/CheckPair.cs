using CureSim.Core.Logs;

namespace CureSim.Studies.Fit;

/// <summary>The as-found and the as-left reading of one check at one site.</summary>
/// <param name="Emitter">Emitter in use.</param>
/// <param name="Found">As found; where it was repeated, the first.</param>
/// <param name="Left">As left.</param>
/// <param name="Cleaned">True when the log says that the tip was cleaned between them.</param>
/// <param name="LogGain">ln(as left / as found), each over its drive where drives are given.</param>
internal sealed record CheckPair(string Emitter, LogRow Found, LogRow Left, bool Cleaned, double LogGain)
{
    /// <summary>All pairs of a log.</summary>
    public static IEnumerable<CheckPair> Of(IEnumerable<EmitterRun> runs)
    {
        foreach (var run in runs)
        {
            var found = new Dictionary<string, (LogRow First, double Sum, int Count)>();
            foreach (var row in run.Rows.Where(r => !double.IsNaN(r.Reading) && !r.Cold))
            {
                double value = Math.Log(row.Reading) - (double.IsNaN(row.Drive) ? 0.0 : Math.Log(row.Drive));
                string key = row.Site + "|" + row.Meter;
                if (row.Moment == ReadingMoment.AsFound)
                {
                    found[key] = found.TryGetValue(key, out var f) && f.First.EmitterHours == row.EmitterHours ? (f.First, f.Sum + value, f.Count + 1) : (row, value, 1);
                }
                else if (row.Moment == ReadingMoment.AsLeft && found.Remove(key, out var f) && f.First.EmitterHours == row.EmitterHours)
                {
                    bool cleaned = run.Rows.Any(r => r.Line >= f.First.Line && r.Line <= row.Line && r.Events.Any(e => e.Kind == LogEventKind.Cleaned));
                    yield return new(run.Name, f.First, row, cleaned, value - (f.Sum / f.Count));
                }
            }
        }
    }
}

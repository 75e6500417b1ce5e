using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Logs;
using CureSim.Reports.Figures;
using CureSim.Reports.Pages;
using CureSim.Reports.Runs;
using CureSim.Reports.Text;

namespace CureSim.Reports.Fit;

/// <summary>What the report of an invented log says, and its picture.</summary>
public static class MakeLogContent
{
    private const int MostSites = 4, MostPoints = 3000;
    private static readonly Tone[] Tones = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth];

    /// <summary>The content.</summary>
    /// <param name="log">The log.</param>
    /// <param name="cell">The scenario.</param>
    /// <param name="context">Its texts.</param>
    /// <param name="world">World of the lifetime.</param>
    /// <param name="lifetime">Its number.</param>
    /// <param name="repeats">Readings of a site as found.</param>
    /// <param name="plots">False: without picture.</param>
    public static ReportContent Of(ReadingLog log, Scenario cell, RunContext context, int world, uint lifetime, int repeats, bool plots)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(cell);
        ArgumentNullException.ThrowIfNull(context);
        int readings = log.Readings.Count();
        double last = log.Rows.IsEmpty ? 0.0 : log.Rows.Max(r => r.Hours);
        (string What, int Times)[] events = [.. log.Rows.SelectMany(r => r.Events).GroupBy(e => e.Words).Select(g => (g.Key, g.Count())).OrderByDescending(g => g.Item2).ThenBy(g => g.Key, StringComparer.Ordinal)];
        var counts = PageTable.OfTexts(["Event of the log", "Times"], events.Select(e => (string[])[e.What, Format.Count(e.Times)])) with { File = "log.csv" };
        return CommonTexts.Base("make-log", cell, context) with
        {
            Title = $"{cell.Name}: invented log of lifetime {Format.Count(lifetime)} of world {Format.Count(world)}",
            Question = "What would an operator have written down of this one simulated cell?",
            Decision = "Invented: no plant's figures",
            Answer = $"{Format.Count(readings)} readings and {Format.Count(log.Rows.Count(r => !r.Events.IsEmpty))} rows with events in {Format.Hours(last)} of production, all of them simulated. The file is log.csv; fit and time-left read it, and trace of the same lifetime tells what truly happened.",
            HowSure = "There is no interval: it is one draw of many.",
            LargestAssumption = Assumption.Of("that nobody takes it for a record of a real cell", null, "is for its readers to see to", "it is made to try fit and time-left on a log whose truth is known, and whatever is fitted to it says nothing of a plant"),
            Lines =
            [
                new("Log", $"invented, of lifetime {Format.Count(lifetime)} of world {Format.Count(world)}, seed {Format.Count((long)Math.Min(cell.Run.Seed, long.MaxValue))}"),
                new("Readings", $"{Format.Count(readings)} in W/cm², every site as found {(repeats == 1 ? "once" : $"{Format.Count(repeats)} times")} a check, and as left where it was set"),
                new("Ends", $"at {Format.Hours(last)}"),
                new("Events", events.Length == 0 ? "none" : string.Join(", ", events.Take(5).Select(e => $"{e.What} {Format.Count(e.Times)}")) + (events.Length > 5 ? " …" : "")),
            ],
            Decisive = plots && readings > 0 ? ReportItem.Of(("readings", Picture(log, cell)), "Readings of the log over production time; invented.") : ReportItem.Of(counts, "Events of the log, by their words."),
            Evidence = plots && readings > 0 && events.Length > 0 ? [new(Reader.All, "events", [], [ReportItem.Of(counts, "Events of the log, by their words.")])] : [],
            Method =
            [
                "The lifetime is that of a run of this scenario and seed; its readings are those that its checks made, with the radiometer's errors and its resolution. Further readings of a site draw their repeatability anew.",
                "What an operator cannot know (disturbances, state of guide and fixture, true dose) is not in the log.",
            ],
        };
    }

    /// <summary>Readings over production time.</summary>
    public static Figure Picture(ReadingLog log, Scenario cell)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(cell);
        string[] sites = [.. log.Readings.Select(r => r.Site).Distinct()];
        string[] shown = [.. sites.Take(MostSites)];
        LogRow[] Of(string site, ReadingMoment moment) => [.. log.Readings.Where(r => r.Site == site && r.Moment == moment)];
        Points Dots(LogRow[] rows, string label, Tone tone)
        {
            LogRow[] drawn = FitPlots.Thinned(rows, MostPoints);
            return new([.. drawn.Select(r => r.Hours)], [.. drawn.Select(r => r.Reading)], label, tone);
        }

        // One site: as found beside as left. Several: as found, a tone for each.
        var layers = ImmutableArray.CreateBuilder<Layer>();
        if (sites.Length == 1)
        {
            layers.Add(Dots(Of(sites[0], ReadingMoment.AsLeft), "as left", Tone.Second));
            layers.Add(Dots(Of(sites[0], ReadingMoment.AsFound), "as found", Tone.First));
        }
        else
        {
            layers.AddRange(shown.Select((s, i) => Dots(Of(s, ReadingMoment.AsFound), $"site {s}", Tones[i])));
        }

        layers.Add(new Target(Along.Y, cell.Checks!.TargetWattsPerSquareMetre * 1e-4, "target"));
        double[] replaced = [.. log.Rows.Where(r => r.Events.Any(e => e.Kind is LogEventKind.EmitterReplaced or LogEventKind.EmitterFailed)).Select(r => r.Hours).Distinct()];
        if (replaced.Length > 0)
        {
            layers.Add(new Events([.. replaced], "emitter replaced"));
        }

        return new Figure
        {
            Title = "What was read?",
            Subtitle = $"Invented log: {(sites.Length == 1 ? "readings as found and as left" : "readings as found")} of one simulated cell.",
            X = new Axis("Production time", "h") { From = 0.0 },
            Y = new Axis("Reading", "W/cm²"),
            Layers = [.. layers.Where(l => l is not Points { X.IsEmpty: true })],
            Note = sites.Length > shown.Length ? $"{Format.Count(shown.Length)} of {Format.Count(sites.Length)} sites are drawn; all are in log.csv." : null,
        };
    }
}

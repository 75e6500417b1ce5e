using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Logs;
using CureSim.Core.Random;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;

namespace CureSim.Studies.Fit;

/// <summary>The log that a plant would have kept of one simulated lifetime: its truth is known.</summary>
public static class InventedLog
{
    /// <summary>Most readings of a site at one moment.</summary>
    public const int MostRepeats = 20;

    /// <summary>Replays a lifetime and writes down what an operator sees.</summary>
    /// <param name="plan">The run.</param>
    /// <param name="world">World.</param>
    /// <param name="lifetime">Lifetime in it.</param>
    /// <param name="repeats">Readings of every site as found, ≥ 1; each draws its own repeatability.</param>
    /// <param name="until">Readings up to this production time, s; null: to the horizon.</param>
    /// <exception cref="ArgumentException">The scenario has no checks.</exception>
    public static ReadingLog Of(RunPlan plan, int world, uint lifetime, int repeats = 1, double? until = null)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Scenario.Checks is null)
        {
            throw new ArgumentException("A scenario without checks has no readings.", nameof(plan));
        }

        return Of(plan, lifetime, Interval.OneLifetime.Trace(plan, plan.ModelOf(world), lifetime), world, repeats, until);
    }

    internal static ReadingLog Of(RunPlan plan, uint lifetime, LifetimeTrace trace, int world, int repeats, double? until)
    {
        var scenario = plan.Scenario;
        bool shared = scenario.Source.Arrangement == EmitterArrangement.Shared, clean = scenario.Checks!.Clean;
        int sites = scenario.Production.SiteCount;
        int[] emitter = [.. Enumerable.Repeat(1, sites)];
        string NameOf(int site) => shared || sites == 1 ? FormattableString.Invariant($"E{emitter[0]}") : FormattableString.Invariant($"E{site + 1}.{emitter[site]}");
        var rows = ImmutableArray.CreateBuilder<LogRow>();
        var readings = new Queue<TraceReading>(trace.Readings);
        var lot = new long[sites];
        var streams = Enumerable.Range(0, sites).Select(i => StreamKey.Of(DrawDomain.Cell, "make_log.repeat", i)).ToArray();
        int calibration = 0;
        void Tell(double seconds, LogEventKind kind, string words, int? site) => rows.Add(new(
            0, seconds / 3600.0, double.NaN, site is { } s ? NameOf(s) : shared ? NameOf(0) : "", site is { } t && !shared ? Site(t) : "", ReadingMoment.Unsaid, double.NaN, double.NaN, false, Meter(), [new(kind, words)]));
        static string Site(int site) => FormattableString.Invariant($"{site + 1}");
        string Meter() => "R1";
        foreach (var what in trace.Events.TakeWhile(e => !(e.Seconds > until)))
        {
            switch (what.What)
            {
                case "as found" or "as left":
                    var r = readings.Dequeue();
                    bool asFound = what.What == "as found";
                    ImmutableArray<LogEvent> events = !asFound && clean && r.Seconds > 0.0 && rows.Count > 0 && rows[^1].Hours == r.Seconds / 3600.0 ? [new(LogEventKind.Cleaned, "cleaned, set")]
                        : r.Seconds == 0.0 && rows.Count == 0 && scenario.Now is null ? [new(LogEventKind.Requalified, "commissioned")] : [];
                    for (int k = 0; k < (asFound ? repeats : 1); k++)
                    {
                        double log = Math.Log(r.Indication);
                        if (k > 0)
                        {
                            // The same light read again: only the repeatability is drawn anew.
                            var law = scenario.Radiometer.Repeatability;
                            double sd = law.IsFixed ? law.Mean : double.NaN;
                            double again = law.IsVarying ? law.Varies.Quantile(Draw.Uniform(plan.Seed, world, lifetime, streams[r.Site], lot[r.Site]++)) : sd;
                            log += again - r.Repeatability;
                        }

                        double value = Rounded(Math.Exp(log), scenario.Radiometer.ResolutionWattsPerSquareMetre);
                        rows.Add(new(0, r.Seconds / 3600.0, r.BurnSeconds / 3600.0, NameOf(r.Site), Site(r.Site), asFound ? ReadingMoment.AsFound : ReadingMoment.AsLeft, value * 1e-4, r.Drive, false, Meter(), k == 0 ? events : []));
                    }

                    break;
                case "emitter replaced":
                    if (what.Detail != "failed")
                    {
                        Replace(what.Site);
                        Tell(what.Seconds, LogEventKind.EmitterReplaced, $"emitter replaced ({what.Detail})", what.Site);
                    }

                    break;
                case "emitter failed":
                    Replace(what.Site);
                    Tell(what.Seconds, LogEventKind.EmitterFailed, "emitter failed, another installed", what.Site);
                    break;
                case "guide replaced":
                    Tell(what.Seconds, LogEventKind.GuideReplaced, $"guide replaced ({what.Detail})", what.Site);
                    break;
                case "calibration":
                    // The reading after it is with the radiometer as it came back.
                    if (calibration++ > 0 || what.Seconds > 0.0)
                    {
                        Tell(what.Seconds, LogEventKind.Calibrated, "radiometer calibrated", null);
                    }

                    break;
                case "requalification":
                    Tell(what.Seconds, LogEventKind.Requalified, "requalified", null);
                    break;
            }
        }

        return new("W/cm²", 1e4, rows.ToImmutable(), scenario.Now is null);

        void Replace(int? site) => emitter[shared ? 0 : site ?? 0]++;
    }

    private static double Rounded(double value, double resolution) => resolution > 0.0 ? Math.Round(value / resolution, MidpointRounding.ToEven) * resolution : value;
}

using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Logs;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Fit;

/// <summary>How long a running cell has left, given its log so far.</summary>
/// <param name="NowHours">Production time of the last row of the log, h.</param>
/// <param name="Checks">As-found readings used.</param>
/// <param name="Lifetimes">Lifetimes simulated.</param>
/// <param name="Alive">… of them not yet to be requalified at that time.</param>
/// <param name="Weights">Weights by what was read.</param>
/// <param name="Cell">Time left of this cell.</param>
/// <param name="Fleet">Time left of all cells that have come so far.</param>
/// <param name="Moved">True when remaining times were moved by regression because few lifetimes were near.</param>
/// <param name="Origin">Where an excursion found at the last check came from; null when none was found.</param>
/// <param name="HorizonHours">Horizon of the scenario, h.</param>
/// <param name="Curve">Share of cells still running by time left: this cell and the fleet; empty where none is asked for.</param>
/// <param name="Withheld">Why there is no forecast; null when there is one.</param>
public sealed record TimeLeft(
    double NowHours, int Checks, int Lifetimes, int Alive, HistoryWeights Weights, RemainingTime? Cell, RemainingTime? Fleet, bool Moved, ExcursionOrigin? Origin, double HorizonHours,
    ImmutableArray<RemainingShare> Curve, string? Withheld)
{
    /// <summary>Why it was not judged whether the last check is an excursion; null when it was.</summary>
    public string? NotJudged { get; init; }

    /// <summary>Worlds of the scenario where they are several but too few to bear an error of their own, so that intervals are by lifetime; 0 else.</summary>
    public int TooFewWorlds { get; init; }

    /// <summary>Lifetimes simulated unless told.</summary>
    public const int DefaultLifetimes = 2000;

    private const double MostBeyond = 0.1; // weight beyond the horizon above which remaining times are not moved: what is beyond cannot be

    /// <summary>Simulates the scenario and weighs its lifetimes.</summary>
    public static TimeLeft Of(Scenario scenario, ReadingLog log, int lifetimes, int threads, CancellationToken cancel, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(log);
        var (checks, why) = LoggedChecks.Of(log, scenario);
        double horizon = scenario.Production.StepCount * scenario.Production.StepSeconds;
        var none = new HistoryWeights([], 0.0, 1.0, 1.0);
        double[] clocks = [.. log.Rows.Select(r => r.Hours).Where(h => !double.IsNaN(h))];
        double now = clocks.Length == 0 ? double.NaN : (clocks.Max() - clocks.Min()) * 3600.0;
        if (why is null && checks.IsEmpty)
        {
            why = "the log has no as-found reading after its beginning";
        }

        if (why is null && !(now < horizon))
        {
            why = FormattableString.Invariant($"the log runs to {now / 3600.0:0} h, beyond the scenario's horizon of {horizon / 3600.0:0} h");
        }

        return why is not null ? new(now / 3600.0, checks.Length, 0, 0, none, null, null, false, null, horizon / 3600.0, [], why)
            : Of(scenario, checks, now, SimulatedCells.Run(scenario, lifetimes, 0, threads, cancel, progress), null, new(threads, cancel));
    }

    /// <summary>Summaries of simulated cells that are still running at a moment; null for the others.</summary>
    internal static CellSummaryNow?[] Summaries(Scenario scenario, IReadOnlyList<SimulatedCell> cells, double alive, double until, bool withDrive, double variance) =>
        [.. cells.Select(c => c.RequalifySeconds > alive ? CellSummaryNow.Of(CellSummaryNow.Of(c.Trace, until, withDrive), scenario.Production.SiteCount, variance) : null)];

    /// <summary>Weighs simulated cells.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="checks">As-found readings of the log.</param>
    /// <param name="now">Production time of its last row, s.</param>
    /// <param name="cells">Simulated cells.</param>
    /// <param name="ready">Their summaries up to now, where many logs of one age are judged; null: made here.</param>
    /// <param name="curve">How the curve and its band are made; null: not at all.</param>
    internal static TimeLeft Of(Scenario scenario, ImmutableArray<LoggedCheck> checks, double now, IReadOnlyList<SimulatedCell> cells, CellSummaryNow?[]? ready = null, RemainingCurve? curve = null)
    {
        int sites = scenario.Production.SiteCount, n = cells.Count;
        double horizon = scenario.Production.StepCount * scenario.Production.StepSeconds;
        bool withDrive = checks.All(c => !double.IsNaN(c.LogDrive));
        double variance = CellSummaryNow.ReadingVariance(scenario, (int)Math.Round(checks.Average(c => c.Repeats)));

        // A reading that is itself out of tolerance ends the history: what came before it says which cell this is.
        double action = scenario.Checks!.ActionLimit, last = checks[^1].Seconds;
        double Off(LoggedCheck c) => Math.Abs(ExcursionOrigin.DeviationOf(scenario, c));
        LoggedCheck[] latest = [.. checks.Where(c => c.Seconds == last)];
        var found = latest.Where(c => !double.IsNaN(Off(c))).MaxBy(Off);
        bool excursion = found is not null && Math.Abs(Math.Exp(ExcursionOrigin.DeviationOf(scenario, found)) - 1.0) > action;
        string? notJudged = latest.Any(c => double.IsNaN(Off(c))) ? "legs of a shared emitter are held to their own as-left readings, of which the log has none for some leg before its last check" : null;
        double until = excursion ? last - 1.0 : now + 1.0;
        var history = checks.Where(c => c.Seconds <= until).Select(c => new CheckReading(c.Seconds, c.Site, c.LogReading - (withDrive ? c.LogDrive : 0.0), c.LogReading, c.EmitterSeconds)).ToArray();
        var seen = CellSummaryNow.Of(history.Length > 0 ? history : [.. checks.Select(c => new CheckReading(c.Seconds, c.Site, c.LogReading - (withDrive ? c.LogDrive : 0.0), c.LogReading, c.EmitterSeconds))], sites, variance)!;
        var summaries = !excursion && ready is not null ? ready : Summaries(scenario, cells, excursion ? until : now, until, withDrive, variance);
        double[] hours = [.. cells.Select(c => (c.RequalifySeconds - now) / 3600.0)];
        int living = summaries.Count(s => s is not null);
        var weights = HistoryWeights.Of(seen, summaries);
        if (living < 20 || weights.Effective < 10.0)
        {
            return new(now / 3600.0, checks.Length, n, living, weights, null, null, false, null, horizon / 3600.0, [],
                living < 20 ? $"only {living} of {n} simulated lifetimes come so far without requalification" : FormattableString.Invariant($"only {weights.Effective:0.#} simulated lifetimes are anything like this cell: the log contradicts the scenario"));
        }

        double[] equal = [.. summaries.Select(s => s is null ? 0.0 : 1.0 / living)];
        bool moves = Moves(weights, hours);
        double[] mine = Laid(weights, hours, seen, summaries);
        var origin = excursion ? ExcursionOrigin.Of(scenario, found!, checks, cells, history.Length > 0 ? seen : null, withDrive) : null;
        RemainingTime ofCell = HistoryWeights.Quantiles(mine, weights.Weights, weights.Effective), ofFleet = HistoryWeights.Quantiles(hours, equal, living);
        ImmutableArray<RemainingShare> shares = [];
        if (!excursion && curve is not null)
        {
            (shares, ofCell, ofFleet) = curve.Of(scenario, seen, summaries, hours, weights, mine, (horizon - now) / 3600.0, ofCell, ofFleet);
        }

        return new(now / 3600.0, checks.Length, n, living, weights, excursion ? null : ofCell, ofFleet, moves && !excursion, origin, horizon / 3600.0, shares, null)
        {
            NotJudged = notJudged, TooFewWorlds = scenario.Run.Worlds > 1 && !MonteCarloUnit.IsWorld(scenario) ? scenario.Run.Worlds : 0,
        };
    }

    /// <summary>Times left as they are laid for this cell: moved by regression where few lifetimes are near and hardly any weight is beyond the horizon, which cannot be moved.</summary>
    internal static double[] Laid(HistoryWeights weights, double[] hours, CellSummaryNow seen, IReadOnlyList<CellSummaryNow?> summaries) => Moves(weights, hours) ? weights.Moved(hours, seen, summaries) : hours;

    private static bool Moves(HistoryWeights weights, double[] hours) => weights.Widening > 1.0 && hours.Zip(weights.Weights, (h, w) => double.IsFinite(h) ? 0.0 : w).Sum() <= MostBeyond;
}

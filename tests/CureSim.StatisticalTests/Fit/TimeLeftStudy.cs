using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Scenarios;
using CureSim.Studies.Fit;
using CureSim.Studies.Interval;

namespace CureSim.StatisticalTests.Fit;

/// <summary>What forecasts of held-back lifetimes come to at one age.</summary>
/// <param name="Hours">Age at the forecast, h.</param>
/// <param name="Cells">Held-back lifetimes that came so far.</param>
/// <param name="Held">… whose time left lay in the printed 80 % interval.</param>
/// <param name="Low">… lay below it.</param>
/// <param name="FleetHeld">The same for the fleet's interval.</param>
/// <param name="Width">Mean length of the interval, h; where it is open, up to the horizon.</param>
/// <param name="FleetWidth">The same of the fleet's.</param>
/// <param name="Contradicted">Held-back lifetimes called a contradiction.</param>
internal sealed record TimeLeftRow(double Hours, int Cells, int Held, int Low, int FleetHeld, double Width, double FleetWidth, int Contradicted);

/// <summary>What is said of one excursion that a check of a held-back lifetime found, and what was true.</summary>
/// <param name="Origin">What is said.</param>
/// <param name="BeganHoursAgo">When it had begun, h ago; null: the state was qualified.</param>
/// <param name="Since">True when it had begun since the check before.</param>
/// <param name="Cause">Number of its cause.</param>
internal sealed record ExcursionCase(ExcursionOrigin Origin, double? BeganHoursAgo, bool Since, int Cause)
{
    /// <summary>The truth lies in an interval of the start.</summary>
    public bool Within(Func<StartTime, Estimate> low, Func<StartTime, Estimate> high) => Origin.BeganHoursAgo is { } b && BeganHoursAgo is { } ago && ago >= low(b).Get() - 1e-9 && ago <= high(b).Get() + 1e-9;

    /// <summary>Chance that is said of a cause.</summary>
    public double ChanceOf(int cause) => Origin.Causes.FirstOrDefault(c => c.Name == ReadingCauses.Names[cause])?.Chance.Value ?? 0.0;
}

/// <summary>Forecasts of lifetimes that had no part in the simulation they are weighed against.</summary>
internal static class TimeLeftStudy
{
    public const int Reference = 2000, HeldBack = 300;

    /// <summary>The scenario of the running cell, lifetimes to weigh and lifetimes held back: simulated once for all tests.</summary>
    internal static (Core.Cell.Scenario Cell, ImmutableArray<SimulatedCell> Reference, ImmutableArray<SimulatedCell> Held) Running => RunningCell.Value;

    /// <summary>Two legs of one lamp of which one is bent now and then, far enough to leave the qualified state.</summary>
    public static readonly string[] BentLegs = ["disturbances=[ { name: guide bent, rate: 1 /1500 h, factor: { uniform: { from: 60 %, to: 90 % } }, cleared_by: bad indication } ]"];

    private static readonly Lazy<(Core.Cell.Scenario Cell, ImmutableArray<SimulatedCell> Reference, ImmutableArray<SimulatedCell> Held)> RunningCell = new(() => Simulated("running-cell.yaml", [], Reference, HeldBack));

    private static (Core.Cell.Scenario Cell, ImmutableArray<SimulatedCell> Reference, ImmutableArray<SimulatedCell> Held) Simulated(string file, string[] sets, int reference, int heldBack)
    {
        var cell = ScenarioReader.Read(LogCoverageStudy.Scenario(file), [.. sets, $"run.lifetimes={reference + heldBack}"]).Cell!;
        return (cell, SimulatedCells.Run(cell, reference, 0, 2, CancellationToken.None), SimulatedCells.Run(cell, heldBack, (uint)reference, 2, CancellationToken.None));
    }

    /// <summary>The first reading outside the action limit of every held-back lifetime: what is said of its origin, and the truth.</summary>
    /// <param name="file">Scenario.</param>
    /// <param name="sets">Keys set in it.</param>
    /// <param name="reference">Lifetimes weighed.</param>
    /// <param name="heldBack">Lifetimes held back.</param>
    public static ExcursionCase[] Excursions(string file, string[] sets, int reference, int heldBack)
    {
        var (cell, cells, held) = file == "running-cell.yaml" && sets.Length == 0 ? RunningCell.Value : Simulated(file, sets, reference, heldBack);
        (cells, held) = ([.. cells.Take(reference)], [.. held.Take(heldBack)]);
        double action = cell.Checks!.ActionLimit, target = Math.Log(cell.Checks.TargetWattsPerSquareMetre);
        bool legs = ExcursionOrigin.HasLegs(cell);
        var found = new ExcursionCase?[held.Length];
        Parallel.For(0, held.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i =>
        {
            var trace = held[i].Trace;
            var left = new Dictionary<int, TraceReading>();
            var readings = new List<(TraceReading Read, TraceReading Left)>();
            foreach (var r in trace.Readings)
            {
                if (!r.AsFound)
                {
                    left[r.Site] = r;
                }
                else if (left.TryGetValue(r.Site, out var l))
                {
                    readings.Add((r, l));
                }
            }

            double Off((TraceReading Read, TraceReading Left) r) => Math.Log(r.Read.Indication) - (legs ? Math.Log(r.Left.Indication) : target);
            int at = readings.FindIndex(r => Math.Abs(Math.Exp(Off(r)) - 1.0) > action);
            if (double.IsNaN(held[i].RequalifySeconds) || at < 0 || readings[at].Read.Seconds == readings[0].Read.Seconds)
            {
                return;
            }

            // All that the log holds up to that check; of several sites out at once the forecast looks at the one that is furthest out.
            double seconds = readings[at].Read.Seconds;
            ImmutableArray<LoggedCheck> checks = [.. readings.TakeWhile(r => r.Read.Seconds <= seconds).Select((r, line) => new LoggedCheck(r.Read.Seconds, r.Read.Site, "1", Math.Log(r.Read.Indication), Math.Log(r.Read.Drive), 1, r.Read.BurnSeconds, line + 2) { LogLeft = Math.Log(r.Left.Indication) })];
            if (TimeLeft.Of(cell, checks, seconds, cells).Origin is not { Withheld: null } origin)
            {
                return;
            }

            var (out0, from) = readings.Where(r => r.Read.Seconds == seconds).MaxBy(r => Math.Abs(Off(r)));
            double? began = ExcursionOrigin.BeganAt(trace, seconds);
            found[i] = new(origin, (seconds - began) / 3600.0, began >= seconds - (3600.0 * origin.BracketHours) - 1e-6, ReadingCauses.Of(out0, from, Off((out0, from)) < 0.0));
        });
        return [.. found.OfType<ExcursionCase>()];
    }

    /// <summary>Forecasts at several ages.</summary>
    public static TimeLeftRow[] Of(IReadOnlyList<double> ages)
    {
        var (cell, cells, held) = RunningCell.Value;
        double horizon = cell.Production.StepCount * cell.Production.StepSeconds / 3600.0;
        return [.. ages.Select(age => At(age))];

        TimeLeftRow At(double age)
        {
            double now = age * 3600.0, action = cell.Checks!.ActionLimit, target = cell.Checks.TargetWattsPerSquareMetre;
            var ready = TimeLeft.Summaries(cell, cells, now, now + 1.0, withDrive: true, CellSummaryNow.ReadingVariance(cell, 1));
            var found = new (TimeLeft Forecast, double Truth)?[held.Length];
            Parallel.For(0, held.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i =>
            {
                ImmutableArray<LoggedCheck> checks = [.. held[i].Trace.Readings.Where(r => r.AsFound && r.Seconds <= now)
                    .Select((r, line) => new LoggedCheck(r.Seconds, r.Site, "1", Math.Log(r.Indication), Math.Log(r.Drive), 1, r.BurnSeconds, line + 2))];

                // A last reading outside the action limit asks another question: where it came from.
                bool excursion = Math.Abs(Math.Exp(checks[^1].LogReading) / target - 1.0) > action;
                if (held[i].RequalifySeconds > now && !excursion)
                {
                    found[i] = (TimeLeft.Of(cell, checks, now, cells, ready), (held[i].RequalifySeconds - now) / 3600.0);
                }
            });

            var all = found.OfType<(TimeLeft Forecast, double Truth)>().Where(f => f.Forecast.Cell is not null).ToArray();
            double Low(RemainingTime t) => t.Low.Value ?? double.PositiveInfinity;
            double High(RemainingTime t) => t.High.Value ?? double.PositiveInfinity;
            bool In(RemainingTime t, double truth) => truth >= Low(t) && truth <= High(t);
            double Width(RemainingTime t) => Math.Min(High(t), horizon - age) - Math.Min(Low(t), horizon - age);
            return new(
                age, all.Length, all.Count(f => In(f.Forecast.Cell!, f.Truth)), all.Count(f => f.Truth < Low(f.Forecast.Cell!)), all.Count(f => In(f.Forecast.Fleet!, f.Truth)), all.Average(f => Width(f.Forecast.Cell!)),
                all.Average(f => Width(f.Forecast.Fleet!)), all.Count(f => f.Forecast.Weights.Chance < HistoryWeights.Contradiction));
        }
    }
}

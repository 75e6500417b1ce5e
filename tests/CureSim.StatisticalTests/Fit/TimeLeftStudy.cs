using System.Collections.Immutable;
using CureSim.Scenarios;
using CureSim.Studies.Fit;

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

/// <summary>What is said of excursions that checks of held-back lifetimes found, against what happened.</summary>
/// <param name="Told">Excursions of which something was said.</param>
/// <param name="Expected">Sum of the chances that they began after the check before.</param>
/// <param name="Variance">Sum of chance·(1 − chance).</param>
/// <param name="True">… that did.</param>
/// <param name="Out">… whose state was out.</param>
/// <param name="Held">… of these, whose beginning lay in the printed 90 % range.</param>
internal sealed record ExcursionRow(int Told, double Expected, double Variance, int True, int Out, int Held);

/// <summary>Forecasts of lifetimes that had no part in the simulation they are weighed against.</summary>
internal static class TimeLeftStudy
{
    public const int Reference = 2000, HeldBack = 300;

    /// <summary>The first reading outside the action limit of every held-back lifetime: what is said of its origin, and the truth.</summary>
    public static ExcursionRow Excursions(int reference, int heldBack)
    {
        var cell = ScenarioReader.Read(LogCoverageStudy.Scenario("running-cell.yaml"), [$"run.lifetimes={reference + heldBack}"]).Cell!;
        var cells = SimulatedCells.Run(cell, reference, 0, 2, CancellationToken.None);
        var held = SimulatedCells.Run(cell, heldBack, (uint)reference, 2, CancellationToken.None);
        double action = cell.Checks!.ActionLimit, target = cell.Checks.TargetWattsPerSquareMetre;
        var found = new (double Chance, bool Since, bool IsOut, bool Held)?[held.Length];
        Parallel.For(0, held.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i =>
        {
            var readings = held[i].Trace.Readings.Where(r => r.AsFound).ToArray();
            int at = Array.FindIndex(readings, r => Math.Abs((r.Indication / target) - 1.0) > action);
            if (at < 1)
            {
                return;
            }

            double seconds = readings[at].Seconds;
            ImmutableArray<LoggedCheck> checks = [.. readings.Take(at + 1).Select((r, line) => new LoggedCheck(r.Seconds, r.Site, "1", Math.Log(r.Indication), Math.Log(r.Drive), 1, r.BurnSeconds, line + 2))];
            if (TimeLeft.Of(cell, checks, seconds, cells).Origin is not { Withheld: null } origin)
            {
                return;
            }

            // The truth as the check met it: what the check itself put right at that moment was still out.
            var changes = held[i].Trace.Events.Where(e => e.What is "excursion starts" or "excursion ends").ToArray();
            var before = changes.LastOrDefault(e => e.Seconds < seconds);
            bool isOut = before?.What == "excursion starts";
            double ago = isOut ? (seconds - before!.Seconds) / 3600.0 : double.NaN;
            found[i] = (origin.SinceLastCheck.Get(), isOut && before!.Seconds >= readings[at - 1].Seconds, isOut, isOut && origin.BeganHoursAgo is { } b && ago >= b.P05 && ago <= b.P95);
        });
        var all = found.OfType<(double Chance, bool Since, bool IsOut, bool Held)>().ToArray();
        return new(all.Length, all.Sum(f => f.Chance), all.Sum(f => f.Chance * (1.0 - f.Chance)), all.Count(f => f.Since), all.Count(f => f.IsOut), all.Count(f => f.Held));
    }

    /// <summary>Forecasts at several ages.</summary>
    public static TimeLeftRow[] Of(IReadOnlyList<double> ages, int reference = Reference, int heldBack = HeldBack)
    {
        var cell = ScenarioReader.Read(LogCoverageStudy.Scenario("running-cell.yaml"), [$"run.lifetimes={Reference + HeldBack}"]).Cell!;
        var cells = SimulatedCells.Run(cell, reference, 0, 2, CancellationToken.None);
        var held = SimulatedCells.Run(cell, heldBack, Reference, 2, CancellationToken.None);
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

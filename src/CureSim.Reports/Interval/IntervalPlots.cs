using System.Collections.Immutable;
using CureSim.Core.Statistics;
using CureSim.Reports.Figures;
using CureSim.Reports.Text;
using CureSim.Studies.Interval;

namespace CureSim.Reports.Interval;

/// <summary>The figures of the interval study.</summary>
public static class IntervalPlots
{
    private const int MostAreas = 5;
    private const double MostTimesLowest = 8.0;

    /// <summary>Figures with the names of their files.</summary>
    public static IEnumerable<(string Name, Figure Figure)> Of(IntervalResult study)
    {
        ArgumentNullException.ThrowIfNull(study);
        CandidateVerdict[] plain = [.. study.Candidates.Where(c => c.Run.Timing.IsPlain)];
        if (plain.Length > 1)
        {
            if (Cost(study, plain) is { } cost)
            {
                yield return ("cost_by_interval", cost);
            }

            if (Reliability(study, plain) is { } reliability)
            {
                yield return ("reliability_by_interval", reliability);
            }

            if (Curve(study, plain, IntervalMeasures.Ppm, "How many parts are nonconforming, by interval?", new Axis("Nonconforming parts", "ppm") { Scale = AxisScale.Logarithmic }) is { } ppm)
            {
                yield return ("nonconforming_by_interval", study.Study.NonconformingLimit is { } limit ? ppm with { Layers = ppm.Layers.Add(new Limit(Along.Y, 1e6 * limit, $"limit {Format.PartsPerMillion(limit)}")) } : ppm);
            }

            if (Curve(study, plain, "parts_at_risk_per_excursion", "How many parts are made before an excursion is seen?", new Axis("Parts made in the first excursion before it is seen or ends") { FromZero = true }) is { } risk)
            {
                yield return ("parts_at_risk", risk);
            }
        }

        if (Unseen(study) is { } unseen)
        {
            yield return ("unseen_time", unseen);
        }

        foreach (var grid in study.Grids)
        {
            if (MapOf(study, grid) is { } map)
            {
                yield return (grid.Crossed == CrossedLimit.Adjust ? "interval_by_adjust_limit" : "interval_by_action_limit", map);
            }
        }
    }

    private static Axis Hours => new("Interval between checks", "h of production") { Scale = AxisScale.Logarithmic };

    private static string Sample(IntervalResult study)
    {
        var run = study.Scenario.Run;
        string worlds = run.Worlds > 1 ? $"{Format.Count(run.Worlds)} worlds × " : "";
        return $"{worlds}{Format.Count(run.LifetimesPerWorld)} lifetimes, the same for every interval";
    }

    private static Figure? Cost(IntervalResult study, CandidateVerdict[] plain)
    {
        if (study.Scenario.Costs is not { } costs)
        {
            return null;
        }

        // One interval that costs tenfold would press all others flat against the axis.
        double lowest = plain.Min(p => IntervalResult.CostOf(p) ?? double.PositiveInfinity);
        int before = plain.Length;
        plain = [.. plain.Where(p => IntervalResult.CostOf(p) <= MostTimesLowest * lowest)];
        if (plain.Length < 2)
        {
            return null;
        }

        string left = plain.Length == before ? "" : $" Intervals that cost more than {MostTimesLowest:0} times the lowest are left out.";
        ImmutableArray<double> x = [.. plain.Select(p => p.Run.IntervalHours)];
        var parts = CostParts.Of(study.Scenario, costs).Skip(1)
            .Select(p => (p.Name, Heights: plain.Select(c => c.Run.Find(p.Id)!.Estimate.Value ?? 0.0).ToArray())).Where(p => p.Heights.Max() > 0.0)
            .OrderByDescending(p => p.Heights.Max()).ToArray();
        if (parts.Length == 0)
        {
            return null;
        }

        var shown = parts.Length <= MostAreas ? parts
            : [.. parts.Take(MostAreas - 1), ("all else", [.. Enumerable.Range(0, plain.Length).Select(i => parts.Skip(MostAreas - 1).Sum(p => p.Heights[i]))])];
        var layers = ImmutableArray.CreateBuilder<Layer>();
        layers.Add(new Stack(x, [.. shown.Select(p => new StackArea(p.Name, [.. p.Heights]))]));
        if (study.CostMinimum is { Value: { } minimum } found && minimum >= x[0] && minimum <= x[^1])
        {
            layers.Add(new Target(Along.X, minimum, $"lowest near {Format.Interval(minimum, found.Lower95!.Value, found.Upper95!.Value, "h")}"));
        }

        string answer = study.Cheapest is { } cheapest ? $"Of the timings simulated every {cheapest.Run.Timing.Name} costs least. " : "";
        return new Figure
        {
            Title = "What does checking, and not checking, cost a year?",
            Subtitle = $"{answer}{Sample(study)}. Means over cells.{left}",
            X = Hours,
            Y = new Axis("Cost", costs.Currency + " a year") { FromZero = true },
            Layers = layers.ToImmutable(),
        };
    }

    private static Figure? Reliability(IntervalResult study, CandidateVerdict[] plain)
    {
        var layers = ImmutableArray.CreateBuilder<Layer>();
        ImmutableArray<double> x = [.. plain.Select(p => p.Run.IntervalHours)];
        var figures = plain.Select(p => p.Run.Find(IntervalMeasures.InTolerance)!).ToArray();
        bool worlds = figures.All(f => f.Band is { Lower05: not null, Upper95: not null });
        bool intervals = !worlds && figures.All(f => f.Estimate is { Lower95: not null, Upper95: not null });
        if (intervals)
        {
            layers.Add(new Band(x, [.. figures.Select(f => f.Estimate.Lower95!.Value)], [.. figures.Select(f => f.Estimate.Upper95!.Value)]));
        }

        if (worlds)
        {
            layers.Add(new Band(x, [.. figures.Select(f => f.Band!.Lower05!.Value)], [.. figures.Select(f => f.Band!.Upper95!.Value)], "5 to 95 % of worlds"));
        }

        var valued = plain.Zip(figures).Where(z => z.Second.Estimate.Value is not null).ToArray();
        if (valued.Length < 2)
        {
            return null; // intervals beyond the horizon see no check
        }

        ImmutableArray<double> at = [.. valued.Select(v => v.First.Run.IntervalHours)], y = [.. valued.Select(v => v.Second.Estimate.Value!.Value)];
        layers.Add(new Line(at, y));
        layers.Add(new Points(at, y, study.Candidates.All(c => c.Run.Timing.IsPlain) ? null : "checks by the calendar")
        {
            Lower = intervals ? [] : [.. valued.Select(v => v.Second.Estimate.Lower95 ?? v.Second.Estimate.Value!.Value)],
            Upper = intervals ? [] : [.. valued.Select(v => v.Second.Estimate.Upper95 ?? v.Second.Estimate.Value!.Value)],
        });
        var uneven = study.Candidates.Where(c => !c.Run.Timing.IsPlain && c.Run.Find(IntervalMeasures.InTolerance)?.Estimate.Value is not null && c.Run.Find(IntervalMeasures.Checks)?.Estimate.Value > 0.0).ToArray();
        if (uneven.Length > 0)
        {
            double year = study.Scenario.Production.YearSeconds / 3600.0;
            layers.Add(new Points(
                [.. uneven.Select(c => year / c.Run.Find(IntervalMeasures.Checks)!.Estimate.Value!.Value)], [.. uneven.Select(c => c.Run.Find(IntervalMeasures.InTolerance)!.Estimate.Value!.Value)],
                "uneven or triggered, at their mean interval", Tone.Second));
        }

        layers.Add(new Limit(Along.Y, 100.0 * study.Study.ReliabilityTarget, $"target {Format.PerCent(study.Study.ReliabilityTarget)}"));
        return new Figure
        {
            Title = "How many checks find the cell in tolerance, by interval?",
            Subtitle = $"End-of-period reliability. {Sample(study)}; {(intervals ? "band" : "whiskers")}: 95 % Monte-Carlo intervals.",
            X = Hours,
            Y = new Axis("Checks that find the cell in tolerance", "%"),
            Layers = layers.ToImmutable(),
        };
    }

    private static Figure? Curve(IntervalResult study, CandidateVerdict[] plain, string id, string title, Axis axis)
    {
        var valued = plain.Select(p => (p.Run.IntervalHours, p.Run.Find(id)?.Estimate)).Where(p => p.Estimate is { Value: not null, Lower95: not null }).ToArray();
        // A logarithmic axis has no zero.
        if (axis.Scale == AxisScale.Logarithmic)
        {
            valued = [.. valued.Where(v => v.Estimate!.Lower95 > 0.0)];
        }

        if (valued.Length < 2)
        {
            return null;
        }

        ImmutableArray<double> x = [.. valued.Select(v => v.IntervalHours)], y = [.. valued.Select(v => v.Estimate!.Value!.Value)];
        return new Figure
        {
            Title = title,
            Subtitle = $"{(id == IntervalMeasures.Ppm ? "Mean of p(state) over cells and time" : "Mean over cells that leave the qualified state")}. {Sample(study)}; band: 95 % intervals.",
            X = Hours,
            Y = axis,
            Layers =
            [
                new Band(x, [.. valued.Select(v => Math.Max(0.0, v.Estimate!.Lower95!.Value))], [.. valued.Select(v => v.Estimate!.Upper95!.Value)]),
                new Line(x, y),
                new Points(x, y),
            ],
        };
    }

    private static Figure? Unseen(IntervalResult study)
    {
        var all = study.Candidates.Select(c => (c.Run.Timing.Name, Interval: c.Run.IntervalHours, Hours: UnseenTime.OutOfState(c.Run))).Where(c => c.Hours[^1] > 0.0).ToArray();
        if (all.Length == 0)
        {
            return null;
        }

        // At most five can be told apart: those about the one that is recommended.
        double chosen = (study.Longest ?? study.NearestMiss)!.Run.IntervalHours;
        var picked = LimitGrid.About(all, chosen, c => c.Interval).ToArray();
        Tone[] tones = [Tone.First, Tone.Second, Tone.Third, Tone.Fourth, Tone.Fifth];
        double[] p = [.. Enumerable.Range(0, 200).Select(i => i / 200.0)];
        double to = UnseenEnd([.. picked.Select(c => c.Hours)], p);
        double Within(double hours) => to > 0.0 && hours > to ? double.NaN : hours;
        return new Figure
        {
            Title = "How long do cells run unqualified before anybody knows?",
            Subtitle = $"Share of cells with no more unseen time than shown, by interval. {Sample(study)}.",
            X = new Axis("Time out of the qualified state before detection", "h a year") { From = 0.0, To = to > 0.0 ? to : null },
            Y = new Axis("Cells", "%") { From = 0.0, To = 100.0 },
            Layers =
            [
                .. picked.Select((c, i) => (Layer)new Line([.. p.Select(q => SampleQuantile.OfSorted(c.Hours, q)).Where(h => double.IsFinite(Within(h)))], [.. p.Where(q => double.IsFinite(Within(SampleQuantile.OfSorted(c.Hours, q)))).Select(q => 100.0 * q)], c.Name, tones[i])),
                new Target(Along.Y, 95.0, "19 cells in 20"),
            ],
        };
    }

    /// <summary>Where the axis of unseen hours ends: beyond the 95 % point of all but the longest, unless a line would then have no two points left; 0: it holds all.</summary>
    /// <param name="hours">Sorted hours by line.</param>
    /// <param name="p">Shares at which lines have their points, rising.</param>
    internal static double UnseenEnd(double[][] hours, double[] p)
    {
        double to = 1.25 * hours.Select(h => SampleQuantile.OfSorted(h, 0.95)).Order().ElementAt(Math.Max(0, hours.Length - 2));
        return hours.All(h => SampleQuantile.OfSorted(h, p[1]) <= to) ? to : 0.0;
    }

    private static Figure? MapOf(IntervalResult study, LimitGrid grid)
    {
        if (grid.Timings.Length < 2 || grid.Limits.Length < 2)
        {
            return null;
        }

        double? Ppm(int i, int j) => grid.At(i, j).Find(IntervalMeasures.Ppm)?.Estimate is { } e ? e.Value ?? e.Upper95 : null;
        double[] values = [.. Enumerable.Range(0, grid.Timings.Length).SelectMany(i => Enumerable.Range(0, grid.Limits.Length).Select(j => Ppm(i, j) is { } p and > 0.0 ? Math.Log10(p) : double.NaN))];
        double[] finite = [.. values.Where(double.IsFinite)];
        if (finite.Length < 4 || !(finite.Max() > finite.Min()))
        {
            return null;
        }

        double? requirement = study.Study.NonconformingLimit is { } limit ? Math.Log10(1e6 * limit) : null;
        var contours = Contours(finite.Min(), finite.Max(), requirement);
        if (contours.IsEmpty)
        {
            return null;
        }

        string what = grid.Crossed == CrossedLimit.Adjust ? "adjust" : "action";
        var run = study.Scenario.Run;
        int lifetimes = run.Worlds * Math.Min(IntervalResult.MostBeside, run.LifetimesPerWorld);
        return new Figure
        {
            Title = $"How many parts are nonconforming, by interval and {what} limit?",
            Subtitle = $"Nonconforming parts in ppm; contours between simulated nodes; blank: too few lifetimes hold them. {Format.Count(lifetimes)} lifetimes, the same at every node.",
            Note = grid.Crossed == CrossedLimit.Adjust
                ? "Too narrow a limit follows the radiometer's noise (over-adjustment), too wide a one lets the output drift."
                : "The action limit also decides when full drive is short and something is replaced.",
            X = new Axis("Interval between checks") { Names = [.. grid.Timings.Select(t => t.Name)] },
            Y = new Axis($"{char.ToUpperInvariant(what[0])}{what[1..]} limit", "%"),
            Layers =
            [
                new Map([.. Enumerable.Range(0, grid.Timings.Length).Select(i => (double)i)], [.. grid.Limits.Select(l => 100.0 * l)], [.. values], contours)
                {
                    LowIsGood = true, Requirement = contours.Any(c => c.Value == requirement) ? requirement : null,
                },
            ],
        };
    }

    // Values that read well between the extremes: 1-2-5 steps, coarser until at most eight are left, and the requirement.
    private static ImmutableArray<NamedValue> Contours(double low, double high, double? requirement)
    {
        double[][] mantissas = [[1.0, 1.1, 1.2, 1.3, 1.5, 1.7, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0], [1.0, 1.2, 1.5, 2.0, 3.0, 4.0, 5.0, 7.0], [1.0, 2.0, 5.0], [1.0, 3.0], [1.0]];
        foreach (double[] of in mantissas)
        {
            double[] all = [.. Enumerable.Range((int)Math.Floor(low), (int)Math.Ceiling(high) - (int)Math.Floor(low) + 1).SelectMany(d => of.Select(m => d + Math.Log10(m))).Where(v => v > low && v < high).Order()];
            if (all.Length is > 0 and <= 8)
            {
                var with = requirement is { } r && r > low && r < high && all.All(v => Math.Abs(v - r) > 1e-9) ? [.. all.Append(r).Order()] : all;
                return [.. with.Select(v => new NamedValue(Format.Value(Math.Pow(10.0, v), "ppm", 2), requirement is { } q && Math.Abs(v - q) <= 1e-9 ? q : v))];
            }
        }

        return [];
    }
}

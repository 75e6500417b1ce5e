using System.Collections.Immutable;
using CureSim.Core.Cell;
using CureSim.Core.Statistics;
using CureSim.Engine.Block;
using CureSim.Engine.Plan;
using CureSim.Studies.Runs;

namespace CureSim.Studies.Interval;

/// <summary>A cause and how likely it is.</summary>
/// <param name="Name">What moved most in the reading's direction since the site was last set.</param>
/// <param name="Chance">Its share among the readings like this one; 0 … 1.</param>
public sealed record ReadingCause(string Name, Estimate Chance);

/// <summary>One as-found reading of today: verdict, what to do, and what simulated cells that read so had come to.</summary>
/// <param name="Site">Site from 0.</param>
/// <param name="WattsPerSquareMetre">The reading.</param>
/// <param name="Deviation">Reading over its reference (target, or the leg's last as-left value), less 1.</param>
/// <param name="Verdict">Verdict of the routine, in words.</param>
/// <param name="ToDo">What the routine then asks for.</param>
/// <param name="EffectiveLifetimes">Lifetimes on which the causes rest: (Σw)²/Σw².</param>
/// <param name="Withheld">Why no causes are given; null when they are.</param>
/// <param name="Causes">Causes, likeliest first.</param>
/// <param name="Qualified">Chance that the state is qualified all the same.</param>
public sealed record ReadingToday(
    int Site, double WattsPerSquareMetre, double Deviation, string Verdict, string ToDo, double EffectiveLifetimes, string? Withheld, ImmutableArray<ReadingCause> Causes, Estimate? Qualified)
{
    /// <summary>Lifetimes replayed.</summary>
    public const int Lifetimes = 400;

    private static readonly string[] Names = ["emitter or its drive", "guide loss or leg", "fouling", "a disturbance of the transmission", "fixture (distance, aim)", "the radiometer itself"];

    private sealed record Seen(int Lifetime, double LogReading, int Cause, bool Qualified);

    /// <summary>Judges a reading.</summary>
    /// <remarks>
    /// Every as-found reading of the site in the replayed lifetimes weighs exp(−½(Δ/h)²), Δ the difference of the logarithms, h a fifth of the action limit.
    /// Its cause is what moved it most, in the direction of its deviation, since the site's last as-left reading.
    /// </remarks>
    public static ReadingToday Of(Scenario cell, double reading, int site, int threads, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(cell);
        var checks = cell.Checks!;
        var plan = new RunPlan(cell with { Run = cell.Run with { PartsAStep = 1 } });

        // A leg of a shared emitter is held to its own as-left value where the scenario gives it, any other site to the target.
        bool leg = cell.Source.Arrangement == EmitterArrangement.Shared && cell.Production.SiteCount > 1;
        double reference = leg && cell.Now?.LastAsLeftWattsPerSquareMetre is { } left && site < left.Length ? left[site] : checks.TargetWattsPerSquareMetre;
        double deviation = (reading / reference) - 1.0;
        var (verdict, toDo) = Judge(Math.Abs(deviation), deviation, checks, plan.FirstWorld.ToleranceLimit);
        int worlds = cell.Run.Worlds, n = (int)Math.Min(Lifetimes, (long)worlds * cell.Run.LifetimesPerWorld);
        CellModel[] models = [.. Enumerable.Range(0, Math.Min(worlds, n)).Select(plan.ModelOf)];
        var seen = new List<Seen>[n];
        Parallel.For(0, n, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, threads), CancellationToken = cancel }, i =>
            seen[i] = ReadingsOf(OneLifetime.Trace(plan, models[i % worlds], (uint)(i / worlds)), i, site, deviation, cell.Production.StepSeconds));
        double width = checks.ActionLimit / 5.0, at = Math.Log(reading);
        double Weight(Seen s) => Math.Exp(-0.5 * Math.Pow((s.LogReading - at) / width, 2.0));
        var weights = new double[n];
        var sums = new double[Names.Length + 1, n];
        foreach (var s in seen.SelectMany(s => s))
        {
            double w = Weight(s);
            weights[s.Lifetime] += w;
            sums[s.Cause, s.Lifetime] += w;
            sums[Names.Length, s.Lifetime] += s.Qualified ? w : 0.0;
        }

        double total = weights.Sum(), effective = total > 0.0 ? total * total / weights.Sum(w => w * w) : 0.0;
        if (effective < MeasureEstimator.LeastSupport)
        {
            string reason = FormattableString.Invariant($"only {effective:0.#} of {n} lifetimes hold readings near this one; at least {MeasureEstimator.LeastSupport:0} are needed: what the scenario says and what was read do not fit");
            return new(site, reading, deviation, verdict, toDo, effective, reason, [], null);
        }

        Estimate Share(int row) => Ratio([.. Enumerable.Range(0, n).Select(i => sums[row, i])], weights, total);
        return new(
            site, reading, deviation, verdict, toDo, effective, null,
            [.. Names.Select((name, c) => new ReadingCause(name, Share(c))).Where(c => c.Chance.Value > 0.0).OrderByDescending(c => c.Chance.Value)], Share(Names.Length));
    }

    // Ratio of two sums over lifetimes, by linearisation (W. G. Cochran, Sampling Techniques, section 6.5), held between 0 and 1.
    private static Estimate Ratio(double[] numerator, double[] weights, double total)
    {
        double ratio = numerator.Sum() / total, squares = 0.0;
        for (int i = 0; i < weights.Length; i++)
        {
            double d = numerator[i] - (ratio * weights[i]);
            squares += d * d;
        }

        double error = Math.Sqrt(squares) / total;
        return Estimate.Bounded(ratio, error, Math.Max(0.0, ratio - (1.96 * error)), Math.Min(1.0, ratio + (1.96 * error)));
    }

    private static List<Seen> ReadingsOf(LifetimeTrace trace, int lifetime, int site, double direction, double step)
    {
        var found = new List<Seen>();
        TraceReading? left = null;
        foreach (var r in trace.Readings.Where(r => r.Site == site))
        {
            if (!r.AsFound)
            {
                left = r;
                continue;
            }

            if (left is null)
            {
                continue;
            }

            double[] moved =
            [
                r.Source - left.Source, r.Guide - left.Guide, r.Fouling - left.Fouling, r.Disturbance - left.Disturbance, r.Fixture - left.Fixture, r.Meter - left.Meter,
            ];
            int cause = Enumerable.Range(0, moved.Length).MaxBy(c => direction < 0.0 ? -moved[c] : moved[c]);
            int k = Math.Clamp((int)Math.Round(r.Seconds / step) - 1, 0, trace.Steps.Count - 1);
            found.Add(new(lifetime, Math.Log(r.Indication), cause, trace.Steps[k].Qualified));
        }

        return found;
    }

    private static (string Verdict, string ToDo) Judge(double size, double deviation, Checks checks, double tolerance)
    {
        string clean = checks.Clean ? "clean the tips, " : "";
        string look = checks.FixtureCheck ? "look at the fixture, " : "";
        return !(size > checks.AdjustLimit) ? ("leave", $"{clean}{look}leave the output as it is: a reading within the adjust limit says nothing that its own error could not")
            : !(size > checks.ActionLimit) ? ("adjust", $"{clean}{look}set the output to target and read it again")
            : !(size > tolerance) ? ("adjust and record", $"{clean}{look}read again to be sure, look for the cause, set the output to target, write it down")
            : ("out of tolerance", $"hold the parts made since the last good check, read again to be sure, look for the cause, {clean}{look}set the output to target{(deviation < 0.0 ? "; if full drive does not reach it, replace what the routine names" : "")}");
    }
}

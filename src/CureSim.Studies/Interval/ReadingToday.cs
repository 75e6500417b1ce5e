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

    /// <summary>Kernels of ln reading as parts of the action limit: where they begin, how far they are widened, by which factor, and until how many lifetimes are effective. Common practice, no source.</summary>
    internal const double Narrowest = 0.02, Widest = 0.2, WiderBy = 1.25, EnoughEffective = 100.0;

    // Off: ln of the reading over what its site is held to, less the same of today.
    private sealed record Seen(int Lifetime, double Off, int Cause, bool Qualified);

    /// <summary>Judges a reading.</summary>
    /// <remarks>
    /// Every as-found reading of the site in the replayed lifetimes that lies on the same side of the action limit (and of its reference, where it is outside) weighs exp(−½(Δ/h)²), Δ the difference of the logarithms of reading
    /// over reference; h begins with a fiftieth of the action limit and is widened, at most to a fifth, until <see cref="EnoughEffective"/> lifetimes are effective. Readings inside the limit are the many, and what moves
    /// slowly makes most of them: counted for one outside, however near, they would give slow causes too much. Its cause is what moved it most, in the direction of its deviation, since the site's last as-left reading.
    /// Shares and intervals: <see cref="WeightedShares"/>.
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
            seen[i] = ReadingsOf(OneLifetime.Trace(plan, models[i % worlds], (uint)(i / worlds)), i, site, deviation, checks.ActionLimit, leg ? null : checks.TargetWattsPerSquareMetre, cell.Production.StepSeconds));
        Seen[] all = [.. seen.SelectMany(s => s)];
        int[] lifetimes = [.. all.Select(s => s.Lifetime)], unit = [.. lifetimes.Select(l => MonteCarloUnit.Of(cell, l))];
        double[] weight = [];
        double effective = 0.0;
        for (double width = Narrowest; ; width *= WiderBy)
        {
            double h = Math.Min(width, Widest) * checks.ActionLimit;
            weight = [.. all.Select(s => Math.Exp(-0.5 * (s.Off / h) * (s.Off / h)))];
            effective = new WeightedShares(lifetimes, weight).Effective;
            if (effective >= EnoughEffective || width >= Widest)
            {
                break;
            }
        }

        if (effective < MeasureEstimator.LeastSupport)
        {
            string reason = FormattableString.Invariant($"only {effective:0.#} of {n} lifetimes hold readings near this one; at least {MeasureEstimator.LeastSupport:0} are needed: what the scenario says and what was read do not fit");
            return new(site, reading, deviation, verdict, toDo, effective, reason, [], null);
        }

        var shares = new WeightedShares(unit, weight);
        return new(
            site, reading, deviation, verdict, toDo, effective, null,
            [.. ReadingCauses.Names.Select((name, c) => new ReadingCause(name, shares.Share(i => all[i].Cause == c))).Where(c => c.Chance.Value > 0.0).OrderByDescending(c => c.Chance.Value)], shares.Share(i => all[i].Qualified));
    }

    private static List<Seen> ReadingsOf(LifetimeTrace trace, int lifetime, int site, double deviation, double action, double? target, double step)
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

            double off = (r.Indication / (target ?? left.Indication)) - 1.0;
            bool isOut = Math.Abs(off) > action, todayOut = Math.Abs(deviation) > action;
            if (isOut == todayOut && (!isOut || off < 0.0 == deviation < 0.0))
            {
                int k = Math.Clamp((int)Math.Round(r.Seconds / step) - 1, 0, trace.Steps.Count - 1);
                found.Add(new(lifetime, Math.Log((1.0 + off) / (1.0 + deviation)), ReadingCauses.Of(r, left, deviation < 0.0), trace.Steps[k].Qualified));
            }
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

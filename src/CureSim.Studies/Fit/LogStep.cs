using System.Collections.Immutable;
using CureSim.Core.Logs;
using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>A step of the readings that no event explains: a likely disturbance.</summary>
/// <param name="Emitter">Emitter in use.</param>
/// <param name="Site">Site; empty when the log does not say.</param>
/// <param name="Line">Line of the first reading after it.</param>
/// <param name="Clock">Clock of that reading, h; NaN without one.</param>
/// <param name="Hours">Emitter hours of that reading.</param>
/// <param name="Factor">Output after over output before.</param>
/// <param name="FactorErrorLog">Standard error of its logarithm.</param>
/// <param name="PutRight">True: seen as found and gone as left, so the check put it right. False: it stayed.</param>
public sealed record LogStep(string Emitter, string Site, int Line, double Clock, double Hours, double Factor, double FactorErrorLog, bool PutRight);

/// <summary>Finds unexplained steps. The rule is ours: common practice, no source.</summary>
/// <remarks>
/// Of every emitter and site the place is sought where the medians of the residuals on its two sides (up to <see cref="Side"/> readings each, at least
/// <see cref="LeastSide"/>) differ most. It is a step when the difference exceeds <see cref="Errors"/> standard errors and <see cref="LeastSize"/>, and no event but cleaning
/// and setting, which are routine, and requalification, which follows from what was found, stands within a reading of it. A single odd reading is none. The step becomes a level of its own, the fit is made again, and the search goes on.
/// </remarks>
internal static class LogSteps
{
    /// <summary>Readings on a side.</summary>
    public const int Side = 5;

    /// <summary>Fewest on a side.</summary>
    public const int LeastSide = 3;

    /// <summary>Standard errors of the difference.</summary>
    public const double Errors = 5.0;

    /// <summary>Smallest step, ln.</summary>
    public const double LeastSize = 0.03;

    /// <summary>Robust deviations, beside <see cref="LeastSize"/>, beyond which a single reading is odd and left out of the fit.</summary>
    public const double OddErrors = 6.0;

    private const double MedianError = 1.2533; // √(π/2): standard error of a median over that of a mean
    private const int MostPerEmitter = 10;

    /// <summary>The emitters with levels parted at their steps and without odd readings, the steps, and the lines of the odd readings.</summary>
    public static (ImmutableArray<EmitterRun> Runs, ImmutableArray<LogStep> Steps, ImmutableArray<int> Odd) Find(ImmutableArray<EmitterRun> runs, IReadOnlyList<AgeingForm> forms)
    {
        var steps = ImmutableArray.CreateBuilder<LogStep>();
        var parted = ImmutableArray.CreateBuilder<EmitterRun>();
        var odd = ImmutableArray.CreateBuilder<int>();
        foreach (var run in runs)
        {
            var now = run;
            var own = new List<LogStep>();
            for (int i = 0; i < MostPerEmitter && Next(now, forms) is { } found; i++)
            {
                // A step that an event explains is no disturbance, but it is no ageing either: it too gets a level of its own.
                var step = found.Step;
                if (!found.Explained)
                {
                    own.Add(step);
                }

                now = now with { Observations = [.. now.Observations.Select(o => SiteOf(o) == step.Site && After(o, step) ? o with { Level = o.Level + Mark(step) } : o)] };
            }

            // What is left over and stands alone, or too near an end to be called a step, would bend the curve.
            for (int i = 0; i < MostPerEmitter && OddOne(now, forms) is { } reading; i++)
            {
                odd.Add(reading.Line);
                now = now with { Observations = now.Observations.Remove(reading) };
            }

            parted.Add(now);
            steps.AddRange(own.Count == 0 ? own : Sized(now, own, forms));
        }

        return (parted.ToImmutable(), steps.ToImmutable(), odd.ToImmutable());
    }

    /// <summary>
    /// Checks whose as-found reading, over its drive, lies below the as-left one of the same check by more than the other checks' differences allow: <see cref="Errors"/>
    /// robust deviations beyond their median (fouling) and <see cref="LeastSize"/>.
    /// </summary>
    public static IEnumerable<LogStep> PutRight(IReadOnlyList<EmitterRun> runs)
    {
        var pairs = CheckPair.Of(runs).ToArray();
        if (pairs.Length < 10)
        {
            yield break;
        }

        double[] sorted = [.. pairs.Select(p => p.LogGain).Order()];
        double median = SampleQuantile.OfSorted(sorted, 0.5);
        double deviation = SampleQuantile.OfSorted([.. sorted.Select(s => Math.Abs(s - median)).Order()], 0.5) / 0.6745;
        foreach (var p in pairs.Where(p => p.LogGain - median > Math.Max(Errors * deviation, LeastSize)))
        {
            yield return new(p.Emitter, p.Found.Site, p.Found.Line, p.Found.Hours, p.Found.EmitterHours, Math.Exp(median - p.LogGain), deviation, true);
        }
    }

    private static bool After(Observation o, LogStep step) => o.Hours > step.Hours || (o.Hours == step.Hours && o.Line >= step.Line);

    private static Observation? OddOne(EmitterRun run, IReadOnlyList<AgeingForm> forms)
    {
        var fit = Best(run, forms);
        if (fit is null || fit.Used.Length != run.Observations.Length || fit.Used.Length < 4 * LeastSide)
        {
            return null;
        }

        double[] r = fit.Fit.Residuals, sorted = [.. r.Select(Math.Abs).Order()];
        int at = Enumerable.Range(0, r.Length).MaxBy(i => Math.Abs(r[i]));
        return Math.Abs(r[at]) > Math.Max(OddErrors * sorted[sorted.Length / 2] / 0.6745, LeastSize) ? fit.Used[at] : null;
    }

    private static double Middle(IEnumerable<double> values) => SampleQuantile.OfSorted([.. values.Order()], 0.5);

    private static string SiteOf(Observation o) => o.Level.Split('|')[0];

    private static string Mark(LogStep step) => FormattableString.Invariant($"|after line {step.Line}");

    // The curve bends towards a step while it is sought: its size is read off the levels of the last fit, and what is small then was none.
    private static IEnumerable<LogStep> Sized(EmitterRun run, List<LogStep> steps, IReadOnlyList<AgeingForm> forms)
    {
        var fit = Best(run, forms);
        foreach (var step in steps)
        {
            string mark = Mark(step);
            double[] sizes = fit is null ? [] : [.. fit.Levels.Where(l => l.Contains(mark, StringComparison.Ordinal)).Select(l => (After: l, Before: l.Replace(mark, "", StringComparison.Ordinal)))
                .Where(l => fit.Levels.Contains(l.Before)).Select(l => fit.Fit.Parameters[Array.IndexOf(fit.Levels, l.After)] - fit.Fit.Parameters[Array.IndexOf(fit.Levels, l.Before)])];
            double size = sizes.Length > 0 ? sizes.Average() : Math.Log(step.Factor);
            if (Math.Abs(size) > LeastSize)
            {
                yield return step with { Factor = Math.Exp(size) };
            }
        }
    }

    // The richest curve that can be fitted, so that ageing is not taken for a step.
    private static EmitterFit? Best(EmitterRun run, IReadOnlyList<AgeingForm> forms) => forms.Select(f => EmitterFit.Of(run, f)).Where(f => f.Fit.Withheld is null).MinBy(f => f.Fit.SumOfSquares);

    private static (LogStep Step, bool Explained)? Next(EmitterRun run, IReadOnlyList<AgeingForm> forms)
    {
        var fit = Best(run, forms);
        if (fit is null || fit.Used.Length != run.Observations.Length)
        {
            return null;
        }

        double[] r = fit.Fit.Residuals;
        (double Score, int Line, double Clock, double Hours, double Size, double Error, string Site, bool Explained)? best = null;
        foreach (var level in run.Observations.Select((o, i) => (o, i)).GroupBy(x => SiteOf(x.o)))
        {
            var own = level.ToArray();

            // From successive differences, of which a step moves one only.
            double[] differences = [.. own.Zip(own.Skip(1), (a, b) => Math.Abs(r[b.i] - r[a.i])).Order()];
            if (differences.Length < (2 * LeastSide) - 1)
            {
                continue;
            }

            // The median of |difference| of normal readings is 0.6745·√2·σ.
            double deviation = differences[differences.Length / 2] / (0.6745 * Math.Sqrt(2.0));
            for (int k = LeastSide; k <= own.Length - LeastSide; k++)
            {
                var left = own[Math.Max(0, k - Side)..k];
                var right = own[k..Math.Min(own.Length, k + Side)];
                double size = Middle(right.Select(x => r[x.i])) - Middle(left.Select(x => r[x.i])), error = MedianError * deviation * Math.Sqrt((1.0 / left.Length) + (1.0 / right.Length));
                double score = Math.Abs(size) / Math.Max(error, 1e-12);
                if (score > Errors && Math.Abs(size) > LeastSize && !(best?.Score >= score))
                {
                    best = (score, own[k].o.Line, own[k].o.Clock, own[k].o.Hours, size, error, level.Key, Explained(run, own[k - 2].o, own[Math.Min(k + 1, own.Length - 1)].o));
                }
            }
        }

        return best is { } b ? (new(run.Name, b.Site, b.Line, b.Clock, b.Hours, Math.Exp(b.Size), b.Error, false), b.Explained) : null;
    }

    private static bool Explained(EmitterRun run, Observation from, Observation to) =>
        run.Rows.Any(r => r.Events.Any(e => e.Kind is not (LogEventKind.Cleaned or LogEventKind.Set or LogEventKind.Requalified)) && r.Line > from.Line && r.Line <= to.Line);
}

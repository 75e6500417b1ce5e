using System.Collections.Immutable;

namespace CureSim.Studies.Fit;

/// <summary>Readings at the beginning or end of an emitter that stand apart from the rest by a step which a rich form would take for ageing.</summary>
/// <remarks>
/// A window that cracks after the second reading looks like a quick early loss: the two-stage form bends through it, no residual shows a step, and one such emitter of seven decides the
/// form of all. So every form is asked for itself: would it fit this emitter far better with the first (or last) few readings on a level of their own? A form that has no need of it
/// keeps its fit, and the comparison of forms counts two parameters for each such level, its height and its place. The rule is ours: common practice, no source.
/// </remarks>
internal static class EndLevels
{
    /// <summary>Readings from an end among which the place is sought.</summary>
    public const int Reach = 12;

    /// <summary>What the step must take off n·ln S: the square of the <see cref="LogSteps.Errors"/> standard errors that other steps are held to.</summary>
    public const double Gain = LogSteps.Errors * LogSteps.Errors;

    /// <summary>Mark of such a level in the name of a level.</summary>
    public const string Mark = "|end level ";

    // Scatter about the curve over that of successive readings below which there is nothing to look for.
    private const double Suspicious = 1.3;
    private const int Most = 2;

    /// <summary>The emitter with its end levels for a form; itself when there is none.</summary>
    public static EmitterRun Parted(EmitterRun run, AgeingForm form)
    {
        for (int made = 0; made < Most && Next(run, form) is { } parted; made++)
        {
            run = parted;
        }

        return run;
    }

    /// <summary>First lines after the steps of an emitter.</summary>
    public static IEnumerable<int> LinesOf(EmitterRun run) => run.Observations.SelectMany(o => o.Level.Split(Mark).Skip(1)).Distinct().Select(w => int.Parse(w, System.Globalization.CultureInfo.InvariantCulture));

    private static EmitterRun? Next(EmitterRun run, AgeingForm form)
    {
        var whole = EmitterFit.Of(run, form);
        int n = whole.Used.Length;
        if (whole.Fit.Withheld is not null || n != run.Observations.Length || n < 4 * LogSteps.LeastSide)
        {
            return null;
        }

        // From successive differences, of which a step moves one only.
        double[] r = whole.Fit.Residuals, differences = [.. r.Zip(r.Skip(1), (a, b) => Math.Abs(b - a)).Order()];
        double deviation = differences[differences.Length / 2] / (0.6745 * Math.Sqrt(2.0));
        if (!(whole.Fit.SumOfSquares > Suspicious * Suspicious * deviation * deviation * whole.Fit.DegreesOfFreedom))
        {
            return null;
        }

        (EmitterRun Run, double Sum)? best = null;
        foreach (int k in Enumerable.Range(1, n - 1).Where(k => k <= Reach || n - k <= Reach))
        {
            var first = run.Observations[k];
            if (first.Hours == run.Observations[k - 1].Hours)
            {
                continue;
            }

            var parted = run with { Observations = [.. run.Observations.Select((o, i) => i < k ? o : o with { Level = o.Level + FormattableString.Invariant($"{Mark}{first.Line}") })] };
            var fit = EmitterFit.Of(parted, form);
            if (fit.Fit.Withheld is null && n * Math.Log(whole.Fit.SumOfSquares / fit.Fit.SumOfSquares) > Gain && !(best?.Sum <= fit.Fit.SumOfSquares) && Math.Abs(SizeOf(fit, first.Line)) > LogSteps.LeastSize)
            {
                best = (parted, fit.Fit.SumOfSquares);
            }
        }

        return best?.Run;
    }

    // ln of the level after over that before, where one level was parted in two.
    private static double SizeOf(EmitterFit fit, int line)
    {
        string mark = FormattableString.Invariant($"{Mark}{line}");
        double[] sizes = [.. fit.Levels.Where(l => l.EndsWith(mark, StringComparison.Ordinal)).Select(l => (After: l, Before: l[..^mark.Length])).Where(l => fit.Levels.Contains(l.Before))
            .Select(l => fit.Fit.Parameters[Array.IndexOf(fit.Levels, l.After)] - fit.Fit.Parameters[Array.IndexOf(fit.Levels, l.Before)])];
        return sizes.Length > 0 ? sizes.Average() : 0.0;
    }
}

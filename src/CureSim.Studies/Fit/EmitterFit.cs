using CureSim.Core.Statistics;

namespace CureSim.Studies.Fit;

/// <summary>An ageing form fitted to one emitter.</summary>
/// <param name="Run">The emitter with its observations.</param>
/// <param name="Form">The form.</param>
/// <param name="Fit">Least squares: levels first, then the logarithms of the form's parameters.</param>
/// <param name="Levels">Names of the levels (site, radiometer, side of a step), in the order of the parameters.</param>
public sealed record EmitterFit(EmitterRun Run, AgeingForm Form, NonlinearFitResult Fit, string[] Levels)
{
    private const int MostObservations = 2000; // of an emitter; more are averaged in groups, which costs no information on a slow course

    /// <summary>Logarithm of a parameter of the form.</summary>
    public double Log(int parameter) => Fit.Parameters[Levels.Length + parameter];

    /// <summary>Its variance of fit for readings of standard deviation <paramref name="deviation"/> at weight 1.</summary>
    public double Variance(int parameter, double deviation) => deviation * deviation * Fit.UnscaledCovariance[Levels.Length + parameter, Levels.Length + parameter];

    /// <summary>Covariance of two parameters of the form.</summary>
    public double Covariance(int a, int b, double deviation) => deviation * deviation * Fit.UnscaledCovariance[Levels.Length + a, Levels.Length + b];

    /// <summary>True when all parameters of the form were found inside their limits.</summary>
    public bool IsUsable => Fit.Withheld is null && Enumerable.Range(Levels.Length, Form.Parameters.Length).All(j => !Fit.AtLimit[j]);

    /// <summary>Fitted ln output at emitter hours for the first level.</summary>
    public double At(double hours) => Fit.Parameters[0] + Form.LogOutput(hours, Fit.Parameters.AsSpan(Levels.Length), stackalloc double[3]);

    /// <summary>Fits a form; the best of several starts.</summary>
    /// <param name="run">The emitter.</param>
    /// <param name="form">The form.</param>
    /// <param name="weights">Weights of the observations; empty: their numbers of repeats do not matter.</param>
    public static EmitterFit Of(EmitterRun run, AgeingForm form, ReadOnlySpan<double> weights = default)
    {
        Observation[] all = [.. run.Observations];
        double[] w = weights.IsEmpty ? [.. all.Select(_ => 1.0)] : weights.ToArray();
        (all, w) = Thinned(all, w);
        string[] levels = [.. all.Select(o => o.Level).Distinct()];
        int[] level = [.. all.Select(o => Array.IndexOf(levels, o.Level))];
        double[] y = [.. all.Select(o => o.LogOutput)];
        int n = y.Length, k = levels.Length, q = form.Parameters.Length, p = k + q;
        if (n < p + 1)
        {
            return new(run, form, NonlinearFitResult.Refuse(FormattableString.Invariant($"{n} readings; {p + 1} are needed"), p, n), levels);
        }

        void Curve(ReadOnlySpan<double> theta, Span<double> values, Span<double> slopes)
        {
            slopes.Clear();
            for (int i = 0; i < n; i++)
            {
                var row = slopes.Slice(i * p, p);
                row[level[i]] = 1.0;
                values[i] = theta[level[i]] + form.LogOutput(all[i].Hours, theta[k..], row[k..]);
            }
        }

        double[] lower = [.. Enumerable.Repeat(double.NegativeInfinity, k), .. form.Parameters.Select(f => Math.Log(f.Least))];
        double[] upper = [.. Enumerable.Repeat(double.PositiveInfinity, k), .. form.Parameters.Select(f => Math.Log(f.Most))];
        double most = all.Max(o => o.Hours), loss = Math.Max(0.01, Loss(all, levels[0]));
        NonlinearFitResult? best = null;
        foreach (double[] start in form.Starts(Math.Max(most, 1.0), loss))
        {
            var slopes = new double[3];
            double[] from = [.. Enumerable.Range(0, k).Select(l => all.Where((_, i) => level[i] == l).Average(o => o.LogOutput - form.LogOutput(o.Hours, start, slopes))), .. start];
            var fit = NonlinearFit.Fit(Curve, y, w, from, lower, upper);
            if (fit.Withheld is null ? best?.Withheld is not null || best is null || fit.SumOfSquares < best.SumOfSquares : best is null)
            {
                best = fit;
            }
        }

        return new(run, form, InOrder(best!, form, k), levels) { Used = all };
    }

    /// <summary>The observations that were fitted, in the order of the residuals.</summary>
    public Observation[] Used { get; init; } = [];

    // f and τ1 name the faster loss whichever way round they were found.
    private static NonlinearFitResult InOrder(NonlinearFitResult fit, AgeingForm form, int k) =>
        form == AgeingForm.TwoStage && fit.Withheld is null && fit.Parameters[k + 1] > fit.Parameters[k + 2]
            ? fit with { Withheld = "the early loss is slower than the late one: the readings show one stage only" } : fit;

    private static double Loss(Observation[] all, string first)
    {
        Observation[] of = [.. all.Where(o => o.Level == first)];
        int third = Math.Max(1, of.Length / 6);
        return of.Take(third).Average(o => o.LogOutput) - of.TakeLast(third).Average(o => o.LogOutput);
    }

    private static (Observation[] Observations, double[] Weights) Thinned(Observation[] all, double[] w)
    {
        if (all.Length <= MostObservations)
        {
            return (all, w);
        }

        int size = (all.Length + MostObservations - 1) / MostObservations;
        var groups = all.Select((o, i) => (o, w: w[i])).GroupBy(x => x.o.Level).SelectMany(g => g.Chunk(size)).ToArray();
        return ([.. groups.Select(g => g[0].o with
        {
            Hours = g.Average(x => x.o.Hours), Clock = g.Average(x => x.o.Clock), LogOutput = g.Sum(x => x.w * x.o.LogOutput) / g.Sum(x => x.w), Reading = g.Average(x => x.o.Reading),
        })], [.. groups.Select(g => g.Sum(x => x.w))]);
    }
}

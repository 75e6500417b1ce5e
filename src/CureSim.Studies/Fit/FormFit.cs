using System.Collections.Immutable;
using CureSim.Core.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace CureSim.Studies.Fit;

/// <summary>An ageing form fitted to all emitters of a log, and how its parameters differ from emitter to emitter.</summary>
/// <param name="Form">The form.</param>
/// <param name="Emitters">Fits of every emitter with observations.</param>
/// <param name="ResidualDeviation">Standard deviation of a reading about the curves (ln, that is a ratio), pooled over emitters; NaN without degrees of freedom.</param>
/// <param name="SumOfSquares">Over the emitters that every form could be fitted to.</param>
/// <param name="Criterion">AICc over those emitters; null when there are too few readings.</param>
/// <param name="Parameters">For each parameter: mean and spread over emitters of its natural logarithm.</param>
/// <param name="Correlation">Correlations of the means.</param>
/// <param name="Level">Mean and spread of ln output at 0 h, first site and radiometer of each emitter.</param>
/// <param name="Withheld">Why the form was not fitted; null when it was.</param>
public sealed record FormFit(
    AgeingForm Form, ImmutableArray<EmitterFit> Emitters, double ResidualDeviation, double SumOfSquares, double? Criterion, ImmutableArray<RandomEffects> Parameters,
    Matrix<double> Correlation, RandomEffects? Level, string? Withheld)
{
    /// <summary>AICc less that of the best form; null without one.</summary>
    public double? Difference { get; init; }

    /// <summary>Akaike weight among the forms; null without AICc.</summary>
    public double? Weight { get; init; }

    /// <summary>
    /// Standard error of the logarithm of a parameter beyond which it is not used: there the linear error of a fit no longer holds. An emitter that was watched for little more than its early
    /// loss gives late times that are far too short with errors far too small, and these would pass for spread between emitters. Common practice, no source.
    /// </summary>
    public const double LargestError = 0.4;

    /// <summary>Emitters that mean and spread rest on: parameters inside their limits, and known to <see cref="LargestError"/> where at least two emitters are.</summary>
    public IEnumerable<EmitterFit> Usable => UsableOf(Emitters, ResidualDeviation);

    private static EmitterFit[] UsableOf(IEnumerable<EmitterFit> fits, double deviation)
    {
        EmitterFit[] inside = [.. fits.Where(f => f.IsUsable)];
        EmitterFit[] known = [.. inside.Where(e => Enumerable.Range(0, e.Form.Parameters.Length).All(j => !(e.Variance(j, deviation) > LargestError * LargestError)))];
        return known.Length >= 2 ? known : inside;
    }

    /// <summary>Median over emitters of a parameter, in hours or as a ratio, with its interval.</summary>
    public Estimate Median(int parameter)
    {
        var mean = Parameters[parameter].Mean;
        return mean.Value is { } m
            ? Estimate.Bounded(Math.Exp(m), Math.Exp(m) * mean.StandardError!.Value, Math.Exp(mean.Lower95!.Value), Math.Exp(mean.Upper95!.Value), mean.Count)
            : mean;
    }

    /// <summary>Fits a form to every emitter.</summary>
    public static FormFit Of(AgeingForm form, IReadOnlyList<EmitterRun> runs, IReadOnlyList<double[]>? weights = null)
    {
        ImmutableArray<EmitterFit> fits = [.. runs.Select((r, i) => EmitterFit.Of(r, form, weights is null ? default : weights[i]))];
        EmitterFit[] made = [.. fits.Where(f => f.Fit.Withheld is null)];
        int degrees = made.Sum(f => f.Fit.DegreesOfFreedom), k = form.Parameters.Length;
        double sum = made.Sum(f => f.Fit.SumOfSquares), deviation = degrees > 0 ? Math.Sqrt(sum / degrees) : double.NaN;
        EmitterFit[] usable = UsableOf(made, deviation);
        if (usable.Length == 0 || !(deviation > 0.0))
        {
            string why = usable.Length > 0 ? "the readings lie on the curve exactly: their error cannot be told"
                : made.Length > 0 ? "its parameters end at their limits for every emitter" : fits.Length == 0 ? "no emitter with known hours: give a column of emitter hours, or say --start-hours where the log begins in the middle of a life" : fits[0].Fit.Withheld!;
            return new(form, fits, deviation, sum, null, [], Matrix<double>.Build.Dense(k, k), null, why);
        }

        ImmutableArray<RandomEffects> parameters = [.. Enumerable.Range(0, k).Select(j => RandomEffects.Of([.. usable.Select(u => u.Log(j))], [.. usable.Select(u => u.Variance(j, deviation))]))];
        var level = RandomEffects.Of([.. usable.Select(u => u.Fit.Parameters[0])], [.. usable.Select(u => deviation * deviation * u.Fit.UnscaledCovariance[0, 0])]);
        return new(form, fits, deviation, sum, null, parameters, CorrelationOf(usable, parameters, deviation), level, null);
    }

    /// <summary>Compares forms on the emitters that all of them could be fitted to.</summary>
    /// <remarks>
    /// All emitters together with one variance: n·ln(S/n) + 2K + 2K(K+1)/(n−K−1), K all levels and parameters and the variance. Weight ∝ exp(−Δ/2).
    /// Source: as <see cref="NonlinearFitResult.CorrectedCriterion"/>.
    /// </remarks>
    public static ImmutableArray<FormFit> Compared(IReadOnlyList<FormFit> forms)
    {
        FormFit[] made = [.. forms.Where(f => f.Withheld is null)];
        if (made.Length == 0)
        {
            return [.. forms];
        }

        int count = made[0].Emitters.Length;
        int[] common = [.. Enumerable.Range(0, count).Where(i => made.All(f => f.Emitters[i].Fit.Withheld is null))];
        (double Sum, double? Criterion) Over(FormFit f)
        {
            double n = common.Sum(i => f.Emitters[i].Used.Length), k = common.Sum(i => (double)f.Emitters[i].Fit.Parameters.Length + EndLevels.LinesOf(f.Emitters[i].Run).Count()) + 1.0, s = common.Sum(i => f.Emitters[i].Fit.SumOfSquares);
            return (s, common.Length == 0 || n <= k + 1.0 || !(s > 0.0) ? null : (n * Math.Log(s / n)) + (2.0 * k) + (2.0 * k * (k + 1.0) / (n - k - 1.0)));
        }

        var valued = forms.Select(f => (Form: f, At: f.Withheld is null ? Over(f) : (f.SumOfSquares, null))).ToArray();
        double? best = valued.Min(v => v.At.Criterion);
        double total = valued.Sum(v => v.At.Criterion is { } c ? Math.Exp(-0.5 * (c - best!.Value)) : 0.0);
        return [.. valued.Select(v => v.Form with
        {
            SumOfSquares = v.At.Item1, Criterion = v.At.Criterion, Difference = v.At.Criterion - best, Weight = v.At.Criterion is { } c ? Math.Exp(-0.5 * (c - best!.Value)) / total : null,
        })];
    }

    // Generalised least squares of all parameters together: cov = (Σ (T + V_i)⁻¹)⁻¹, T the variances between emitters, V_i the covariances of fit.
    private static Matrix<double> CorrelationOf(EmitterFit[] usable, ImmutableArray<RandomEffects> parameters, double deviation)
    {
        int k = parameters.Length;
        var information = Matrix<double>.Build.Dense(k, k);
        foreach (var u in usable)
        {
            information += Matrix<double>.Build.Dense(k, k, (a, b) => u.Covariance(a, b, deviation) + (a == b ? Math.Pow(parameters[a].Spread.Value ?? 0.0, 2.0) : 0.0)).Inverse();
        }

        var covariance = information.Inverse();
        return Matrix<double>.Build.Dense(k, k, (a, b) => a == b ? 1.0 : covariance[a, b] / Math.Sqrt(covariance[a, a] * covariance[b, b]));
    }
}

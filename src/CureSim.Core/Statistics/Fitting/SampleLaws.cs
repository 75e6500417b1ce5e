using CureSim.Core.Distributions;
using CureSim.Core.Random;

namespace CureSim.Core.Statistics;

/// <summary>A law fitted to a sample by maximum likelihood.</summary>
/// <param name="Name">Its word in a scenario: normal, lognormal, gamma, weibull.</param>
/// <param name="Law">The fitted law, in the unit of the values.</param>
/// <param name="First">First parameter: mean, median, shape, shape.</param>
/// <param name="Second">Second parameter: sd, geometric sd, scale, scale.</param>
/// <param name="FirstError">Standard error of the first.</param>
/// <param name="SecondError">Standard error of the second.</param>
/// <param name="LogLikelihood">ln L at the maximum.</param>
/// <param name="Criterion">AICc = −2 ln L + 4 + 12/(n − 3).</param>
/// <param name="AndersonDarling">A² of the values against the fitted law.</param>
/// <param name="PValue">P(A² at least as large | the law holds), by refitting samples of the fitted law; null when it was not asked for.</param>
/// <param name="Refits">Samples behind the p-value.</param>
public sealed record SampleLaw(
    string Name, IDistribution Law, double First, double Second, double FirstError, double SecondError, double LogLikelihood, double Criterion, double AndersonDarling,
    double? PValue = null, int Refits = 0);

/// <summary>Fits the laws that a scenario may name to a sample and compares them.</summary>
/// <remarks>
/// Standard errors from the expected information. A² = −n − Σ(2i−1)(ln F(x_i) + ln(1 − F(x_{n+1−i})))/n; its p-value is found by drawing samples from the fitted
/// law, fitting each again (parametric bootstrap), (1 + number at least as large)/(1 + samples), because parameters were estimated. Samples beyond 400 values are
/// drawn with 400: the law of A² with estimated parameters has settled by then (M. A. Stephens, J. Amer. Statist. Assoc. 69 (1974) 730).
/// Source: N. L. Johnson, S. Kotz and N. Balakrishnan, Continuous Univariate Distributions 1 (1994), chapters 13, 14, 17, 21 (recalled from memory).
/// Checked against: SciPy (tests/data/reference/fit_scipy.py).
/// </remarks>
public static class SampleLaws
{
    /// <summary>Key of the draws of the p-value.</summary>
    public const ulong Seed = 20270;

    /// <summary>Samples behind a p-value.</summary>
    public const int Samples = 499;

    private const int MostInSample = 400;
    private const double LeastShape = 1e-3, MostShape = 1e7;

    /// <summary>Fits every candidate that the values allow, best AICc first, each with the p-value of its A².</summary>
    /// <param name="values">At least five, not all equal.</param>
    public static IReadOnlyList<SampleLaw> Compare(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        double[] sorted = [.. values.Order()];
        string[] names = sorted[0] > 0.0 ? ["normal", "lognormal", "gamma", "weibull"] : ["normal"];
        return [.. names.Select(n => Fit(n, sorted)).OfType<SampleLaw>().Select(WithChance).OrderBy(l => l.Criterion)];

        SampleLaw WithChance(SampleLaw law)
        {
            int n = Math.Min(sorted.Length, MostInSample), above = 0, made = 0;
            double statistic = law.AndersonDarling;
            var drawn = new double[n];
            var stream = StreamKey.Of(DrawDomain.Cell, "fit.sample_law." + law.Name);
            for (int r = 0; r < Samples; r++)
            {
                for (int i = 0; i < n; i++)
                {
                    drawn[i] = law.Law.Quantile(Draw.Uniform(Seed, 0, (uint)r, stream, i));
                }

                Array.Sort(drawn);
                if (Fit(law.Name, drawn) is { } again)
                {
                    made++;
                    above += again.AndersonDarling >= statistic ? 1 : 0;
                }
            }

            return law with { PValue = (1.0 + above) / (1.0 + made), Refits = made };
        }
    }

    /// <summary>Fits one law; null when the values do not allow it.</summary>
    /// <param name="name">normal, lognormal, gamma or weibull.</param>
    /// <param name="sorted">Rising values.</param>
    public static SampleLaw? Fit(string name, IReadOnlyList<double> sorted)
    {
        ArgumentNullException.ThrowIfNull(sorted);
        int n = sorted.Count;
        if (n < 5 || !(sorted[^1] > sorted[0]) || (name != "normal" && !(sorted[0] > 0.0)))
        {
            return null;
        }

        switch (name)
        {
            case "normal":
            {
                double mean = sorted.Average(), s = Math.Sqrt(sorted.Sum(x => (x - mean) * (x - mean)) / n);
                double log = (-0.5 * n * Math.Log(2.0 * Math.PI)) - (n * Math.Log(s)) - (0.5 * n);
                return Made(name, new NormalDistribution(mean, s), mean, s, s / Math.Sqrt(n), s / Math.Sqrt(2.0 * n), log, sorted);
            }

            case "lognormal":
            {
                double mean = sorted.Average(Math.Log), s = Math.Sqrt(sorted.Sum(x => (Math.Log(x) - mean) * (Math.Log(x) - mean)) / n), median = Math.Exp(mean), gsd = Math.Exp(s);
                double log = (-0.5 * n * Math.Log(2.0 * Math.PI)) - (n * Math.Log(s)) - (0.5 * n) - (n * mean);
                return Made(name, new LognormalDistribution(median, gsd), median, gsd, median * s / Math.Sqrt(n), gsd * s / Math.Sqrt(2.0 * n), log, sorted);
            }

            case "gamma":
                return Gamma(sorted);
            case "weibull":
                return Weibull(sorted);
            default:
                throw new ArgumentOutOfRangeException(nameof(name), name, "No such law.");
        }
    }

    // ln k − ψ(k) = ln mean − mean ln; information in (k, θ): n[ψ'(k), 1/θ; 1/θ, k/θ²].
    private static SampleLaw? Gamma(IReadOnlyList<double> x)
    {
        int n = x.Count;
        double mean = x.Average(), logs = x.Average(Math.Log), gap = Math.Log(mean) - logs;
        double low = Math.Log(LeastShape), high = Math.Log(MostShape);
        if (!(gap > 0.0) || gap < Math.Log(MostShape) - Digamma(MostShape))
        {
            return null;
        }

        for (int i = 0; i < 200 && high - low > 1e-14; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = middle - Digamma(Math.Exp(middle)) > gap ? (middle, high) : (low, middle);
        }

        double k = Math.Exp(0.5 * (low + high)), scale = mean / k, t = Trigamma(k), d = (t * k) - 1.0;
        double log = n * (((k - 1.0) * logs) - k - (k * Math.Log(scale)) - MathNet.Numerics.SpecialFunctions.GammaLn(k));
        return Made("gamma", new GammaDistribution(k, scale), k, scale, Math.Sqrt(k / (n * d)), scale * Math.Sqrt(t / (n * d)), log, x);
    }

    private static SampleLaw? Weibull(IReadOnlyList<double> x)
    {
        var fit = TruncatedWeibull.Fit([.. x.Select(v => new TruncatedWeibull.Watched(0.0, v, true))]);
        if (fit.Withheld is not null)
        {
            return null;
        }

        double log = x.Sum(v => Math.Log(fit.Shape / fit.Scale) + ((fit.Shape - 1.0) * Math.Log(v / fit.Scale)) - Math.Pow(v / fit.Scale, fit.Shape));
        return Made("weibull", new WeibullDistribution(fit.Shape, fit.Scale), fit.Shape, fit.Scale, fit.Shape * fit.ShapeErrorLog, fit.Scale * fit.ScaleErrorLog, log, x);
    }

    private static SampleLaw Made(string name, IDistribution law, double first, double second, double firstError, double secondError, double log, IReadOnlyList<double> x)
    {
        int n = x.Count;
        double sum = 0.0;
        for (int i = 0; i < n; i++)
        {
            double lower = Math.Log(Math.Max(law.Cdf(x[i]), 1e-300)), upper = Math.Log(Math.Max(law.Survival(x[n - 1 - i]), 1e-300));
            sum += ((2.0 * i) + 1.0) * (lower + upper);
        }

        return new(name, law, first, second, firstError, secondError, log, (-2.0 * log) + 4.0 + (12.0 / (n - 3.0)), -n - (sum / n));
    }

    // Recurrence up to 10, then the asymptotic series (Abramowitz and Stegun 6.3.18 and 6.4.12): better than 1e-12.
    private static double Digamma(double x)
    {
        double sum = 0.0;
        for (; x < 10.0; x += 1.0)
        {
            sum -= 1.0 / x;
        }

        double i = 1.0 / (x * x);
        return sum + Math.Log(x) - (0.5 / x) - (i * ((1.0 / 12.0) - (i * ((1.0 / 120.0) - (i * ((1.0 / 252.0) - (i * ((1.0 / 240.0) - (i / 132.0)))))))));
    }

    private static double Trigamma(double x)
    {
        double sum = 0.0;
        for (; x < 10.0; x += 1.0)
        {
            sum += 1.0 / (x * x);
        }

        double i = 1.0 / (x * x);
        return sum + (1.0 / x) + (0.5 * i) + (i / x * ((1.0 / 6.0) - (i * ((1.0 / 30.0) - (i * ((1.0 / 42.0) - (i * ((1.0 / 30.0) - (i * 5.0 / 66.0)))))))));
    }
}

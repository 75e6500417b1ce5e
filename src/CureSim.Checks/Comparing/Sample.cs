using CureSim.Core.Statistics;

namespace CureSim.Checks.Comparing;

/// <summary>Figures with standard errors from independent values, from batches of a run, and from a run's own analysis.</summary>
internal static class Sample
{
    /// <summary>Mean of independent values.</summary>
    public static SampledFigure Mean(string name, double expected, IReadOnlyCollection<double> values, double? planted = null, double allowance = 0.0)
    {
        double mean = values.Average();
        double square = values.Sum(x => (x - mean) * (x - mean));
        return new(name, expected, mean, Math.Sqrt(square / ((double)values.Count * (values.Count - 1))), planted, allowance);
    }

    /// <summary>
    /// Proportion of n independent trials; the standard error is that of the expected proportion, which holds for few hits too.
    /// </summary>
    public static SampledFigure Share(string name, double expected, double hits, double trials, double? planted = null, double allowance = 0.0) =>
        new(name, expected, hits / trials, Math.Sqrt(expected * (1.0 - expected) / trials), planted, allowance);

    /// <summary>A figure of a run as its analysis gives it, with its own standard error.</summary>
    public static SampledFigure Of(string name, double expected, Estimate found, double? planted = null, double allowance = 0.0) =>
        new(name, expected, found.Get(), found.StandardError ?? double.NaN, planted, allowance);
}

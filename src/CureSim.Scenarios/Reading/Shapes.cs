using CureSim.Core.Distributions;

namespace CureSim.Scenarios;

/// <summary>Makes distributions from their parameters; a spread of 0 gives a fixed value.</summary>
internal static class Shapes
{
    /// <param name="name">Word of the distribution.</param>
    /// <param name="values">SI; null for a parameter that is left out.</param>
    /// <param name="problem">Called with (found, accepted) when the parameters do not go together.</param>
    public static IDistribution? Make(
        string name, IReadOnlyDictionary<string, double?> values, Action<string, string> problem)
    {
        double Get(string parameter, double otherwise = double.NaN) => values.GetValueOrDefault(parameter) ?? otherwise;
        switch (name)
        {
            case "normal":
                return Get("sd") == 0 ? new FixedValue(Get("mean", 0)) : new NormalDistribution(Get("mean", 0), Get("sd"));
            case "lognormal" when values.ContainsKey("median"):
                return Get("gsd") == 1 ? new FixedValue(Get("median")) : new LognormalDistribution(Get("median"), Get("gsd"));
            case "lognormal":
                return Get("sd") == 0 ? new FixedValue(Get("mean")) : LognormalDistribution.FromMeanAndSd(Get("mean"), Get("sd"));
            case "weibull":
                return new WeibullDistribution(Get("shape"), Get("scale"));
            case "gamma" when values.ContainsKey("shape"):
                return new GammaDistribution(Get("shape"), Get("scale"));
            case "gamma":
                double relative = Get("sd") / Get("mean");
                return relative == 0 ? new FixedValue(Get("mean")) : new GammaDistribution(1 / (relative * relative), Get("mean") * relative * relative);
            case "exponential":
                return new ExponentialDistribution(Get("mean"));
        }

        double from = Get("from", 0);
        double to = Get("to", 1);
        double peak = Get("peak", from);
        if (!(from < to))
        {
            problem("from that is not below to", "from below to");
            return null;
        }

        if (peak < from || peak > to)
        {
            problem("a peak outside from and to", "from <= peak <= to");
            return null;
        }

        return name switch
        {
            "uniform" => new UniformDistribution(from, to),
            "triangular" => new TriangularDistribution(from, peak, to),
            "beta_pert" => new BetaPertDistribution(from, peak, to),
            "beta" => new BetaDistribution(Get("a"), Get("b"), from, to),
            _ => throw new ArgumentOutOfRangeException(nameof(name), name, "no such distribution"),
        };
    }
}

namespace CureSim.Core.Statistics;

/// <summary>Shape of the logarithm of a lifetime about its location.</summary>
public enum LifetimeFamily
{
    /// <summary>Smallest extreme value: the time is Weibull.</summary>
    Weibull,

    /// <summary>Normal: the time is lognormal.</summary>
    Lognormal,

    /// <summary>Weibull of shape 1.</summary>
    Exponential,
}

/// <summary>A fitted lifetime law ln t = β₀ + β·x + σε, or the reason why there is none.</summary>
/// <param name="Family">Law of ε.</param>
/// <param name="Coefficients">β₀, then one for each covariate, with normal intervals; empty when withheld.</param>
/// <param name="LogScale">ln σ; exactly 0 for the exponential law.</param>
/// <param name="Covariance">Of (β, ln σ), from the observed information; without ln σ for the exponential law.</param>
/// <param name="LogLikelihood">At the maximum, of the times themselves (not of their logarithms).</param>
/// <param name="Iterations">Newton steps taken.</param>
/// <param name="Count">Subjects.</param>
/// <param name="Events">Subjects whose time is not censored.</param>
/// <param name="Withheld">Why there is no fit; null when there is.</param>
public sealed record CensoredFitResult(
    LifetimeFamily Family,
    IReadOnlyList<Estimate> Coefficients,
    Estimate LogScale,
    double[,] Covariance,
    double LogLikelihood,
    int Iterations,
    long Count,
    long Events,
    string? Withheld = null)
{
    private const double Z = 1.9599639845400542;

    /// <summary>σ, with limits from the interval of ln σ.</summary>
    public Estimate Scale => Exponential(LogScale);

    /// <summary>Weibull shape 1/σ; withheld for a lognormal fit.</summary>
    public Estimate WeibullShape => Family == LifetimeFamily.Lognormal
        ? Estimate.Withhold("a lognormal law has no Weibull shape")
        : LogScale.Value is double s
            ? Exponential(Estimate.Of(-s, LogScale.StandardError!.Value, Events))
            : LogScale;

    /// <summary>Weibull characteristic life exp(β₀) (or the lognormal median) where all covariates are 0, in the unit of the times.</summary>
    public Estimate CharacteristicLife => Coefficients.Count > 0 ? Exponential(Coefficients[0]) : Estimate.Withhold(Withheld!, Count);

    /// <summary>The time by which a fraction has failed at the given covariates, with limits symmetric in ln t (delta method).</summary>
    public Estimate Quantile(double failed, params ReadOnlySpan<double> covariates)
    {
        if (Withheld is not null)
        {
            return Estimate.Withhold(Withheld, Count);
        }

        if (!(failed > 0.0 && failed < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(failed), failed, "A fraction strictly between 0 and 1 is needed.");
        }

        if (covariates.Length != Coefficients.Count - 1)
        {
            throw new ArgumentException("There must be one value for each covariate of the fit.", nameof(covariates));
        }

        double e = Family == LifetimeFamily.Lognormal ? NormalLaw.Quantile(failed) : Math.Log(-SmallArgument.Log1P(-failed));
        double sigma = Math.Exp(LogScale.Get());
        double[] gradient = new double[Covariance.GetLength(0)];
        double log = sigma * e;
        for (int i = 0; i < Coefficients.Count; i++)
        {
            gradient[i] = i == 0 ? 1.0 : covariates[i - 1];
            log += Coefficients[i].Get() * gradient[i];
        }

        if (gradient.Length > Coefficients.Count)
        {
            gradient[^1] = sigma * e;
        }

        double variance = 0.0;
        for (int i = 0; i < gradient.Length; i++)
        {
            for (int j = 0; j < gradient.Length; j++)
            {
                variance += gradient[i] * gradient[j] * Covariance[i, j];
            }
        }

        return Exponential(Estimate.Of(log, Math.Sqrt(variance), Events));
    }

    internal static CensoredFitResult Refuse(LifetimeFamily family, string reason, long count, long events) =>
        new(family, [], Estimate.Withhold(reason, count), new double[0, 0], 0.0, 0, count, events, reason);

    private static Estimate Exponential(Estimate log) => log.Value is double v
        ? Estimate.Bounded(
            Math.Exp(v),
            Math.Exp(v) * log.StandardError,
            Math.Exp(v - (Z * log.StandardError!.Value)),
            Math.Exp(v + (Z * log.StandardError.Value)),
            log.Count)
        : log;
}

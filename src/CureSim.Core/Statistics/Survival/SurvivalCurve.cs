namespace CureSim.Core.Statistics;

/// <summary>A step curve of survival with its pointwise limits, quantiles and restricted mean.</summary>
/// <remarks>
/// Pointwise limits: J. D. Kalbfleisch and R. L. Prentice, The Statistical Analysis of Failure Time Data (1980), section 1.3 (log-log).
/// Quantile limits: R. Brookmeyer and J. Crowley, Biometrics 38 (1982) 29, with the log-log band. Restricted mean: J. P. Klein and
/// M. L. Moeschberger, Survival Analysis, 2nd ed. (2003), section 4.5. Greenwood and log-log limits are both in print for the same data;
/// <see cref="LimitForm"/> names which one is meant.
/// </remarks>
public sealed class SurvivalCurve
{
    private const double Z = 1.9599639845400542;
    private readonly double[] times;

    internal SurvivalCurve(IReadOnlyList<SurvivalStep> steps, long subjects, double lastTime)
    {
        Steps = steps;
        Subjects = subjects;
        LastTime = lastTime;
        times = new double[steps.Count];
        for (int i = 0; i < times.Length; i++)
        {
            times[i] = steps[i].Time;
        }
    }

    /// <summary>The distinct event times, upwards.</summary>
    public IReadOnlyList<SurvivalStep> Steps { get; }

    /// <summary>Number of subjects.</summary>
    public long Subjects { get; }

    /// <summary>Last time seen, event or censoring.</summary>
    public double LastTime { get; }

    /// <summary>Number of events.</summary>
    public long Events
    {
        get
        {
            long sum = 0;
            foreach (SurvivalStep s in Steps)
            {
                sum += s.Events;
            }

            return sum;
        }
    }

    /// <summary>S at t with Greenwood's standard error and pointwise 95 % limits; withheld beyond the last time unless S has reached 0.</summary>
    public Estimate At(double time, LimitForm form = LimitForm.LogLog)
    {
        if (Subjects == 0)
        {
            return Estimate.Withhold("no subjects", 0);
        }

        if (time > LastTime && !(Steps.Count > 0 && Steps[^1].Survival == 0.0))
        {
            return Estimate.Withhold("beyond the last time seen", Subjects);
        }

        int i = EventTimes.LastAtOrBefore(times, time);
        return i < 0 ? Estimate.Bounded(1.0, 0.0, null, null, Subjects) : Limits(Steps[i], form);
    }

    /// <summary>The time by which the fraction <paramref name="failed"/> has had the event (0.5: median, 0.1: B10), with limits from the log-log band.</summary>
    /// <remarks>The smallest t with S(t) ≤ 1 − failed. Where S equals 1 − failed over a whole interval its beginning is given, not its middle.</remarks>
    public Estimate Quantile(double failed)
    {
        if (!(failed > 0.0 && failed < 1.0))
        {
            throw new ArgumentOutOfRangeException(nameof(failed), failed, "A fraction strictly between 0 and 1 is needed.");
        }

        if (Subjects == 0)
        {
            return Estimate.Withhold("no subjects", 0);
        }

        // 1e-12 of slack: a product of ratios that equals 1 − failed may come out a few units above it.
        double level = (1.0 - failed) * (1.0 + 1e-12);
        double? value = null;
        double? lower = null;
        double? upper = null;
        foreach (SurvivalStep step in Steps)
        {
            Estimate s = Limits(step, LimitForm.LogLog);
            lower ??= (s.Lower95 ?? s.Value) <= level ? step.Time : null;
            value ??= s.Value <= level ? step.Time : null;

            // Where S is 0 the band does not exist: the last event alone bounds nothing from above.
            upper ??= s.Upper95 <= level ? step.Time : null;
        }

        return value is double v
            ? Estimate.Bounded(v, null, lower, upper, Subjects)
            : Estimate.Withhold(FormattableString.Invariant($"fewer than {100.0 * failed:0.##} % had the event by the last time seen"), Subjects, lower, upper);
    }

    /// <summary>Mean time spent event-free up to the horizon, ∫₀^h S, with its standard error; withheld when the horizon is beyond the last time seen.</summary>
    public Estimate RestrictedMean(double horizon)
    {
        if (Subjects == 0)
        {
            return Estimate.Withhold("no subjects", 0);
        }

        if (!(horizon > 0.0) || double.IsInfinity(horizon))
        {
            throw new ArgumentOutOfRangeException(nameof(horizon), horizon, "A horizon above zero is needed.");
        }

        if (horizon > LastTime && !(Steps.Count > 0 && Steps[^1].Survival == 0.0))
        {
            return Estimate.Withhold("the horizon is beyond the last time seen", Subjects);
        }

        // From the right: the area beyond t_j is known when step j is met. Var = Σ area_j² d_j/(n_j(n_j − d_j)).
        double area = 0.0;
        double variance = 0.0;
        double end = horizon;
        for (int j = EventTimes.LastAtOrBefore(times, horizon); j >= 0; j--)
        {
            SurvivalStep s = Steps[j];
            area += s.Survival * (end - s.Time);
            end = s.Time;
            if (s.Events < s.AtRisk)
            {
                variance += area * area * s.Events / ((double)s.AtRisk * (s.AtRisk - s.Events));
            }
        }

        return Estimate.Of(area + end, Math.Sqrt(variance), Subjects);
    }

    /// <summary>The same curve with every squared error of S multiplied, for subjects whose scatter is not that of independent ones.</summary>
    /// <param name="factor">Var S in truth, divided by Greenwood's; ≥ 0. The error of the restricted mean stays Greenwood's.</param>
    public SurvivalCurve WithVariance(double factor)
    {
        var steps = new List<SurvivalStep>(Steps.Count);
        foreach (SurvivalStep step in Steps)
        {
            steps.Add(step with { GreenwoodSum = step.GreenwoodSum * factor });
        }

        return new SurvivalCurve(steps, Subjects, LastTime);
    }

    private Estimate Limits(SurvivalStep step, LimitForm form)
    {
        double s = step.Survival;
        if (step.GreenwoodSum is not double sum || s <= 0.0)
        {
            return Estimate.Bounded(0.0, null, null, null, Subjects);
        }

        double error = s * Math.Sqrt(sum);
        if (form == LimitForm.Plain)
        {
            return Estimate.Bounded(s, error, Math.Max(0.0, s - (Z * error)), Math.Min(1.0, s + (Z * error)), Subjects);
        }

        double shift = Z * Math.Sqrt(sum) / Math.Log(s);
        return Estimate.Bounded(s, error, Math.Pow(s, Math.Exp(-shift)), Math.Pow(s, Math.Exp(shift)), Subjects);
    }
}

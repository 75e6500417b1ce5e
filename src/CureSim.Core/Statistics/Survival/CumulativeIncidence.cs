namespace CureSim.Core.Statistics;

/// <summary>Cumulative incidence of several competing causes, which together with survival sum to 1.</summary>
/// <remarks>
/// F_k(t) = Σ S(t_j−) d_kj/n_j over t_j ≤ t (Aalen–Johansen); never one minus a Kaplan–Meier curve for each cause.
/// Variance: the state (S, F₁ … F_K) moves by S' = S(1 − h), F_k' = F_k + S h_k with multinomial hazards, Cov(h_k, h_l) = (h_k δ_kl − h_k h_l)/n;
/// carried forward step by step (Greenwood-type; for one cause it is Greenwood's, without censoring F(1 − F)/N).
/// Source: O. O. Aalen and S. Johansen, Scand. J. Statist. 5 (1978) 141; J. J. Gaynor et al., JASA 88 (1993) 400; P. K. Andersen et al.,
/// Statistical Models Based on Counting Processes (1993), section IV.4. Checked against: R survival, multinomial case, sum rule.
/// </remarks>
public sealed class CumulativeIncidence
{
    private const double Z = 1.9599639845400542;
    private readonly double[] times;
    private readonly double[] survival;
    private readonly double[][] incidence;
    private readonly double[][] variance;
    private readonly double lastTime;

    private CumulativeIncidence(double[] times, double[] survival, double[][] incidence, double[][] variance, long subjects, double lastTime)
    {
        this.times = times;
        this.survival = survival;
        this.incidence = incidence;
        this.variance = variance;
        this.lastTime = lastTime;
        Subjects = subjects;
    }

    /// <summary>Number of subjects.</summary>
    public long Subjects { get; }

    /// <summary>Number of causes.</summary>
    public int Causes => incidence.Length;

    /// <summary>Distinct times at which some cause had an event, upwards.</summary>
    public IReadOnlyList<double> Times => times;

    /// <summary>Curves of these subjects. Causes are numbered from 1; 0 is a censoring.</summary>
    /// <param name="times">Time of the first event or of the censoring.</param>
    /// <param name="causes">Cause of the event.</param>
    /// <param name="causeCount">Number of causes, at least the largest number used.</param>
    public static CumulativeIncidence Fit(ReadOnlySpan<double> times, ReadOnlySpan<int> causes, int causeCount)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(causeCount, 1);
        var (t, c) = EventTimes.Sort(times, causes);
        foreach (int k in c)
        {
            ArgumentOutOfRangeException.ThrowIfGreaterThan(k, causeCount, nameof(causes));
        }

        int distinct = CountEventTimes(t, c);
        double[] at = new double[distinct];
        double[] s = new double[distinct];
        double[][] f = New(causeCount, distinct);
        double[][] v = New(causeCount, distinct);
        var state = new State(causeCount);
        double[] died = new double[causeCount];
        int step = 0;
        for (int i = 0; i < t.Length;)
        {
            int end = EventTimes.EndOfTie(t, i);
            Array.Clear(died);
            double all = 0.0;
            for (int j = i; j < end; j++)
            {
                if (c[j] > 0)
                {
                    died[c[j] - 1]++;
                    all++;
                }
            }

            if (all > 0.0)
            {
                state.Advance(died, all, t.Length - i);
                at[step] = t[i];
                s[step] = state.Survival;
                for (int k = 0; k < causeCount; k++)
                {
                    f[k][step] = state.Incidence[k];
                    v[k][step] = Math.Max(0.0, state.IncidenceVariance[k]);
                }

                step++;
            }

            i = end;
        }

        return new CumulativeIncidence(at, s, f, v, t.Length, t.Length == 0 ? 0.0 : t[^1]);
    }

    /// <summary>Probability that cause <paramref name="cause"/> (from 1) has come first by t, with its standard error and log-log 95 % limits.</summary>
    public Estimate At(int cause, double time)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(cause, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(cause, Causes);
        if (Subjects == 0)
        {
            return Estimate.Withhold("no subjects", 0);
        }

        if (time > lastTime && !(times.Length > 0 && survival[^1] <= 0.0))
        {
            return Estimate.Withhold("beyond the last time seen", Subjects);
        }

        int i = EventTimes.LastAtOrBefore(times, time);
        double f = i < 0 ? 0.0 : incidence[cause - 1][i];
        if (f <= 0.0)
        {
            return Estimate.Bounded(0.0, 0.0, null, null, Subjects);
        }

        double error = Math.Sqrt(variance[cause - 1][i]);
        if (f >= 1.0)
        {
            return Estimate.Bounded(1.0, error, null, null, Subjects);
        }

        double shift = Z * error / (f * Math.Log(f));
        return Estimate.Bounded(f, error, Math.Pow(f, Math.Exp(-shift)), Math.Pow(f, Math.Exp(shift)), Subjects);
    }

    /// <summary>Probability that no cause has come by t.</summary>
    public double SurvivalAt(double time)
    {
        int i = EventTimes.LastAtOrBefore(times, time);
        return i < 0 ? 1.0 : survival[i];
    }

    private static int CountEventTimes(double[] t, int[] c)
    {
        int distinct = 0;
        for (int i = 0; i < t.Length;)
        {
            int end = EventTimes.EndOfTie(t, i);
            distinct += c.AsSpan(i, end - i).IndexOfAnyExcept(0) >= 0 ? 1 : 0;
            i = end;
        }

        return distinct;
    }

    private static double[][] New(int rows, int columns)
    {
        double[][] result = new double[rows][];
        for (int i = 0; i < rows; i++)
        {
            result[i] = new double[columns];
        }

        return result;
    }

    private sealed class State(int causes)
    {
        private readonly double[] covariance = new double[causes];
        private double survivalVariance;

        public double Survival { get; private set; } = 1.0;

        public double[] Incidence { get; } = new double[causes];

        public double[] IncidenceVariance { get; } = new double[causes];

        public void Advance(double[] died, double all, double n)
        {
            double h = all / n;
            double s = Survival;
            for (int k = 0; k < died.Length; k++)
            {
                double hk = died[k] / n;
                IncidenceVariance[k] += (2.0 * hk * covariance[k]) + (hk * hk * survivalVariance) + (s * s * hk * (1.0 - hk) / n);
                covariance[k] = ((1.0 - h) * (covariance[k] + (hk * survivalVariance))) - (s * s * hk * (1.0 - h) / n);
                Incidence[k] += s * hk;
            }

            survivalVariance = ((1.0 - h) * (1.0 - h) * survivalVariance) + (s * s * h * (1.0 - h) / n);
            Survival = s * ((n - all) / n);
        }
    }
}

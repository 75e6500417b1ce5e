namespace CureSim.Core.Statistics;

/// <summary>The product-limit estimate of a survival curve from times that may be censored on the right.</summary>
/// <remarks>
/// S(t) = Π (1 − d_j/n_j) over event times t_j ≤ t; Var S = S² Σ d_j/(n_j(n_j − d_j)) (Greenwood). One sort; linear after that.
/// Source: E. L. Kaplan and P. Meier, JASA 53 (1958) 457; M. Greenwood (1926); D. Collett, Modelling Survival Data in Medical Research, chapter 2.
/// Checked against: rows SUR-KM-* (remission times of Freireich et al. 1963), R survival (tests/data/reference/statistics-survival.csv).
/// </remarks>
public static class KaplanMeier
{
    /// <summary>The curve of these subjects; <paramref name="events"/> is true where the time is an event and false where it is a censoring.</summary>
    public static SurvivalCurve Fit(ReadOnlySpan<double> times, ReadOnlySpan<bool> events)
    {
        int[] causes = new int[events.Length];
        for (int i = 0; i < causes.Length; i++)
        {
            causes[i] = events[i] ? 1 : 0;
        }

        var (t, c) = EventTimes.Sort(times, causes);
        var steps = new List<SurvivalStep>();
        double survival = 1.0;
        double? greenwood = 0.0;
        for (int i = 0; i < t.Length;)
        {
            int end = EventTimes.EndOfTie(t, i);
            long died = 0;
            for (int j = i; j < end; j++)
            {
                died += c[j] != 0 ? 1 : 0;
            }

            if (died > 0)
            {
                double n = t.Length - i;
                survival *= (n - died) / n;
                greenwood = died < n ? greenwood + (died / (n * (n - died))) : null;
                steps.Add(new SurvivalStep(t[i], t.Length - i, died, survival, greenwood));
            }

            i = end;
        }

        return new SurvivalCurve(steps, t.Length, t.Length == 0 ? 0.0 : t[^1]);
    }
}

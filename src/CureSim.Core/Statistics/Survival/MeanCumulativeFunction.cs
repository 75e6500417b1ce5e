namespace CureSim.Core.Statistics;

/// <summary>One recurrent event of one unit.</summary>
/// <param name="Unit">Number of the unit, from 0.</param>
/// <param name="Time">Time of the event, not after the unit's end of observation.</param>
/// <param name="Cause">Cause, from 1.</param>
public readonly record struct RecurrentEvent(int Unit, double Time, int Cause);

/// <summary>Mean number of recurrent events of one cause a unit by time t, without assuming that events of a unit are independent.</summary>
/// <remarks>
/// M(t) = Σ d_j/n_j over event times t_j ≤ t, n_j the units still under observation.
/// Robust variance: Σ_i [Σ_{t_j ≤ t} δ_ij (d_ij − d_j/n_j)/n_j]², δ_ij = 1 while unit i is under observation, d_ij its own events.
/// The sum over units is carried forward by totals, so the work is linear in events and units after one sort.
/// Source: W. Nelson, J. Qual. Technol. 20 (1988) 24; J. F. Lawless and C. Nadeau, Technometrics 37 (1995) 158.
/// Checked against: R survival with clusters (tests/data/reference/statistics-survival.csv) and the mean count without censoring.
/// </remarks>
public sealed class MeanCumulativeFunction
{
    private readonly double[] times;
    private readonly double[] mean;
    private readonly double[] variance;
    private readonly double lastTime;

    private MeanCumulativeFunction(int cause, double[] times, double[] mean, double[] variance, long units, double lastTime)
    {
        Cause = cause;
        this.times = times;
        this.mean = mean;
        this.variance = variance;
        this.lastTime = lastTime;
        Units = units;
    }

    /// <summary>The cause counted; 0: all causes.</summary>
    public int Cause { get; }

    /// <summary>Number of units.</summary>
    public long Units { get; }

    /// <summary>Distinct event times, upwards.</summary>
    public IReadOnlyList<double> Times => times;

    /// <summary>The curve of one cause (0: all causes).</summary>
    /// <param name="observedUntil">End of observation of each unit.</param>
    /// <param name="events">Events in any order.</param>
    /// <param name="cause">Cause counted, 0 for all.</param>
    /// <exception cref="ArgumentException">An event belongs to no unit or lies after its unit's end of observation.</exception>
    public static MeanCumulativeFunction Fit(ReadOnlySpan<double> observedUntil, IEnumerable<RecurrentEvent> events, int cause = 0)
    {
        double[] ends = observedUntil.ToArray();
        int[] order = new int[ends.Length];
        for (int i = 0; i < order.Length; i++)
        {
            order[i] = i;
        }

        double[] sortedEnds = (double[])ends.Clone();
        Array.Sort(sortedEnds, order);
        RecurrentEvent[] counted = Counted(events, ends, cause);
        var times = new List<double>();
        var means = new List<double>();
        var variances = new List<double>();
        var sum = new UnitSums(ends.Length);
        double m = 0.0;
        int left = 0;
        for (int i = 0; i < counted.Length;)
        {
            double t = counted[i].Time;
            while (left < order.Length && sortedEnds[left] < t)
            {
                sum.Leave(order[left++]);
            }

            int end = i;
            while (end < counted.Length && counted[end].Time == t)
            {
                end++;
            }

            double n = ends.Length - left;
            double d = end - i;
            m += d / n;
            sum.Everyone(d / (n * n), n);
            for (int j = i; j < end; j++)
            {
                sum.Event(counted[j].Unit, 1.0 / n);
            }

            times.Add(t);
            means.Add(m);
            variances.Add(Math.Max(0.0, sum.Squares));
            i = end;
        }

        return new MeanCumulativeFunction(cause, [.. times], [.. means], [.. variances], ends.Length, ends.Length == 0 ? 0.0 : sortedEnds[^1]);
    }

    /// <summary>Mean events a unit by t, with the robust standard error and a normal 95 % interval not below 0.</summary>
    public Estimate At(double time)
    {
        if (Units == 0)
        {
            return Estimate.Withhold("no units", 0);
        }

        if (time > lastTime)
        {
            return Estimate.Withhold("beyond the last time seen", Units);
        }

        int i = EventTimes.LastAtOrBefore(times, time);
        if (i < 0)
        {
            return Estimate.Bounded(0.0, null, 0.0, null, Units);
        }

        double error = Math.Sqrt(variance[i]);
        return Units < 2
            ? Estimate.Bounded(mean[i], null, null, null, Units)
            : Estimate.Bounded(mean[i], error, Math.Max(0.0, mean[i] - (1.9599639845400542 * error)), mean[i] + (1.9599639845400542 * error), Units);
    }

    private static RecurrentEvent[] Counted(IEnumerable<RecurrentEvent> events, double[] ends, int cause)
    {
        var kept = new List<RecurrentEvent>();
        foreach (RecurrentEvent e in events)
        {
            if (e.Unit < 0 || e.Unit >= ends.Length)
            {
                throw new ArgumentException(FormattableString.Invariant($"An event belongs to unit {e.Unit}, which does not exist."), nameof(events));
            }

            if (!(e.Time <= ends[e.Unit]))
            {
                throw new ArgumentException(
                    FormattableString.Invariant($"Unit {e.Unit} has an event at {e.Time} after its end of observation at {ends[e.Unit]}."), nameof(events));
            }

            if (cause == 0 || e.Cause == cause)
            {
                kept.Add(e);
            }
        }

        RecurrentEvent[] result = [.. kept];
        Array.Sort(result, (a, b) => a.Time != b.Time ? a.Time.CompareTo(b.Time) : a.Unit.CompareTo(b.Unit));
        return result;
    }

    /// <summary>
    /// Σ W_i² over units, W_i = own_i − (drift while under observation). A unit under observation shares the drift; one that left has it frozen in own_i.
    /// </summary>
    private sealed class UnitSums(int units)
    {
        private readonly double[] own = new double[units];
        private double drift;
        private double ownUnderObservation;

        public double Squares { get; private set; }

        public void Everyone(double step, double n)
        {
            double total = ownUnderObservation - (n * drift);
            Squares += (n * step * step) - (2.0 * step * total);
            drift += step;
        }

        public void Event(int unit, double step)
        {
            double w = own[unit] - drift;
            Squares += step * ((2.0 * w) + step);
            own[unit] += step;
            ownUnderObservation += step;
        }

        // Its own sum leaves those under observation; what it has gathered stays in Squares.
        public void Leave(int unit) => ownUnderObservation -= own[unit];
    }
}

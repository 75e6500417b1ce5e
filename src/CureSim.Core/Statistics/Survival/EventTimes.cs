namespace CureSim.Core.Statistics;

/// <summary>Times and causes sorted once; ties keep events before censorings, because one who leaves at t was still seen at t.</summary>
internal static class EventTimes
{
    /// <summary>Sorted copies of times and causes (0 = censored).</summary>
    /// <exception cref="ArgumentException">Lengths differ, or a time is negative or not finite, or a cause is negative.</exception>
    public static (double[] Times, int[] Causes) Sort(ReadOnlySpan<double> times, ReadOnlySpan<int> causes)
    {
        if (times.Length != causes.Length)
        {
            throw new ArgumentException("There must be one cause for each time.", nameof(causes));
        }

        double[] t = times.ToArray();
        int[] c = causes.ToArray();
        for (int i = 0; i < t.Length; i++)
        {
            if (!(t[i] >= 0.0) || double.IsInfinity(t[i]))
            {
                throw new ArgumentException("A time is negative or not a finite number.", nameof(times));
            }

            if (c[i] < 0)
            {
                throw new ArgumentException("A cause is 0 (censored) or a number from 1.", nameof(causes));
            }
        }

        Array.Sort(t, c);
        return (t, c);
    }

    /// <summary>First index after <paramref name="start"/> with another time.</summary>
    public static int EndOfTie(double[] sorted, int start)
    {
        int end = start + 1;
        while (end < sorted.Length && sorted[end] == sorted[start])
        {
            end++;
        }

        return end;
    }

    /// <summary>Index of the last value ≤ t in a sorted list of distinct values; −1 when there is none.</summary>
    public static int LastAtOrBefore(IReadOnlyList<double> sorted, double t)
    {
        int low = 0;
        int high = sorted.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = sorted[middle] <= t ? (middle + 1, high) : (low, middle);
        }

        return low - 1;
    }
}

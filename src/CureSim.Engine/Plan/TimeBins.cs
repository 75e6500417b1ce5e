namespace CureSim.Engine.Plan;

/// <summary>Divides the horizon into at most 256 time bins whose edges fall on the scheduled checks.</summary>
public static class TimeBins
{
    /// <summary>Most bins a run keeps.</summary>
    public const int Most = 256;

    private const int Shown = 120;

    /// <summary>First step after each bin; the last entry is <paramref name="steps"/>.</summary>
    /// <param name="steps">Steps in the horizon, ≥ 1.</param>
    /// <param name="checkEvery">Steps between scheduled checks; 0 without checks.</param>
    public static int[] Edges(int steps, int checkEvery)
    {
        int width;
        if (checkEvery <= 0 || checkEvery >= steps)
        {
            width = (steps + Shown - 1) / Shown;
        }
        else if ((steps + checkEvery - 1) / checkEvery > Most)
        {
            // More checks than bins: a bin holds a whole number of intervals.
            int intervals = (steps + checkEvery - 1) / checkEvery;
            width = checkEvery * ((intervals + Most - 1) / Most);
        }
        else
        {
            // Fewer checks than bins: the smallest width that divides the interval and gives no more than a picture can show.
            width = checkEvery;
            for (int candidate = 1; candidate <= checkEvery; candidate++)
            {
                if (checkEvery % candidate == 0 && (steps + candidate - 1) / candidate <= Shown)
                {
                    width = candidate;
                    break;
                }
            }
        }

        var edges = new List<int>();
        for (int end = width; end < steps; end += width)
        {
            edges.Add(end);
        }

        edges.Add(steps);
        return [.. edges];
    }
}
